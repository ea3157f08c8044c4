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
