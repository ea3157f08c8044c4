#include "geometry/turned_box.hpp"

#include <cmath>

#include <doctest/doctest.h>

#include "geometry/affine.hpp"
#include "geometry/box.hpp"
#include "support/random_shapes.hpp"

namespace padchart::geometry {
namespace {

Ring turned(const Ring& ring, double degrees) {
    const Affine map = Affine::rotation_about({3, -2}, Angle::degrees(degrees));
    Ring out;
    for (const Vec2 p : ring)
        out.push_back(map(p));
    return out;
}

/// The slow obvious way: the box in every direction a tenth of a degree apart.
double least_area_by_turning(const Ring& ring) {
    double least = HUGE_VAL;
    for (int i = 0; i < 1800; ++i) {
        Box box;
        for (const Vec2 p : turned(ring, i / 10.0))
            box.add(p);
        least = std::min(least, box.width() * box.height());
    }
    return least;
}

} // namespace

TEST_CASE("the narrowest box of a rectangle is the rectangle, however it is turned") {
    const Ring ring = turned({{0, 0}, {4, 0}, {4, 1}, {0, 1}}, 33.0);
    const TurnedBox box = narrowest_box(ring);
    CHECK(box.area() == doctest::Approx(4.0));
    CHECK(std::max(box.length, box.width) == doctest::Approx(4.0));
    CHECK(distance(box.centre, (ring[0] + ring[2]) / 2.0) < 1e-9);
    const Vec2 longer = box.length > box.width ? box.along : Vec2{-box.along.y, box.along.x};
    CHECK(std::abs(cross(longer, ring[1] - ring[0])) < 1e-9);
}

TEST_CASE("no box of another turn is smaller round a convex outline") {
    testing::Random random(17);
    for (int round = 0; round < 50; ++round) {
        const Ring ring = testing::random_convex(random, random.point(5.0), 3.0);
        CHECK(narrowest_box(ring).area() <= least_area_by_turning(ring) + 1e-9);
    }
}

TEST_CASE("a ring without an edge has a box without a size") {
    CHECK(narrowest_box({}).area() == 0.0);
    CHECK(narrowest_box({{2, 3}, {2, 3}}).centre == Vec2{2, 3});
}

} // namespace padchart::geometry
