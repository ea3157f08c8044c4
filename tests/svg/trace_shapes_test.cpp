#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "svg/trace_shapes.hpp"

namespace padchart::svg {
namespace {

using document::ShapeKind;
using geometry::Affine;
using geometry::Ring;
using geometry::Vec2;

constexpr double kTolerance = 0.01;

Ring moved(const Ring& ring, double degrees, Vec2 to) {
    return geometry::transformed(ring, Affine::translation(to) * Affine::rotation(Angle::degrees(degrees)));
}

TEST_CASE("a turned rectangle is a rectangle with its first edge as axis") {
    const PlacedShape placed = recognised(moved(geometry::rectangle(3, 1), 30, {5, 6}), kTolerance);
    CHECK(placed.shape.kind == ShapeKind::Rectangle);
    CHECK(placed.shape.width_mm == doctest::Approx(3));
    CHECK(placed.shape.height_mm == doctest::Approx(1));
    CHECK(placed.at.x == doctest::Approx(5));
    CHECK(geometry::bearing(placed.axis).degrees() == doctest::Approx(30));
}

TEST_CASE("extra points on the sides do not matter") {
    const PlacedShape placed = recognised({{0, 0}, {1, 0.0005}, {3, 0}, {3, 1}, {1.5, 1}, {0, 1}}, kTolerance);
    CHECK(placed.shape.kind == ShapeKind::Rectangle);
}

TEST_CASE("a corner off by more than the tolerance makes a polygon") {
    CHECK(recognised({{0, 0}, {3, 0}, {3, 1.005}, {0, 1}}, kTolerance).shape.kind == ShapeKind::Rectangle);
    CHECK(recognised({{0, 0}, {3, 0}, {3, 1.1}, {0, 1}}, kTolerance).shape.kind == ShapeKind::Polygon);
    // What is a fair tolerance for a body is half of a tiny pad.
    CHECK(recognised({{0, 0}, {0.05, 0}, {0.05, 0.06}, {0, 0.05}}, kTolerance).shape.kind == ShapeKind::Polygon);
}

TEST_CASE("circles are round and ovals oblong at any turn") {
    const PlacedShape round = recognised(moved(geometry::circle(0.4, 0.002), 7, {1, 2}), kTolerance);
    CHECK(round.shape.kind == ShapeKind::Round);
    CHECK(round.shape.width_mm == doctest::Approx(0.8).epsilon(0.01));
    const PlacedShape oblong = recognised(moved(geometry::oblong(2, 0.5, 0.002), 40, {1, 2}), kTolerance);
    CHECK(oblong.shape.kind == ShapeKind::Oblong);
    CHECK(oblong.shape.width_mm == doctest::Approx(2).epsilon(0.005));
    CHECK(oblong.shape.height_mm == doctest::Approx(0.5).epsilon(0.005));
    CHECK(std::remainder(geometry::bearing(oblong.axis).degrees() - 40, 180) == doctest::Approx(0).epsilon(1e-6));
}

TEST_CASE("a small circle keeps its diameter, however it is turned and cut into pieces") {
    // Twelve corners on a circle of 0.2 mm: turned by 15 degrees their box is only 0.193 wide.
    for (const double turn : {0.0, 5.0, 15.0, 22.5, 37.0}) {
        const PlacedShape round = recognised(moved(geometry::circle(0.1, 0.005), turn, {1, 2}), kTolerance);
        CHECK(round.shape.kind == ShapeKind::Round);
        CHECK(round.shape.width_mm == doctest::Approx(0.2).epsilon(1e-6));
        CHECK(geometry::distance(round.at, {1, 2}) < 1e-9);
    }
    Ring uneven; // finer on one side
    for (int degrees = 0; degrees < 360; degrees += degrees < 90 ? 10 : 30)
        uneven.push_back(geometry::direction(Angle::degrees(degrees)) * 0.1);
    const PlacedShape round = recognised(uneven, kTolerance);
    CHECK(round.shape.kind == ShapeKind::Round);
    CHECK(round.shape.width_mm == doctest::Approx(0.2).epsilon(1e-6));
}

TEST_CASE("an octagon is no circle and a chamfered rectangle no rectangle") {
    CHECK(recognised(geometry::circle(1, 0.1), kTolerance).shape.kind == ShapeKind::Polygon);
    CHECK(recognised({{0.3, 0}, {3, 0}, {3, 1}, {0, 1}, {0, 0.3}}, kTolerance).shape.kind == ShapeKind::Polygon);
}

TEST_CASE("simplifying moves no point by more than the tolerance and keeps the order") {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> noise(-0.001, 0.001);
    Ring ring;
    for (const Vec2 p : geometry::circle(5, 0.0005))
        ring.push_back(p + Vec2{noise(random), noise(random)});
    const Ring few = simplified(ring, 0.002);
    CHECK(few.size() < ring.size());
    for (const Vec2 p : ring) {
        double nearest = HUGE_VAL;
        for (std::size_t i = 0; i < few.size(); ++i) {
            const Vec2 d = few[(i + 1) % few.size()] - few[i];
            const double t = std::min(1.0, std::max(0.0, dot(p - few[i], d) / dot(d, d)));
            nearest = std::min(nearest, geometry::distance(p, few[i] + d * t));
        }
        CHECK(nearest <= 0.0020001);
    }
    CHECK(geometry::signed_area(few) * geometry::signed_area(ring) > 0);
}

} // namespace
} // namespace padchart::svg
