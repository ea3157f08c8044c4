#include "analysis/fit_cover.hpp"

#include <doctest/doctest.h>
#include <polyclipping/clipper.hpp>

#include <numbers>

#include "geometry/overlay.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::analysis::fitting;
using geometry::Ring;
using geometry::Vec2;

namespace {

constexpr double kUnitsPerMm = 1e7;

ClipperLib::Path on_grid(const Ring& ring, Vec2 by) {
    ClipperLib::Path path;
    for (const Vec2 p : ring)
        path.emplace_back(std::llround((p.x + by.x) * kUnitsPerMm), std::llround((p.y + by.y) * kUnitsPerMm));
    return path;
}

/// Outside reference: the Clipper polygon library (integer arithmetic).
double clipped_area(const Ring& moving, Vec2 by, const Ring& fixed) {
    ClipperLib::Clipper clipper;
    clipper.AddPath(on_grid(moving, by), ClipperLib::ptSubject, true);
    clipper.AddPath(on_grid(fixed, {}), ClipperLib::ptClip, true);
    ClipperLib::Paths common;
    clipper.Execute(ClipperLib::ctIntersection, common, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    double area = 0.0;
    for (const ClipperLib::Path& path : common)
        area += ClipperLib::Area(path);
    return area / (kUnitsPerMm * kUnitsPerMm);
}

Cover random_cover(testing::Random& random) {
    switch (random.below(4)) {
    case 0: return cover_of_box(random.between(0.2, 1.5), random.between(0.2, 1.5));
    case 1: return cover_of_circle(random.between(0.2, 1.5));
    case 2: return cover_of_ring(testing::random_convex(random, {}, 0.8));
    default: return cover_of_ring(testing::random_star(random, {}, 0.8, 4 + random.below(7)));
    }
}

} // namespace

TEST_CASE("Overlaps of dented outlines agree with an independent polygon library") {
    testing::Random random(11);
    for (int round = 0; round < 300; ++round) {
        const Ring a = testing::random_star(random, {}, 1.0, 3 + random.below(9));
        const Ring b = testing::random_star(random, {}, 1.0, 3 + random.below(9));
        const Vec2 by = random.point(0.8);
        // Hollows shallower than a micrometre are left out: at most that times the outline's length.
        CHECK(std::abs(overlap(cover_of_ring(a), by, cover_of_ring(b)) - clipped_area(a, by, b)) < 0.004);
    }
}

TEST_CASE("Overlaps of convex outlines agree with an independent polygon library") {
    testing::Random random(12);
    for (int round = 0; round < 300; ++round) {
        const Ring a = testing::random_convex(random, {}, 1.0);
        const Ring b = testing::random_convex(random, {}, 1.0);
        const Vec2 by = random.point(0.8);
        CHECK(std::abs(overlap(cover_of_ring(a), by, cover_of_ring(b)) - clipped_area(a, by, b)) < 1e-6);
    }
}

TEST_CASE("Two circles share the lens of the handbooks") {
    // Closed form at distance r = s = 1: 2 pi / 3 - sqrt(3) / 2 (elementary geometry; own arithmetic).
    const Cover unit = cover_of_circle(2.0);
    CHECK(unit.area_mm2 == doctest::Approx(std::numbers::pi));
    CHECK(overlap(unit, {1.0, 0.0}, unit) == doctest::Approx(2.0 * std::numbers::pi / 3.0 - std::sqrt(3.0) / 2.0));
    CHECK(overlap(unit, {0.0, 2.0}, unit) == 0.0);
    CHECK(overlap(unit, {0.3, 0.0}, cover_of_circle(1.0)) == doctest::Approx(std::numbers::pi / 4.0));
    CHECK(overlap(unit, {}, unit) == doctest::Approx(std::numbers::pi));
}

TEST_CASE("A self-crossing outline keeps both of its loops") {
    // A bow tie of two triangles of half a square millimetre each (own arithmetic).
    const Cover bow_tie = cover_of_ring({{-1, -0.5}, {1, 0.5}, {1, -0.5}, {-1, 0.5}});
    CHECK(bow_tie.area_mm2 == doctest::Approx(1.0));
}

TEST_CASE("Limits over a square of shifts hold for every shift in it") {
    testing::Random random(13);
    for (int round = 0; round < 400; ++round) {
        const Cover a = random_cover(random);
        const Cover b = random_cover(random);
        const Vec2 by = random.point(1.0);
        const double half = random.between(0.001, 0.3);
        const OverlapRange range = overlap_over(a, by, half, b);
        CHECK(range.middle == doctest::Approx(overlap(a, by, b)));
        for (int sample = 0; sample < 20; ++sample) {
            const double here = overlap(a, by + random.point(half), b);
            CHECK(here >= range.low - 1e-9);
            CHECK(here <= range.high + 1e-9);
        }
    }
}

TEST_CASE("Limits over a square close in on the overlap as the square shrinks") {
    testing::Random random(14);
    for (int round = 0; round < 100; ++round) {
        const Cover a = random_cover(random);
        const Cover b = random_cover(random);
        const Vec2 by = random.point(0.6);
        const OverlapRange range = overlap_over(a, by, 1e-5, b);
        CHECK(range.high - range.low < 2e-3);
    }
}
