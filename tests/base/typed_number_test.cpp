#include "base/typed_number.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <string>

using namespace padchart;

namespace {

double value(std::string_view text, std::string_view unit = "mm") {
    const Result<double> read = typed_number(text, unit);
    REQUIRE_MESSAGE(read, std::string(text), ": ", read ? "" : read.error().message);
    return *read;
}

std::string refusal(std::string_view text, std::string_view unit = "mm") {
    const Result<double> read = typed_number(text, unit);
    REQUIRE_FALSE_MESSAGE(read.has_value(), std::string(text));
    return read.error().message;
}

bool says(const std::string& message, std::string_view words) {
    return message.find(words) != std::string::npos;
}

} // namespace

TEST_SUITE("typed numbers") {
    TEST_CASE("plain numbers are read with a point or a comma") {
        CHECK(value("3") == 3);
        CHECK(value("0.45") == 0.45);
        CHECK(value("0,45") == 0.45);
        CHECK(value(".5") == 0.5);
        CHECK(value("2.") == 2);
        CHECK(value("-1.5") == -1.5);
        CHECK(value("+7") == 7);
        CHECK(value(" 12 ") == 12);
        CHECK(value("1e-3") == 0.001);
        CHECK(value("0") == 0);
        CHECK_FALSE(std::signbit(value("-0")));
    }

    TEST_CASE("sums keep the usual order of their signs") {
        CHECK(value("0.4+0.05") == doctest::Approx(0.45));
        CHECK(value("1 + 2 * 3") == 7);
        CHECK(value("(1+2)*3") == 9);
        CHECK(value("10-4-3") == 3);
        CHECK(value("12/2/3") == 2);
        CHECK(value("2*-3") == -6);
        CHECK(value("-(1+2)") == -3);
        CHECK(value("3 x 2") == 6);
        CHECK(value("3×2") == 6);
        CHECK(value("7:2") == 3.5);
    }

    TEST_CASE("sums carry no noise into the chart") {
        CHECK(value("0.1+0.2") == 0.3);
        CHECK(value("12mil") == 0.3048);
        CHECK(value("0.4+0.05") == 0.45);
        CHECK(value("1/3") == doctest::Approx(1.0 / 3).epsilon(1e-13));
    }

    TEST_CASE("lengths of other units become millimetres") {
        // The international inch is 25.4 mm exactly (ISO 31-1 annex; NIST SP 811 table B.8), a mil its thousandth.
        CHECK(value("1in") == doctest::Approx(25.4).epsilon(1e-15));
        CHECK(value("12mil") == doctest::Approx(0.3048).epsilon(1e-15));
        CHECK(value("0.5\"") == doctest::Approx(12.7).epsilon(1e-15));
        CHECK(value("1.27mm/2") == 0.635);
        CHECK(value("1.27mm*2") == 2.54);
        CHECK(value("3mmx2") == 6);
        CHECK(value("35 um") == doctest::Approx(0.035));
        CHECK(value("35µm") == doctest::Approx(0.035)); // micro sign
        CHECK(value("35μm") == doctest::Approx(0.035)); // Greek letter
        CHECK(value("2 cm") == 20);
        CHECK(value("0.03 m") == doctest::Approx(30));
        CHECK(value("(1+2) cm") == 30);
    }

    TEST_CASE("a number without a unit counts in the field's own beside a plus") {
        CHECK(value("0.4+12mil") == doctest::Approx(0.4 + 0.3048));
        CHECK(value("1 cm - 2") == 8);
    }

    TEST_CASE("angles come in degrees or radians") {
        CHECK(value("45", "°") == 45);
        CHECK(value("45°", "°") == 45);
        CHECK(value("90 deg + 15", "°") == 105);
        CHECK(value("360/7", "°") == doctest::Approx(360.0 / 7));
        CHECK(value("1 rad", "°") == doctest::Approx(57.29577951308232)); // 180 / pi
    }

    TEST_CASE("times, temperatures, flows and unknown units have their own words") {
        CHECK(value("1.5 min", "s") == 90);
        CHECK(value("1 min + 20 s", "s") == 80);
        CHECK(value("217 °C + 20", "°C") == 237);
        CHECK(value("1 l/s", "l/min") == 60);
        CHECK(value("30 l/min / 2", "l/min") == 15);
        CHECK(value("3 W/m", "W/m") == 3);
        CHECK(value("12", "") == 12);
    }

    TEST_CASE("a length divided by a length is a mere factor") {
        CHECK(value("3mm*(5mm/2mm)") == 7.5);
        CHECK(says(refusal("5mm/2mm"), "ratio"));
        CHECK(says(refusal("1mm+5mm/2mm"), "ratio"));
    }

    TEST_CASE("what the units cannot mean is refused with its reason") {
        CHECK(says(refusal("2mm*3mm"), "multiplies two things with units"));
        CHECK(says(refusal("2/3mm"), "divides by something with a unit"));
        CHECK(says(refusal("45°"), "cannot be read from \"°\" on"));
        CHECK(says(refusal("3mm", "°"), "units of °, deg, rad"));
        CHECK(says(refusal("3mm", ""), "no unit"));
        CHECK(says(refusal("3 mm mm"), "cannot be read"));
        CHECK(says(refusal("(3mm)cm"), "unit twice"));
        CHECK(says(refusal("3mmm"), "cannot be read"));
    }

    TEST_CASE("what is no sum is refused and says from where on") {
        CHECK(says(refusal(""), "a number is missing"));
        CHECK(says(refusal("0.4+"), "a number is missing"));
        CHECK(says(refusal("(1+2"), "closing bracket"));
        CHECK(says(refusal("1+2)"), "\")\""));
        CHECK(says(refusal("1,234.5"), "\".5\""));
        CHECK(says(refusal("1 2"), "\"2\""));
        CHECK(says(refusal("abc"), "\"abc\""));
        CHECK(says(refusal("1/0"), "divides by zero"));
        CHECK(says(refusal("1e999"), "too large"));
        CHECK(says(refusal("1e300*1e300"), "too large"));
        CHECK(says(refusal(std::string(200, '(') + "1"), "too many brackets"));
        CHECK(says(refusal(std::string(200, '-') + "1"), "too many brackets"));
        CHECK(says(refusal("nan"), "cannot be read"));
        CHECK(says(refusal("inf"), "cannot be read"));
    }

    TEST_CASE("the words of a field begin with its own unit") {
        CHECK(units_for("mm").front() == "mm");
        CHECK(units_for("s").front() == "s");
        CHECK(units_for("%").size() == 1);
        CHECK(units_for("").empty());
    }

    TEST_CASE("no text of any letters makes it stumble") {
        std::mt19937 random(20260314);
        constexpr std::string_view kLetters = "0123456789.,+-*/() mxilnu\"e°µ:";
        int fine = 0;
        for (int i = 0; i < 20000; ++i) {
            std::string text;
            const std::size_t length = random() % 12;
            for (std::size_t k = 0; k < length; ++k)
                text += kLetters[random() % kLetters.size()];
            const Result<double> read = typed_number(text, "mm");
            if (read) {
                ++fine;
                CHECK(std::isfinite(*read));
            } else {
                CHECK_FALSE(read.error().message.empty());
            }
        }
        CHECK(fine > 100);
    }
}
