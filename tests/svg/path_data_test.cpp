// Rules: SVG 1.1 (2nd edition) chapter 8 and appendix F.6; expected places by own arithmetic.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "svg/flatten.hpp"
#include "svg/path_data.hpp"

namespace padchart::svg {
namespace {

using geometry::Box;

struct Read {
    Outline outline;
    std::optional<PathFault> fault;
    FlatShape flat;
    std::vector<Vec2> points;
    std::vector<Subpath> subpaths;
};

Read path(std::string_view data, double tolerance = 0.001) {
    Read read;
    read.fault = read_path_data(data, read.outline);
    read.flat = flatten(read.outline, {}, {.tolerance = tolerance}, read.points, read.subpaths);
    return read;
}

void check_points(const Read& read, const std::vector<Vec2>& expected) {
    REQUIRE(read.points.size() == expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        CHECK(read.points[i].x == doctest::Approx(expected[i].x));
        CHECK(read.points[i].y == doctest::Approx(expected[i].y));
    }
}

void check_box(const Box& box, double x0, double y0, double x1, double y1) {
    CHECK(box.min.x == doctest::Approx(x0));
    CHECK(box.min.y == doctest::Approx(y0));
    CHECK(box.max.x == doctest::Approx(x1));
    CHECK(box.max.y == doctest::Approx(y1));
}

TEST_CASE("a move with more pairs goes on with lines") {
    check_points(path("M1 2 3 4 5 6"), {{1, 2}, {3, 4}, {5, 6}});
    check_points(path("m1 2 3 4 5 6"), {{1, 2}, {4, 6}, {9, 12}});
}

TEST_CASE("compact numbers need no separators") {
    check_points(path("M1-2.5.5e1-3"), {{1, -2.5}, {5, -3}});
    check_points(path("M.5.5l-.5.5"), {{0.5, 0.5}, {0, 1}});
}

TEST_CASE("horizontal and vertical lines repeat") {
    check_points(path("M1 1h2 3V5 7"), {{1, 1}, {3, 1}, {6, 1}, {6, 5}, {6, 7}});
}

TEST_CASE("closing ends where the subpath began and drawing may go on from there") {
    const Read read = path("M1 1h4v4zl-1-1");
    REQUIRE(read.subpaths.size() == 2);
    CHECK(read.subpaths[0].closed);
    CHECK_FALSE(read.subpaths[1].closed);
    check_points(read, {{1, 1}, {5, 1}, {5, 5}, {1, 1}, {1, 1}, {0, 0}});
    CHECK_FALSE(read.flat.closed);
}

TEST_CASE("a relative move after closing starts from the closed subpath's start") {
    const Read read = path("M10 10h5v5zm2 3h1");
    CHECK(read.points[read.subpaths[1].first] == Vec2{12, 13});
}

TEST_CASE("moves that draw nothing give nothing and count in no box") {
    const Read read = path("M-9-9M1 1L2 2M99 99");
    CHECK(read.subpaths.size() == 1);
    check_box(read.flat.bbox, 1, 1, 2, 2);
}

TEST_CASE("the box of a cubic is that of the curve and not of its control points") {
    // x(t) = 3 t (1-t)^2 * 0 + ... : the S-free arch C0,0 0,4 4,4 4,0 rises to y = 3 at t = 1/2.
    check_box(path("M0 0C0 4 4 4 4 0").flat.bbox, 0, 0, 4, 3);
}

TEST_CASE("smooth commands mirror the last control point only after their own kind") {
    // After a line the first control point is the current point: S then is C with both there.
    const Read smooth = path("M0 0L1 0S2 1 2 0");
    const Read plain = path("M0 0L1 0C1 0 2 1 2 0");
    CHECK(smooth.outline.points == plain.outline.points);
    const Read chained = path("M0 0C0 1 1 1 1 0S2-1 2 0");
    CHECK(chained.outline.points[4] == Vec2{1, -1});
    const Read quadratic = path("M0 0Q1 1 2 0T4 0");
    CHECK(bounds_of(quadratic.outline).min.y == doctest::Approx(-0.5));
    const Read after_cubic = path("M0 0C0 1 1 1 1 0T3 0");
    CHECK(bounds_of(after_cubic.outline).max.x == doctest::Approx(3.0));
    CHECK(after_cubic.outline.points[4] == Vec2{1, 0});
}

TEST_CASE("an arc of a half circle is as long as pi says and as wide as its radius") {
    const Read read = path("M0 0A5 5 0 0 1 10 0");
    CHECK(read.flat.length == doctest::Approx(5 * std::numbers::pi).epsilon(1e-9));
    check_box(read.flat.bbox, 0, -5, 10, 0);
}

TEST_CASE("the four arcs between two points take the side and size their flags say") {
    check_box(path("M0 0A5 5 0 0 0 5 5").flat.bbox, 0, 0, 5, 5);
    check_box(path("M0 0A5 5 0 0 1 5 5").flat.bbox, 0, 0, 5, 5);
    check_box(path("M0 0A5 5 0 1 0 5 5").flat.bbox, -5, 0, 5, 10);
    check_box(path("M0 0A5 5 0 1 1 5 5").flat.bbox, 0, -5, 10, 5);
    // Small arcs bulge to opposite sides of the chord.
    CHECK(path("M0 0A5 5 0 0 0 5 5").points[2].y > path("M0 0A5 5 0 0 1 5 5").points[2].y);
}

TEST_CASE("arc flags may run on without separators") {
    const Read apart = path("M0 0a5 5 0 0 1 10 0a5 5 0 1 1 10 0");
    const Read close = path("M0 0a5 5 0 0110 0a5 5 0 1110 0");
    CHECK_FALSE(close.fault.has_value());
    CHECK(close.points == apart.points);
}

TEST_CASE("radii too small for their chord are scaled up") {
    const Read read = path("M0 0A1 1 0 0 1 10 0");
    CHECK(read.flat.length == doctest::Approx(5 * std::numbers::pi).epsilon(1e-9));
}

TEST_CASE("a turned ellipse whose radii are scaled up lies where the formulas of the standard put it") {
    // SVG 1.1, appendix F.6, with 40 digits: radii 62.248 and 82.435 about the middle of the chord. A browser, which
    // reckons the centre in single precision, is up to 0.03 off here.
    const Read read = path("M40 134.1A25.07 33.2 367.85 0 1 20.6-25.7");
    CHECK(read.flat.bbox.min.x == doctest::Approx(-32.384496114394531).epsilon(1e-12));
    CHECK(read.flat.bbox.max.y == doctest::Approx(136.30393509190).epsilon(1e-12));
    CHECK(read.flat.bbox.max.x == doctest::Approx(40.0));
    CHECK(read.flat.bbox.min.y == doctest::Approx(-25.7));
}

TEST_CASE("negative radii count as positive and a radius of zero gives a line") {
    CHECK(path("M0 0A-5-5 0 0 1 10 0").points == path("M0 0A5 5 0 0 1 10 0").points);
    check_points(path("M0 0A0 5 0 0 1 10 0"), {{0, 0}, {10, 0}});
}

TEST_CASE("a turned ellipse keeps its ends") {
    const Read read = path("M10 20A40 20 30 1 0 55 35");
    CHECK(read.points.front() == Vec2{10, 20});
    CHECK(read.points.back() == Vec2{55, 35});
}

TEST_CASE("an error keeps what comes before it and says where it is") {
    const Read read = path("M1 1L5 1 5 5 Q 9 9");
    REQUIRE(read.fault.has_value());
    CHECK(read.fault->at == 18);
    check_points(read, {{1, 1}, {5, 1}, {5, 5}});
    CHECK(path("M1 1L2 2x").fault->message == "a command letter was expected");
    CHECK(path("M1 1A2 2 0 2 0 5 5").fault->message == "an arc flag (0 or 1) was expected");
    CHECK(path("M0 0h5z 3").fault.has_value());
}

TEST_CASE("a path that does not begin with a move is empty") {
    const Read read = path("L5 5M1 1L2 2");
    CHECK(read.fault.has_value());
    CHECK(read.points.empty());
}

TEST_CASE("numbers out of range end the path before anything infinite is drawn") {
    const Read read = path("M0 0L5 5L1e39 1 L7 7");
    CHECK(read.fault.has_value());
    check_points(read, {{0, 0}, {5, 5}});
    // Sums of relative steps stay finite too.
    const Read sums = path("M3e38 0l3e38 0l3e38 0c3e38 3e38 3e38 3e38 3e38 3e38");
    for (const Vec2 p : sums.points)
        CHECK(geometry::is_finite(p));
}

} // namespace
} // namespace padchart::svg
