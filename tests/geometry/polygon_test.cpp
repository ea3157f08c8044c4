#include "geometry/polygon.hpp"

#include <numbers>

#include <doctest/doctest.h>

#include "geometry/validity.hpp"
#include "support/geometry_printing.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::geometry;
using padchart::testing::Random;

TEST_CASE("a rectangle is centred and has width times height") {
    const Ring ring = rectangle(3, 2);
    CHECK(bounds(ring) == Box{{-1.5, -1}, {1.5, 1}});
    CHECK(signed_area(ring) == doctest::Approx(6)); // clockwise on the page counts positive
    CHECK(centroid(ring) == Vec2{0, 0});
    CHECK(is_convex_ring(ring));
}

TEST_CASE("a ring's area does not depend on where it lies") {
    const Ring near = rectangle(0.3, 0.2);
    const Ring far = transformed(near, Affine::translation({1e6, -1e6}));
    CHECK(signed_area(far) == doctest::Approx(0.06).epsilon(1e-8));
}

TEST_CASE("a triangle's centroid is the mean of its corners") {
    // Euclid: the medians meet at a third of their length.
    const Vec2 centre = centroid(Ring{{0, 0}, {6, 0}, {0, 3}});
    CHECK(centre.x == doctest::Approx(2));
    CHECK(centre.y == doctest::Approx(1));
}

TEST_CASE("a ring without area takes the mean of its points as its centroid") {
    CHECK(centroid(Ring{{1, 1}}) == Vec2{1, 1});
    CHECK(centroid(Ring{{0, 0}, {2, 0}}) == Vec2{1, 0});
    CHECK(centroid(Ring{{0, 0}, {1, 1}, {2, 2}}) == Vec2{1, 1});
}

TEST_CASE("holes count off the area and are not inside") {
    const Polygon frame{rectangle(4, 4), {rectangle(2, 2)}};
    CHECK(area(frame) == doctest::Approx(12));
    CHECK(contains(frame, {1.5, 0}));
    CHECK_FALSE(contains(frame, {0.5, 0}));
    CHECK_FALSE(contains(frame, {2.5, 0}));
    CHECK(contains(Region{frame, {rectangle(1, 1), {}}}, {0.2, 0}));
}

TEST_CASE("an inner circle stays inside and an outer one outside within the tolerance") {
    for (const double radius : {0.05, 0.3, 2.5, 40.0})
        for (const double tolerance : {0.0005, 0.002, 0.05}) {
            const Ring inner = circle(radius, tolerance, ArcSide::Inside);
            const Ring outer = circle(radius, tolerance, ArcSide::Outside);
            REQUIRE(inner.size() == outer.size());
            const auto middle = [](const Ring& ring, std::size_t i) {
                return length((ring[i] + ring[(i + 1) % ring.size()]) / 2.0);
            };
            for (std::size_t i = 0; i < inner.size(); ++i) {
                CHECK(length(inner[i]) == doctest::Approx(radius).epsilon(1e-12));
                CHECK(middle(inner, i) >= radius - tolerance * (1 + 1e-9));
                CHECK(middle(outer, i) >= radius * (1 - 1e-12));
                CHECK(length(outer[i]) <= radius + tolerance * (1 + 1e-9));
            }
            CHECK(bounds(inner).width() == doctest::Approx(2 * radius).epsilon(1e-12));
            CHECK(bounds(inner).height() == doctest::Approx(2 * radius).epsilon(1e-12));
        }
}

TEST_CASE("a fine circle has the area of the disc") {
    CHECK(area(Polygon{circle(2, 1e-6), {}}) == doctest::Approx(4 * std::numbers::pi).epsilon(1e-5));
}

TEST_CASE("an oblong is a rectangle with two half discs at its ends") {
    // Own arithmetic: (long - short) * short + pi (short / 2)^2.
    const double expected = (1.6 - 0.6) * 0.6 + std::numbers::pi * 0.09;
    for (const Ring& ring : {oblong(1.6, 0.6, 1e-6), oblong(0.6, 1.6, 1e-6)}) {
        CHECK(std::abs(signed_area(ring)) == doctest::Approx(expected).epsilon(1e-5));
        CHECK(is_convex_ring(ring));
        CHECK_FALSE(flaw_of({ring, {}}));
    }
    CHECK(bounds(oblong(1.6, 0.6, 0.002)).width() == doctest::Approx(1.6).epsilon(1e-12));
    CHECK(bounds(oblong(1.6, 0.6, 0.002)).height() == doctest::Approx(0.6).epsilon(1e-12));
    CHECK(bounds(oblong(0.6, 1.6, 0.002)).height() == doctest::Approx(1.6).epsilon(1e-12));
    CHECK(oblong(1, 1, 0.01) == circle(0.5, 0.01));
}

TEST_CASE("convex rings are told from the rest") {
    CHECK(is_convex_ring(Ring{{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}}));       // a point on an edge
    CHECK(is_convex_ring(Ring{{0, 0}, {2, 0}, {2, 0}, {2, 2}, {0, 2}}));       // a doubled point
    CHECK_FALSE(is_convex_ring(Ring{{0, 0}, {2, 0}, {1, 0.5}, {2, 2}}));       // a dent
    CHECK_FALSE(is_convex_ring(Ring{{0, 0}, {2, 2}, {2, 0}, {0, 2}}));         // a bow-tie
    CHECK_FALSE(is_convex_ring(Ring{{0, 0}, {1, 0}, {2, 0}}));                 // a line
    CHECK_FALSE(is_convex_ring(Ring{{0, 0}, {3, 0}, {2, 0}, {2, 2}, {0, 2}})); // a spike
    CHECK_FALSE(is_convex_ring(Ring{}));
    Ring twice_round;
    for (int i = 0; i < 5; ++i) // the five-pointed star turns one way only, but twice
        twice_round.push_back(direction(Angle::degrees(144.0 * i)));
    CHECK_FALSE(is_convex_ring(twice_round));
}

TEST_CASE("a ring called convex is valid and one with a dent is not called so") {
    Random random(21);
    for (int i = 0; i < 300; ++i) {
        const Ring ring = random_convex(random, random.point(10), 3);
        CHECK(is_convex_ring(ring));
        CHECK_FALSE(flaw_of({ring, {}}));
        Ring dented = ring;
        dented.insert(dented.begin() + 1, centroid(ring));
        CHECK_FALSE(is_convex_ring(dented));
    }
}

TEST_CASE("an empty box takes in nothing and grows by points") {
    Box box;
    CHECK(box.is_empty());
    CHECK(box.width() == 0);
    CHECK(box.grown(5).is_empty());
    CHECK_FALSE(box.overlaps(Box{{-1, -1}, {1, 1}}));
    box.add(Vec2{1, 2});
    CHECK_FALSE(box.is_empty());
    CHECK(box.grown(0.5) == Box{{0.5, 1.5}, {1.5, 2.5}});
    CHECK(bounds(Region{}).is_empty());
}
