// The bound is held against a slow obvious twin: a thousand points of each curve by the definition.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "svg/basic_shapes.hpp"
#include "svg/flatten.hpp"
#include "svg/path_data.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Box;

struct Flat {
    std::vector<Vec2> points;
    std::vector<Subpath> subpaths;
    FlatShape shape;
};

Flat flat_of(const Outline& outline, const Affine& map, double tolerance) {
    Flat flat;
    flat.shape = flatten(outline, map, {.tolerance = tolerance}, flat.points, flat.subpaths);
    return flat;
}

double distance_to_line(Vec2 p, const std::vector<Vec2>& line) {
    double best = HUGE_VAL;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Vec2 d = line[i + 1] - line[i];
        const double l2 = dot(d, d);
        const double t = l2 > 0 ? std::clamp(dot(p - line[i], d) / l2, 0.0, 1.0) : 0.0;
        best = std::min(best, geometry::distance(p, line[i] + d * t));
    }
    return best;
}

Vec2 cubic_at(const Vec2* q, double t) {
    const double u = 1 - t;
    return q[0] * (u * u * u) + q[1] * (3 * u * u * t) + q[2] * (3 * u * t * t) + q[3] * (t * t * t);
}

TEST_CASE("no cubic leaves its polyline by more than the tolerance") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> place(-20, 20);
    const auto point = [&] { return Vec2{place(random), place(random)}; };
    for (int run = 0; run < 60; ++run) {
        const Vec2 q[4] = {point(), point(), point(), point()};
        const Affine map{place(random) / 10, place(random) / 10, place(random) / 10, place(random) / 10, 3, 4};
        Outline outline;
        outline.move_to(q[0]);
        outline.cubic_to(q[1], q[2], q[3]);
        const double tolerance = run % 2 == 0 ? 0.005 : 0.5;
        const Flat flat = flat_of(outline, map, tolerance);
        Box box;
        double length = 0;
        Vec2 last = map(q[0]);
        for (int i = 0; i <= 1000; ++i) {
            const Vec2 p = map(cubic_at(q, i / 1000.0));
            REQUIRE(distance_to_line(p, flat.points) <= tolerance * 1.000001);
            box.add(p);
            length += geometry::distance(last, p);
            last = p;
        }
        // The true box holds all samples and is no larger than they are apart.
        CHECK(flat.shape.bbox.min.x <= box.min.x + 1e-9);
        CHECK(flat.shape.bbox.min.x >= box.min.x - 1e-3);
        CHECK(flat.shape.bbox.max.y >= box.max.y - 1e-9);
        CHECK(flat.shape.bbox.max.y <= box.max.y + 1e-3);
        CHECK(flat.shape.length == doctest::Approx(length).epsilon(tolerance < 0.01 ? 1e-4 : 2e-3));
    }
}

TEST_CASE("no arc leaves its polyline by more than the tolerance under any map") {
    std::mt19937 random(8);
    std::uniform_real_distribution<double> size(0.1, 30);
    std::uniform_real_distribution<double> turn(-7, 7);
    for (int run = 0; run < 60; ++run) {
        EllipseArc arc{{1, 2}, {size(random), size(random)}, {-size(random), size(random)}, turn(random), turn(random)};
        const auto at = [&](double t) { return arc.centre + arc.u * std::cos(t) + arc.v * std::sin(t); };
        Outline outline;
        outline.move_to(at(arc.from));
        outline.arc_to(arc, at(arc.from + arc.sweep));
        const Affine map{1, 0.3, -0.7, 0.4, 0, 0};
        const Flat flat = flat_of(outline, map, 0.01);
        Box box;
        for (int i = 0; i <= 2000; ++i) {
            const Vec2 p = map(at(arc.from + arc.sweep * i / 2000.0));
            REQUIRE(distance_to_line(p, flat.points) <= 0.010001);
            box.add(p);
        }
        CHECK(flat.shape.bbox.min.x == doctest::Approx(box.min.x).epsilon(1e-3));
        CHECK(flat.shape.bbox.max.y == doctest::Approx(box.max.y).epsilon(1e-3));
    }
}

TEST_CASE("a circle has its exact box and length") {
    Outline outline;
    add_ellipse(outline, {3, 4}, 2, 2);
    const Flat flat = flat_of(outline, {}, 0.005);
    CHECK(flat.shape.length == doctest::Approx(4 * std::numbers::pi).epsilon(1e-12));
    CHECK(flat.shape.bbox.min.x == 1.0);
    CHECK(flat.shape.bbox.max.y == 6.0);
    CHECK(flat.shape.closed);
    CHECK(flat.points.front() == flat.points.back());
}

TEST_CASE("an ellipse is as long as Ramanujan says") {
    // Ramanujan's second approximation (1914), good to 1e-9 at this ratio.
    const double a = 3, b = 2, h = (a - b) * (a - b) / ((a + b) * (a + b));
    const double expected = std::numbers::pi * (a + b) * (1 + 3 * h / (10 + std::sqrt(4 - 3 * h)));
    Outline outline;
    add_ellipse(outline, {}, a, b);
    CHECK(flat_of(outline, {}, 0.005).shape.length == doctest::Approx(expected).epsilon(1e-8));
}

TEST_CASE("a rounded rectangle is as long as its sides and one circle") {
    Outline outline;
    add_rect(outline, {0, 0, 10, 6, 2.0, 2.0});
    CHECK(flat_of(outline, {}, 0.005).shape.length == doctest::Approx(2 * (6 + 2) + 4 * std::numbers::pi));
}

TEST_CASE("radii of a rectangle are at most half its sides and take each other's value") {
    Outline outline;
    add_rect(outline, {0, 0, 10, 6, 50.0, {}});
    Box box = bounds_of(outline);
    CHECK(box.width() == 10.0);
    CHECK(outline.arcs.size() == 4);
    CHECK(outline.arcs[0].u == Vec2{5, 0});
    CHECK(outline.arcs[0].v == Vec2{0, 3});
}

TEST_CASE("a parabola has the length its integral gives") {
    // y = x^2 from 0 to 1 as a quadratic: length sqrt(5)/2 + asinh(2)/4.
    Outline outline;
    outline.move_to({0, 0});
    outline.quadratic_to({0, 0}, {0.5, 0}, {1, 1});
    CHECK(flat_of(outline, {}, 0.001).shape.length ==
          doctest::Approx(std::sqrt(5.0) / 2 + std::asinh(2.0) / 4).epsilon(1e-7));
}

TEST_CASE("the box of an arc is the box of a thousand of its points") {
    std::mt19937 random(9);
    std::uniform_real_distribution<double> size(-5, 5);
    std::uniform_real_distribution<double> turn(-6.5, 6.5);
    for (int run = 0; run < 300; ++run) {
        const EllipseArc arc{
            {1, 2}, {size(random), size(random)}, {size(random), size(random)}, turn(random), turn(random)};
        const auto at = [&](double t) { return arc.centre + arc.u * std::cos(t) + arc.v * std::sin(t); };
        Outline outline;
        outline.move_to(at(arc.from));
        outline.arc_to(arc, at(arc.from + arc.sweep));
        Box box;
        for (int i = 0; i <= 1000; ++i)
            box.add(at(arc.from + arc.sweep * i / 1000.0));
        const Box found = bounds_of(outline);
        // A sample is at most half a step from the true extreme: |u| + |v| times a quarter of the step squared.
        const double near = (geometry::length(arc.u) + geometry::length(arc.v)) * 0.0065 * 0.0065 / 4;
        CHECK(std::abs(found.min.x - (box.min.x - near / 2)) <= near);
        CHECK(std::abs(found.min.y - (box.min.y - near / 2)) <= near);
        CHECK(std::abs(found.max.x - (box.max.x + near / 2)) <= near);
        CHECK(std::abs(found.max.y - (box.max.y + near / 2)) <= near);
    }
}

TEST_CASE("a flat ellipse is as long as its chords in tiny steps") {
    const EllipseArc arc{{0, 0}, {7, 1}, {-0.01, 0.3}, 0.4, -5.5};
    const auto at = [&](double t) { return arc.u * std::cos(t) + arc.v * std::sin(t); };
    Outline outline;
    outline.move_to(at(arc.from));
    outline.arc_to(arc, at(arc.from + arc.sweep));
    double expected = 0;
    for (int i = 0; i < 100000; ++i)
        expected += geometry::distance(at(arc.from + arc.sweep * i / 1e5), at(arc.from + arc.sweep * (i + 1) / 1e5));
    CHECK(flat_of(outline, {}, 0.005).shape.length == doctest::Approx(expected).epsilon(1e-6));
}

TEST_CASE("the point limit stops before memory does") {
    Outline outline;
    add_ellipse(outline, {}, 1000, 1000);
    std::vector<Vec2> points;
    std::vector<Subpath> subpaths;
    const FlatShape flat = flatten(outline, {}, {.tolerance = 1e-6, .max_points = 100}, points, subpaths);
    CHECK_FALSE(flat.fits);
    CHECK(points.empty());
    CHECK(subpaths.empty());
}

TEST_CASE("a curve beyond the limit of pieces says that it is coarse") {
    Outline outline;
    outline.move_to({0, 0});
    outline.cubic_to({1e30, 0}, {0, 1e30}, {1e30, 1e30});
    std::vector<Vec2> points;
    std::vector<Subpath> subpaths;
    const FlatShape flat = flatten(outline, {}, {.tolerance = 1e-3}, points, subpaths);
    CHECK_FALSE(flat.within_bound);
    CHECK(flat.finite);
}

TEST_CASE("coordinates that overflow give no shape") {
    Outline outline;
    outline.move_to({0, 0});
    outline.line_to({1e300, 1});
    std::vector<Vec2> points;
    std::vector<Subpath> subpaths;
    const FlatShape flat =
        flatten(outline, Affine::scaling(1e20, 1e20), {.tolerance = 0.01, .max_points = 100}, points, subpaths);
    CHECK_FALSE(flat.finite);
    CHECK(points.empty());
}

} // namespace
} // namespace padchart::svg
