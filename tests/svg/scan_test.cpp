#include <doctest/doctest.h>

#include <cstdio>
#include <cstdlib>
#include <random>
#include <string>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

double number_of(std::string_view text, std::string_view rest = "") {
    Scanner scanner(text);
    double value = -12345.0;
    REQUIRE_MESSAGE(read_number(scanner, value), text);
    CHECK(scanner.rest() == rest);
    return value;
}

bool refuses(std::string_view text) {
    Scanner scanner(text);
    double value = 7.0;
    const bool read = read_number(scanner, value);
    CHECK(scanner.rest() == text);
    CHECK(value == 7.0);
    return !read;
}

TEST_CASE("numbers follow the grammar of SVG 1.1 section 8.3.9") {
    CHECK(number_of("1") == 1.0);
    CHECK(number_of("-2.5", "") == -2.5);
    CHECK(number_of("+.5e-1") == 0.05);
    CHECK(number_of(".5.5", ".5") == 0.5);
    CHECK(number_of("1-2", "-2") == 1.0);
    CHECK(number_of("1e2-3", "-3") == 100.0);
    CHECK(number_of("007") == 7.0);
}

TEST_CASE("a unit that begins with e is no exponent") {
    CHECK(number_of("1em", "em") == 1.0);
    CHECK(number_of("2ex", "ex") == 2.0);
    CHECK(number_of("3e", "e") == 3.0);
    CHECK(number_of("4e+", "e+") == 4.0);
}

TEST_CASE("what is no number leaves scanner and value alone") {
    for (const char* text : {"", "-", "+", ".", "5.", "-.e1", "e5", "nan", "inf", "--1", "1e39", "-1e400"}) {
        CAPTURE(text);
        CHECK(refuses(text));
    }
}

TEST_CASE("too small a number is zero") {
    CHECK(number_of("1e-400") == 0.0);
}

TEST_CASE("numbers are read as exactly as the C library reads them") {
    std::mt19937 random(20);
    std::uniform_real_distribution<double> mantissa(-10.0, 10.0);
    std::uniform_int_distribution<int> exponent(-30, 30);
    std::uniform_int_distribution<int> digits(0, 19);
    for (int i = 0; i < 20000; ++i) {
        char text[80];
        std::snprintf(text, sizeof text, "%.*fe%d", digits(random), mantissa(random), exponent(random));
        Scanner scanner{std::string_view(text)};
        double value = 0.0;
        REQUIRE(read_number(scanner, value));
        REQUIRE_MESSAGE(value == std::strtod(text, nullptr), std::string(text));
    }
}

TEST_CASE("a plain number is read the same whatever follows it and however near the end it stands") {
    std::mt19937 random(21);
    std::uniform_int_distribution<int> sign(0, 1);
    std::uniform_int_distribution<int> digits(0, 10);
    std::uniform_int_distribution<int> digit('0', '9');
    const auto some_digits = [&] {
        std::string text;
        for (int left = digits(random); left > 0; --left)
            text.push_back(static_cast<char>(digit(random)));
        return text;
    };
    for (int i = 0; i < 20000; ++i) {
        const std::string whole = some_digits(), fraction = some_digits();
        if (whole.empty() && fraction.empty()) continue;
        const std::string number =
            std::string(sign(random) == 0 ? "-" : "") + whole + (fraction.empty() ? "" : "." + fraction);
        const double expected = std::strtod(number.c_str(), nullptr); // the C library as reference
        for (const char* rest :
             {"", ",", " 1.5 2.5 3.5 4.5 5.5 6.5", "-12345678.12345678-12345678", "z M 0,0 L 1,1 Z m 1 1",
              "mm and then something else", "\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4"})
            REQUIRE_MESSAGE(number_of(number + rest, rest) == expected, std::string(number + rest));
        for (const char* rest : {"e2", "e2 1 2 3 4 5 6 7 8 9 10 11 12"})
            REQUIRE(number_of(number + rest, rest + 2) == std::strtod((number + "e2").c_str(), nullptr));
    }
}

TEST_CASE("a point without digits is no number even far from the end") {
    CHECK(refuses("5. 1234567890 1234567890"));
    CHECK(refuses("-. 1234567890 1234567890"));
    CHECK(refuses("-- 1234567890 1234567890"));
}

TEST_CASE("an arc flag is one digit") {
    Scanner scanner(std::string_view("01x"));
    bool flag = true;
    CHECK(read_flag(scanner, flag));
    CHECK_FALSE(flag);
    CHECK(read_flag(scanner, flag));
    CHECK(flag);
    CHECK_FALSE(read_flag(scanner, flag));
}

TEST_CASE("at most one comma separates") {
    Scanner scanner(std::string_view(" , ,1"));
    CHECK(skip_separator(scanner));
    CHECK(scanner.rest() == ",1");
}

} // namespace
} // namespace padchart::svg
