#include "geometry/convex.hpp"

#include <doctest/doctest.h>

#include "support/random_shapes.hpp"
#include "support/slow_distance.hpp"

using namespace padchart::geometry;
using padchart::testing::Random;

namespace {

const Ring kUnitSquare{{0, 0}, {1, 0}, {1, 1}, {0, 1}};

Ring moved(const Ring& ring, Vec2 by) {
    Ring out;
    for (const Vec2 p : ring)
        out.push_back(p + by);
    return out;
}

Ring random_points(Random& random, std::size_t count, double reach) {
    Ring points;
    for (std::size_t i = 0; i < count; ++i)
        points.push_back(random.point(reach));
    return points;
}

} // namespace

TEST_CASE("a hull has corners only and holds every point on its left") {
    Random random(11);
    for (int round = 0; round < 200; ++round) {
        const Ring points = random_points(random, 3 + random.below(30), 5);
        const Ring hull = convex_hull(points);
        REQUIRE(hull.size() >= 3);
        for (std::size_t i = 0; i < hull.size(); ++i) {
            const Vec2 a = hull[i], b = hull[(i + 1) % hull.size()];
            for (const Vec2 p : points)
                CHECK(cross(b - a, p - a) >= -1e-9);
        }
    }
    CHECK(convex_hull(Ring{{0, 0}, {2, 0}, {1, 0}, {2, 2}, {0, 2}, {1, 1}}) == Ring{{0, 0}, {2, 0}, {2, 2}, {0, 2}});
    CHECK(convex_hull(Ring{{0, 0}, {1, 1}, {2, 2}}).size() < 3);
}

// Area of a sum of convex sets: A + B and their mixed area; for two boxes along the axes widths and heights add up.
TEST_CASE("the sum of two boxes is the box of their summed sides") {
    const Ring sum = minkowski_sum(kUnitSquare, moved(Ring{{0, 0}, {3, 0}, {3, 2}, {0, 2}}, {5, 5}));
    CHECK(sum == Ring{{5, 5}, {9, 5}, {9, 8}, {5, 8}});
}

TEST_CASE("two pieces are as far apart as their nearest points, found by walking along both") {
    Random random(12);
    for (int round = 0; round < 300; ++round) {
        const Vec2 a = random.point(3), b = random.point(3), c = random.point(3), d = random.point(3);
        double least = 1e9;
        for (int i = 0; i <= 100; ++i)
            for (int k = 0; k <= 100; ++k)
                least = std::min(least, distance(lerp(a, b, i / 100.0), lerp(c, d, k / 100.0)));
        const double fast = segment_distance(a, b, c, d);
        CHECK(fast <= least + 1e-9);
        CHECK(fast >= least - 0.09); // half a step of either walk, at most 8.5 mm long
    }
    CHECK(segment_distance({0, 0}, {2, 2}, {0, 2}, {2, 0}) == 0.0);
    CHECK(segment_distance({0, 0}, {1, 0}, {1, 0}, {2, 5}) == 0.0);
}

// Own arithmetic: unit squares overlapping by 0.25 x 0.6 come free by 0.25.
TEST_CASE("the shortest way out of an overlap is across an edge") {
    CHECK(overlap_depth(kUnitSquare, moved(kUnitSquare, {0.75, 0.4})) == doctest::Approx(0.25));
    CHECK(overlap_depth(kUnitSquare, moved(kUnitSquare, {1.5, 0})) == doctest::Approx(-0.5));
    Random random(13);
    for (int round = 0; round < 200; ++round) {
        const Ring a = convex_hull(random_points(random, 6, 2)), b = convex_hull(random_points(random, 6, 2));
        if (a.size() < 3 || b.size() < 3) continue;
        const double depth = overlap_depth(a, b);
        CHECK(depth == doctest::Approx(overlap_depth(b, a)));
        const bool apart = padchart::testing::slow_distance(a, b) > 0;
        CHECK_MESSAGE((depth <= 1e-12) == apart, depth);
    }
}
