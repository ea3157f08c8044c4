#include "analysis/access_turning.hpp"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

#include "geometry/convex.hpp"
#include "support/random_shapes.hpp"
#include "support/slow_distance.hpp"

using namespace padchart;
using namespace padchart::analysis;
using geometry::Region;
using geometry::Ring;
using geometry::Vec2;
using padchart::testing::Random;
using padchart::testing::slow_distance;

namespace {

constexpr double kDegree = 180.0 / std::numbers::pi;

Ring box_ring(Vec2 min, Vec2 max) {
    return {min, {max.x, min.y}, max, {min.x, max.y}};
}

Region box_region(Vec2 min, Vec2 max) {
    return {{box_ring(min, max), {}}};
}

double total(const Bearings& set) {
    double sum = 0.0;
    for (const Sector& sector : set.sectors())
        sum += sector.width_deg;
    return sum;
}

/// Degrees from the nearest end of any sector.
double off_ends(const Bearings& set, double bearing) {
    double least = 360.0;
    for (const Sector& sector : set.sectors())
        for (const double end : {sector.from_deg, sector.to_deg()})
            least = std::min(least, std::abs(turn_between(end, bearing)));
    return least;
}

Bearings random_set(Random& random) {
    Bearings set;
    for (std::size_t i = random.below(6); i > 0; --i) {
        const double from = std::floor(random.between(-400, 400));
        set.add(from, from + std::floor(random.between(1, 150)));
    }
    return set;
}

} // namespace

TEST_CASE("sets of bearings behave as sets of half degrees do") {
    Random random(21);
    for (int round = 0; round < 300; ++round) {
        const Bearings a = random_set(random), b = random_set(random);
        const Bearings both = a.within(b), either = a.together_with(b), rest = a.without(b);
        bool agrees = true;
        for (double at = 0.5; at < 360.0; at += 1.0) { // ends lie on whole degrees
            const bool in_a = a.contains(at), in_b = b.contains(at);
            agrees = agrees && both.contains(at) == (in_a && in_b) && either.contains(at) == (in_a || in_b) &&
                     rest.contains(at) == (in_a && !in_b) && a.complement().contains(at) == !in_a;
        }
        CHECK(agrees);
        CHECK(total(a) + total(a.complement()) == doctest::Approx(360.0));
        CHECK(total(Bearings::of(a.sectors())) == doctest::Approx(total(a)));
    }
}

TEST_CASE("a set that runs over the right hand is one sector") {
    Bearings set;
    set.add(350, 370);
    REQUIRE(set.sectors().size() == 1);
    CHECK(set.sectors()[0] == Sector{350, 20});
    CHECK(set.sectors()[0].to_deg() == 10);
    CHECK(set.sectors()[0].middle_deg() == 0);
    CHECK(set.sectors()[0].contains(5));
    CHECK_FALSE(set.sectors()[0].contains(11));
    CHECK(Bearings::all().sectors() == std::vector<Sector>{{0, 360}});
    CHECK(Bearings{}.sectors().empty());
}

// Own arithmetic: a long strip of half width w turned by t passes a point at distance r with r sin t - w to spare.
TEST_CASE("a strip is kept away from a point by the arc sine of its half width and margin") {
    const Ring strip = geometry::convex_hull(box_ring({-1, -0.3}, {20, 0.3}));
    const double speck = 1e-7;
    const Region point = box_region({5, -speck}, {5 + speck, speck});
    for (const double margin : {0.0, 0.2, 1.0}) {
        const Bearings blocked = blocked_bearings(strip, point, margin);
        REQUIRE(blocked.sectors().size() == 1);
        CHECK(blocked.sectors()[0].width_deg == doctest::Approx(2 * std::asin((0.3 + margin) / 5.0) * kDegree));
    }
}

TEST_CASE("what the strip cannot reach never stops it and what covers the middle always does") {
    const Ring strip = geometry::convex_hull(box_ring({0, -0.3}, {4, 0.3}));
    CHECK(blocked_bearings(strip, box_region({10, 10}, {11, 11}), 1.0).is_empty());
    CHECK(total(blocked_bearings(strip, box_region({-9, -9}, {9, 9}), 0.0)) == doctest::Approx(360.0));
    CHECK(total(blocked_bearings(strip, box_region({0.1, -0.1}, {0.2, 0.1}), 0.0)) < 360.0);
    // A speck wholly inside the strip as it sweeps over it: their edges meet only at the ends of the sector.
    const Bearings inside = blocked_bearings(strip, box_region({2, -0.01}, {2.02, 0.01}), 0.0);
    CHECK(inside.contains(0.0));
    CHECK_FALSE(inside.contains(90.0));
}

TEST_CASE("blocked sectors agree with trying every bearing") {
    Random random(22);
    int blocked_tries = 0, free_tries = 0;
    for (int round = 0; round < 400; ++round) {
        const Ring tool = geometry::convex_hull(padchart::testing::random_convex(random, random.point(2), 3));
        if (tool.size() < 3) continue;
        const Ring still = random.chance(0.5)
                               ? padchart::testing::random_star(random, random.point(5), 2, 3 + random.below(8))
                               : padchart::testing::random_convex(random, random.point(5), 2);
        const double margin = random.chance(0.3) ? 0.0 : random.between(0.0, 0.8);
        const Bearings blocked = blocked_bearings(tool, {{still, {}}}, margin);
        for (int k = 0; k < 40; ++k) {
            const double bearing = random.between(0, 360);
            if (off_ends(blocked, bearing) < 1e-3) continue;
            const double gap = slow_distance(turned(tool, bearing), still);
            const bool is_blocked = margin > 0.0 ? gap < margin : gap == 0.0;
            CHECK_MESSAGE(blocked.contains(bearing) == is_blocked, round << ": " << bearing << ", gap " << gap);
            (is_blocked ? blocked_tries : free_tries)++;
        }
        // At the ends of a sector the two are the margin apart: the sector is not merely wide enough but right.
        for (const Sector& sector : blocked.sectors()) {
            if (sector.width_deg >= 360.0) continue;
            for (const double end : {sector.from_deg, sector.to_deg()})
                CHECK(slow_distance(turned(tool, end), still) ==
                      doctest::Approx(margin).epsilon(0).scale(1).epsilon(1e-5));
        }
    }
    CHECK(blocked_tries > 1000);
    CHECK(free_tries > 1000);
}

TEST_CASE("a gap is the distance between rings and below 0 where they overlap") {
    Random random(23);
    for (int round = 0; round < 400; ++round) {
        const Ring tool = geometry::convex_hull(padchart::testing::random_convex(random, random.point(3), 3));
        if (tool.size() < 3) continue;
        const Ring still = padchart::testing::random_convex(random, random.point(4), 2);
        const double gap = signed_gap(tool, {{still, {}}}), slow = slow_distance(tool, still);
        if (slow > 0.0)
            CHECK(gap == doctest::Approx(slow));
        else
            CHECK(gap <= 0.0);
    }
    const Ring square = geometry::convex_hull(box_ring({0, 0}, {1, 1}));
    CHECK(signed_gap(square, box_region({0.8, -1}, {3, 3})) == doctest::Approx(-0.2)); // own arithmetic
    CHECK(signed_gap(square, box_region({-5, -5}, {5, 5})) == doctest::Approx(-5.0));  // out by the nearest side
}
