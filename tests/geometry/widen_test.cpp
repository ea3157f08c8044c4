#include <numbers>

#include <doctest/doctest.h>

#include "clipper_twin.hpp"
#include "geometry/overlay.hpp"
#include "geometry/validity.hpp"
#include "support/geometry_printing.hpp"
#include "support/random_shapes.hpp"
#include "support/slow_distance.hpp"

using namespace padchart;
using namespace padchart::geometry;
using namespace padchart::testing;

namespace {

constexpr double kPi = std::numbers::pi;

double widened_rectangle(double w, double h, double d) {
    return w * h + 2 * (w + h) * d + kPi * d * d;
}

/// Jitter of a few hundredths of `by`: the kind of edge a library's own smoothing could cut into.
Ring jagged(Random& random, double depth) {
    Ring ring;
    for (int i = 0; i < 240; ++i)
        ring.push_back((3.0 + random.between(-depth, depth)) * direction(Angle::degrees(-1.5 * i)));
    return ring;
}

} // namespace

TEST_CASE("a widened rectangle is never smaller than the true one and hardly larger") {
    // Steiner: area + perimeter d + pi d^2 for any convex shape.
    for (const double d : {0.05, 0.3, 1.0, 3.5, 20.0}) {
        const double got = area(widen({{rectangle(1.6, 0.8), {}}}, d));
        CHECK(got >= widened_rectangle(1.6, 0.8, d));
        CHECK(got <= widened_rectangle(1.6, 0.8, d * (1 + kArcExcess)));
    }
}

TEST_CASE("a widened disc is a disc of the two radii") {
    // The disc itself is a chain of chords: its corners reach 2 mm, its edges 1.999999 mm.
    const double got = area(widen({{circle(2, 1e-6), {}}}, 1.5));
    CHECK(got >= kPi * 3.499999 * 3.499999);
    CHECK(got <= kPi * 3.5 * 3.5 * (1 + kArcExcess));
}

TEST_CASE("a widened bow-tie keeps both wings") {
    // Own arithmetic. Each wing is a triangle with sides 10, 7.0711, 7.0711 and area 25; widened by d it has
    // 25 + 24.1421 d + pi d^2. Round the crossing the two share two quarter discs and two squares: pi d^2 / 2 + 2 d^2.
    const double d = 0.3;
    const double expected = 2 * (25 + (10 + 10 * std::sqrt(2.0)) * d + kPi * d * d) - (kPi / 2 + 2) * d * d;
    CHECK(expected == doctest::Approx(64.729).epsilon(1e-5));
    const double got = area(widen({{{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, {}}}, d));
    CHECK(got >= expected);
    CHECK(got <= expected + 50 * d * kArcExcess);
}

TEST_CASE("a shrunk rectangle is the smaller rectangle and at last nothing") {
    const Region plate{{rectangle(4, 2), {}}};
    CHECK(area(widen(plate, -0.3)) == doctest::Approx(3.4 * 1.4).epsilon(1e-3));
    CHECK(area(widen(plate, -0.3)) <= 3.4 * 1.4);
    CHECK(widen(plate, -1.1).empty());
}

TEST_CASE("a hole closes from its edge inwards") {
    const Region frame{{rectangle(8, 8), {rectangle(4, 4)}}};
    // Own arithmetic: outer grows to 10 x 10 less the corners, the hole shrinks to 2 x 2.
    const double expected = 10 * 10 - (4 - kPi) - 2 * 2;
    CHECK(area(widen(frame, 1)) >= expected);
    CHECK(area(widen(frame, 1)) == doctest::Approx(expected).epsilon(5e-4));
    CHECK(widen(frame, 2.01)[0].holes.empty());
}

TEST_CASE("a line and a point without area are widened as what they are") {
    // Own arithmetic: a line of length L gives 2 L d + pi d^2.
    const Region line{{{{0, 0}, {3, 4}, {1.5, 2}}, {}}};
    CHECK(area(widen(line, 0.5)) >= 2 * 5 * 0.5 + kPi * 0.25);
    CHECK(area(widen(line, 0.5)) == doctest::Approx(2 * 5 * 0.5 + kPi * 0.25).epsilon(1e-3));
    const Region point{{{{1, 1}}, {}}};
    CHECK(area(widen(point, 2)) >= kPi * 4);
    CHECK(area(widen(point, 2)) == doctest::Approx(kPi * 4).epsilon(1e-3));
    Region both = line;
    both.push_back({transformed(rectangle(1, 1), Affine::translation({50, 0})), {}});
    CHECK(widen(both, 0.1).size() == 2);
    CHECK(widen(line, -0.1).empty());
    CHECK(widen({}, 1).empty());
}

TEST_CASE("a flat ring is widened whole whatever the order of its points") {
    // Own arithmetic: a line of 2 mm, there and back.
    const double d = 3.5;
    for (const Ring& ring : {Ring{{0, 0}, {1, 0}, {2, 0}}, Ring{{1, 0}, {0, 0}, {2, 0}}, Ring{{0, 0}, {2, 0}},
                             Ring{{0, 0}, {2, 0}, {0, 0}}, Ring{{0, 0}, {2, 0}, {0.5, 0}, {1.5, 0}, {0, 0}}}) {
        const double got = area(widen({{ring, {}}}, d));
        CHECK(got >= 2 * 2 * d + kPi * d * d);
        CHECK(got <= (2 * 2 * d + kPi * d * d) * 1.001);
    }
}

TEST_CASE("widened tangles have the area the other library finds") {
    // Reference: polyclipping, SimplifyPolygon then ClipperOffset with arcs within a nanometre.
    Random random(51);
    for (int i = 0; i < 60; ++i) {
        const Ring ring = i % 2 == 0 ? random_tangle(random, random.point(9), 4, 3 + random.below(25))
                                     : random_star(random, random.point(9), 4, 5 + random.below(60));
        const double d = random.between(0.05, 2.0);
        const double expected = clipper_area(clipper_widened(clipper_mended(ring), d));
        const double got = area(widen({{ring, {}}}, d));
        CHECK(got >= expected * (1 - 1e-6));
        CHECK(got <= expected * 1.001);
    }
}

TEST_CASE("every point within the distance lies in the widened area") {
    Random random(52);
    for (int i = 0; i < 40; ++i) {
        const Polygon shape{i % 2 == 0 ? random_star(random, {}, 3, 5 + random.below(30))
                                       : jagged(random, random.between(0.002, 0.02)),
                            {}};
        const double d = random.between(0.1, 2.0);
        const Region wide = widen({shape}, d);
        for (int k = 0; k < 300; ++k) {
            // A point at the very distance from a place on the edge, in a random direction; nearer to the shape or not.
            const std::size_t edge = random.below(shape.outer.size());
            const Vec2 foot =
                lerp(shape.outer[edge], shape.outer[(edge + 1) % shape.outer.size()], random.between(0, 1));
            const Vec2 p = foot + d * direction(random.turn());
            REQUIRE(slow_distance(p, shape) <= d * (1 + 1e-12));
            CHECK(contains(wide, p));
        }
    }
}

TEST_CASE("no point of the widened area lies farther than the excess allows") {
    Random random(53);
    for (int i = 0; i < 40; ++i) {
        const Polygon shape{random_star(random, {}, 3, 5 + random.below(30)), {}};
        const double d = random.between(0.1, 2.0);
        for (const Polygon& wide : widen({shape}, d))
            for (const Vec2 p : wide.outer)
                CHECK(slow_distance(p, shape) <= d * (1 + kArcExcess));
    }
}

TEST_CASE("a wide shallow dent is not filled") {
    // A plate of 20 x 10 whose upper edge sags towards the middle; the true widened edge sags as well.
    const double d = 2;
    for (const double share : {0.002, 0.009, 0.011, 0.05}) {
        const double depth = share * d;
        const Polygon plate{{{10, 5}, {-10, 5}, {-10, -5}, {0, -5 + depth}, {10, -5}}, {}};
        double worst = 0;
        for (const Polygon& wide : widen({plate}, d))
            for (std::size_t k = 0; k < wide.outer.size(); ++k)
                for (int step = 0; step < 50; ++step) {
                    const Vec2 p = lerp(wide.outer[k], wide.outer[(k + 1) % wide.outer.size()], step / 50.0);
                    worst = std::max(worst, slow_distance(p, plate) / d - 1);
                }
        CHECK(worst <= kArcExcess);
    }
}

TEST_CASE("a jagged edge is widened as closely as a smooth one") {
    Random random(54);
    double worst = 0;
    for (int i = 0; i < 40; ++i) {
        const Polygon shape{jagged(random, random.between(0.0005, 0.05)), {}};
        const double d = random.between(0.5, 4.0);
        for (const Polygon& wide : widen({shape}, d))
            for (std::size_t k = 0; k < wide.outer.size(); ++k) {
                const Vec2 middle = lerp(wide.outer[k], wide.outer[(k + 1) % wide.outer.size()], 0.5);
                worst = std::max(
                    {worst, slow_distance(middle, shape) / d - 1, slow_distance(wide.outer[k], shape) / d - 1});
            }
    }
    CHECK(worst <= kArcExcess);
}

TEST_CASE("every point of a shrunk area keeps the distance from the edge") {
    Random random(55);
    for (int i = 0; i < 60; ++i) {
        const Polygon shape{i % 2 == 0 ? random_star(random, {}, 3, 5 + random.below(30))
                                       : jagged(random, random.between(0.002, 0.02)),
                            {}};
        const double d = random.between(0.05, 1.0);
        for (const Polygon& small : widen({shape}, -d))
            for (std::size_t k = 0; k < small.outer.size(); ++k) {
                const Vec2 middle = lerp(small.outer[k], small.outer[(k + 1) % small.outer.size()], 0.5);
                CHECK(contains(shape, middle));
                CHECK(distance_to_ring(middle, shape.outer) >= d * (1 - 1e-9));
                CHECK(distance_to_ring(small.outer[k], shape.outer) >= d * (1 - 1e-9));
            }
    }
}

TEST_CASE("widening keeps its area under turns shifts and mirrors") {
    Random random(56);
    for (int i = 0; i < 30; ++i) {
        const Ring ring = random_tangle(random, {}, 3, 3 + random.below(12));
        const Affine move = Affine::translation(random.point(50)) * Affine::rotation(random.turn()) *
                            Affine::scaling(i % 2 == 0 ? -1 : 1, 1);
        const double d = random.between(0.1, 2.0);
        CHECK(area(widen({{transformed(ring, move), {}}}, d)) ==
              doctest::Approx(area(widen({{ring, {}}}, d))).epsilon(5e-4));
    }
}

TEST_CASE("widened areas are valid") {
    Random random(57);
    for (int i = 0; i < 40; ++i)
        for (const Polygon& polygon : widen({{random_tangle(random, {}, 3, 20), {}}}, random.between(-0.2, 1.0)))
            CHECK_FALSE(flaw_of(polygon));
}
