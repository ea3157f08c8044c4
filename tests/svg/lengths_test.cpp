// Expected numbers: CSS Values and Units 3, section 5.2 (1in = 96px = 2.54cm = 72pt = 6pc, 1Q = 1/40 cm), own
// arithmetic.
#include <doctest/doctest.h>

#include <string>

#include "svg/lengths.hpp"

namespace padchart::svg {
namespace {

const LengthContext kContext{200.0, 100.0, 20.0, 16.0};

double px(std::string_view text, Axis axis = Axis::Horizontal) {
    const auto length = length_of(text, kContext, axis);
    REQUIRE_MESSAGE(length.has_value(), text);
    return *length;
}

TEST_CASE("absolute units are in the ratio CSS gives them") {
    CHECK(px("1in") == doctest::Approx(96.0));
    CHECK(px("25.4mm") == doctest::Approx(96.0));
    CHECK(px("2.54cm") == doctest::Approx(96.0));
    CHECK(px("72pt") == doctest::Approx(96.0));
    CHECK(px("6pc") == doctest::Approx(96.0));
    CHECK(px("101.6Q") == doctest::Approx(96.0));
    CHECK(px("3") == 3.0);
    CHECK(px(" 1e1MM ") == doctest::Approx(37.795275590551));
}

TEST_CASE("percentages are of the viewport along their own axis") {
    CHECK(px("50%") == 100.0);
    CHECK(px("50%", Axis::Vertical) == 50.0);
    CHECK(px("10%", Axis::Diagonal) == doctest::Approx(15.811388300842)); // sqrt((200^2 + 100^2) / 2) / 10
}

TEST_CASE("font units hang on the font size") {
    CHECK(px("1.5em") == 30.0);
    CHECK(px("1rem") == 16.0);
    CHECK(px("1ex") == 10.0);
}

TEST_CASE("calc adds, multiplies and nests") {
    CHECK(px("calc(50% - 20px)") == 80.0);
    CHECK(px("calc(2 * (1px + 3px) / 4)") == 2.0);
    CHECK_FALSE(length_of("calc(1px -2px)", kContext, Axis::Horizontal));
    CHECK_FALSE(length_of("calc(1px * 2px)", kContext, Axis::Horizontal));
    CHECK_FALSE(length_of("calc(1px / 0)", kContext, Axis::Horizontal));
    CHECK_FALSE(length_of("calc(1 + 2)", kContext, Axis::Horizontal));
}

TEST_CASE("min, max and clamp choose, within sums too") {
    CHECK(px("min(10px, 2px, 5px)") == 2.0);
    CHECK(px("MAX(10px, calc(2px * 8))") == 16.0);
    CHECK(px("clamp(5px, 1px, 20px)") == 5.0);
    CHECK(px("clamp(5px, 30px, 20px)") == 20.0);
    CHECK(px("clamp(25px, 30px, 20px)") == 25.0); // the lower bound wins (CSS Values 4, section 10.2)
    CHECK(px("calc(1px + min(4px, 3px))") == 4.0);
    for (const char* bad : {"min()", "min(1px", "max(1px, 2)", "clamp(1px, 2px)", "min(1px 2px)"})
        CHECK_FALSE_MESSAGE(length_of(bad, kContext, Axis::Horizontal), bad);
}

TEST_CASE("what is no length is refused") {
    for (const char* text : {"", "px", "5 mm", "5mmm", "1..5", "auto", "5vw", "nan", "1e99", "(1px)"}) {
        CAPTURE(text);
        CHECK_FALSE(length_of(text, kContext, Axis::Horizontal));
    }
    CHECK_FALSE(length_of("5", kContext, Axis::Horizontal, Unitless::Refused));
    CHECK(length_of("0", kContext, Axis::Horizontal, Unitless::Refused) == 0.0);
}

TEST_CASE("a deeply nested calc is refused instead of filling the stack") {
    const std::string deep = "calc(" + std::string(100000, '(') + "1px";
    CHECK_FALSE(length_of(deep, kContext, Axis::Horizontal));
}

TEST_CASE("units tell whether a size is physical") {
    CHECK(unit_class_of("34mm") == UnitClass::Physical);
    CHECK(unit_class_of("34px") == UnitClass::Px);
    CHECK(unit_class_of("34") == UnitClass::Number);
    CHECK(unit_class_of("34%") == UnitClass::Percent);
    CHECK(unit_class_of("34em") == UnitClass::Font);
    CHECK_FALSE(unit_class_of("auto").has_value());
}

TEST_CASE("font sizes may be relative to the parent") {
    CHECK(font_size_of("50%", kContext) == 10.0);
    CHECK(font_size_of("2em", kContext) == 40.0);
    CHECK(font_size_of("medium", kContext) == 16.0);
    CHECK_FALSE(font_size_of("-1px", kContext).has_value());
}

TEST_CASE("angles come in degrees and turns and radians") {
    CHECK(angle_degrees_of("90deg", Unitless::Refused) == 90.0);
    CHECK(angle_degrees_of("0.25turn", Unitless::Refused) == 90.0);
    CHECK(*angle_degrees_of("1.5707963267949rad", Unitless::Refused) == doctest::Approx(90.0));
    CHECK(*angle_degrees_of("100grad", Unitless::Refused) == doctest::Approx(90.0));
    CHECK_FALSE(angle_degrees_of("90", Unitless::Refused).has_value());
    CHECK(angle_degrees_of("90", Unitless::Allowed) == 90.0);
}

} // namespace
} // namespace padchart::svg
