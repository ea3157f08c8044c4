// Rules: SVG 1.1 sections 7.6 to 7.8, CSS Transforms 1; expected matrices by own arithmetic.
#include <doctest/doctest.h>

#include "svg/transforms.hpp"
#include "svg/viewport.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Vec2;

void check_point(const std::optional<Affine>& map, Vec2 from, Vec2 to) {
    REQUIRE(map.has_value());
    CHECK((*map)(from).x == doctest::Approx(to.x));
    CHECK((*map)(from).y == doctest::Approx(to.y));
}

const LengthContext kBox{200, 100, 16, 16};

TEST_CASE("a list applies its last function first") {
    check_point(transform_attribute_of("translate(10,5) scale(2)"), {1, 1}, {12, 7});
    check_point(transform_attribute_of("scale(2),translate(10 5)"), {1, 1}, {22, 12});
}

TEST_CASE("rotation is clockwise on the page and may have a centre") {
    check_point(transform_attribute_of("rotate(90)"), {1, 0}, {0, 1});
    check_point(transform_attribute_of("rotate(90 10 10)"), {11, 10}, {10, 11});
}

TEST_CASE("skews shift by the tangent") {
    check_point(transform_attribute_of("skewX(45)"), {0, 2}, {2, 2});
    check_point(transform_attribute_of("skewY(45)"), {2, 0}, {2, 2});
}

// CSS Transforms 1, on transform function lists: what a map without inverse places is not displayed.
TEST_CASE("a map without inverse collapses, a thin one does not") {
    for (const char* flat : {"scale(0)", "scale(1 0)", "matrix(1 2 2 4 5 6)", "rotate(30) scale(1 0) rotate(20)"})
        CHECK(collapses(*transform_attribute_of(flat)));
    for (const char* thin : {"scale(1 1e-5)", "scale(1e7 1e-6)", "skewX(89)", "rotate(90)", "scale(-1)", "none"})
        CHECK_FALSE(collapses(transform_attribute_of(thin).value_or(Affine{})));
}

TEST_CASE("compact lists are read") {
    check_point(transform_attribute_of("translate(-10-5)"), {0, 0}, {-10, -5});
    check_point(transform_attribute_of("matrix(1 0 0 1-3.5.5)"), {0, 0}, {-3.5, 0.5});
    REQUIRE(transform_attribute_of("rotate(.5.5.5)").has_value());
    CHECK((*transform_attribute_of("rotate(.5.5.5)"))(Vec2{0.5, 0.5}).x == doctest::Approx(0.5));
}

TEST_CASE("a list with any error counts as none") {
    for (const char* text :
         {"translate(1) foo(2)", "rotate(1,2)", "translate(1 2 3)", "scale()", "translate(5px)", "Translate(1)",
          "translate(1),", ",translate(1)", "translate(1,)", "translate 1", "matrix(1 2 3)"}) {
        CAPTURE(text);
        CHECK_FALSE(transform_attribute_of(text).has_value());
    }
    CHECK(transform_attribute_of("") == Affine{});
}

TEST_CASE("the CSS property takes units and refuses bare numbers") {
    check_point(css_transform_of("translate(10px, 5mm)", kBox), {0, 0}, {10, 18.897637795276});
    check_point(css_transform_of("translate(50%)", kBox), {0, 0}, {100, 0});
    check_point(css_transform_of("translateY(50%)", kBox), {0, 0}, {0, 50});
    check_point(css_transform_of("rotate(0.25turn) scale(2, 3)", kBox), {1, 1}, {-3, 2});
    check_point(css_transform_of("skew(45deg, 0deg)", kBox), {0, 1}, {1, 1});
    check_point(css_transform_of("matrix(1, 0, 0, 1, 7, 8)", kBox), {0, 0}, {7, 8});
    CHECK(css_transform_of("none", kBox) == Affine{});
    CHECK_FALSE(css_transform_of("translate(5)", kBox).has_value());
    CHECK_FALSE(css_transform_of("rotate(90)", kBox).has_value());
    CHECK_FALSE(css_transform_of("matrix(1,0,0,1,7px,8)", kBox).has_value());
    CHECK_FALSE(css_transform_of("rotate3d(1,1,0,45deg)", kBox).has_value());
    check_point(css_transform_of("rotate3d(0, 0, -2, 90deg)", kBox), {1, 0}, {0, -1});
    check_point(css_transform_of("matrix3d(1,2,0,0, 3,4,0,0, 0,0,1,0, 5,6,0,1)", kBox), {1, 1}, {9, 12});
    CHECK_FALSE(css_transform_of("matrix3d(1,0,0,0, 0,1,.5,0, 0,0,1,0, 0,0,0,1)", kBox).has_value());
}

TEST_CASE("origins are words or lengths or percentages in either order of axes") {
    const auto origin = [](const char* text) {
        return transform_origin_of(text, kBox, {10, 20}, {200, 100}, Unitless::Allowed);
    };
    CHECK(origin("center") == Vec2{110, 70});
    CHECK(origin("left bottom") == Vec2{10, 120});
    CHECK(origin("bottom left") == Vec2{10, 120});
    CHECK(origin("top") == Vec2{110, 20});
    CHECK(origin("25% 10px") == Vec2{60, 30});
    CHECK(origin("5 6") == Vec2{15, 26});
    CHECK_FALSE(origin("left right").has_value());
}

TEST_CASE("meet fits the whole viewBox in and slice fills the viewport") {
    const ViewBox box{10, 20, 100, 50};
    const Affine meet = fitted(box, fit_of("xMaxYMin"), 40, 40);
    CHECK(meet.a == doctest::Approx(0.4));
    CHECK(meet({10, 20}) == Vec2{0, 0});
    const Affine middle = fitted(box, fit_of("xMidYMid meet"), 40, 40);
    CHECK(middle({10, 20}).y == doctest::Approx(10.0));
    const Affine slice = fitted(box, fit_of("xMaxYMax slice"), 40, 40);
    CHECK(slice.a == doctest::Approx(0.8));
    CHECK(slice({110, 70}).x == doctest::Approx(40.0));
    const Affine none = fitted(box, fit_of("none"), 40, 40);
    CHECK(none({110, 70}).x == doctest::Approx(40.0));
    CHECK(none({110, 70}).y == doctest::Approx(40.0));
}

TEST_CASE("a viewBox is four numbers with no negative size") {
    CHECK(view_box_of("0 0 10 20").has_value());
    CHECK(view_box_of(" 0,-5 , 1e1,20 ")->y == -5.0);
    CHECK_FALSE(view_box_of("0 0 10").has_value());
    CHECK_FALSE(view_box_of("0 0 10 20 30").has_value());
    CHECK_FALSE(view_box_of("0 0 -10 20").has_value());
    CHECK_FALSE(view_box_of("0 0 10px 20").has_value());
}

} // namespace
} // namespace padchart::svg
