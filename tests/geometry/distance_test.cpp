#include "geometry/distance.hpp"

#include <doctest/doctest.h>

#include "geometry/overlay.hpp"
#include "support/geometry_printing.hpp"
#include "support/random_shapes.hpp"
#include "support/slow_distance.hpp"

using namespace padchart;
using namespace padchart::geometry;
using namespace padchart::testing;

namespace {

Region moved(const Ring& ring, Vec2 by) {
    return {{transformed(ring, Affine::translation(by)), {}}};
}

} // namespace

TEST_CASE("two squares side by side are as far apart as their edges") {
    const Gap gap = gap_between(moved(rectangle(2, 2), {}), moved(rectangle(2, 2), {5, 0}));
    CHECK(gap.mm == doctest::Approx(3));
    CHECK(gap.from.x == doctest::Approx(1));
    CHECK(gap.to.x == doctest::Approx(4));
}

TEST_CASE("two squares corner to corner are as far apart as their corners") {
    // Pythagoras: 3, 4, 5.
    const Gap gap = gap_between(moved(rectangle(2, 2), {}), moved(rectangle(2, 2), {5, 6}));
    CHECK(gap.mm == doctest::Approx(5));
    CHECK(distance(gap.from, {1, 1}) < 1e-12);
    CHECK(distance(gap.to, {4, 5}) < 1e-12);
}

TEST_CASE("two discs are as far apart as their centres less the radii") {
    const Gap gap = gap_between(moved(circle(1, 1e-6), {}), moved(circle(2, 1e-6), {6, 8}));
    CHECK(gap.mm == doctest::Approx(7).epsilon(1e-6));
}

TEST_CASE("areas that overlap touch or hold each other have a common point and no distance") {
    const Region plate = moved(rectangle(4, 4), {});
    for (const Vec2 by : {Vec2{3, 0}, Vec2{4, 0}, Vec2{4, 4}, Vec2{0, 0}, Vec2{1, 1}})
        for (const double side : {4.0, 1.0}) {
            const Region other = moved(rectangle(side, side), by * ((4 + side) / 8));
            const Gap gap = gap_between(plate, other);
            CHECK(gap.mm == 0);
            CHECK(gap.from == gap.to);
            CHECK(slow_distance(gap.from, plate[0]) < 1e-9);
            CHECK(slow_distance(gap.to, other[0]) < 1e-9);
            CHECK(PreparedArea(plate).gap_to(PreparedArea(other)).mm == 0);
        }
}

TEST_CASE("what lies in a hole keeps its distance from the frame") {
    const Region frame{{rectangle(8, 8), {rectangle(4, 4)}}};
    CHECK(gap_between(frame, moved(rectangle(1, 1), {0.5, 0})).mm == doctest::Approx(1));
}

TEST_CASE("polygons of one region that overlap are one area even where they cross twice") {
    // Counting edges would call the shared middle outside.
    const Region both{{rectangle(4, 1), {}}, {rectangle(1, 4), {}}};
    CHECK(gap_between(both, moved(rectangle(0.1, 0.1), {})).mm == 0);
    CHECK(PreparedArea(both).distance_to(PreparedArea(moved(rectangle(0.1, 0.1), {}))) == 0);
}

TEST_CASE("a self-crossing outline is measured from all it goes round") {
    const Region bow_tie{{{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, {}}};
    CHECK(gap_between(bow_tie, moved(rectangle(0.2, 0.2), {1, 5})).mm == 0);
    CHECK(gap_between(bow_tie, moved(rectangle(0.2, 0.2), {9, 5})).mm == 0);
    CHECK(gap_between(bow_tie, moved(rectangle(0.2, 0.2), {12, 5})).mm == doctest::Approx(1.9));
}

TEST_CASE("shapes without area are measured as lines and points") {
    const Region point{{{{3, 0}}, {}}};
    const Region line{{{{0, 2}, {5, 2}, {2, 2}}, {}}};
    CHECK(gap_between(point, line).mm == doctest::Approx(2));
    const Region mixed{{{{3, 0}}, {}}, {rectangle(1, 1), {}}};
    CHECK(gap_between(mixed, line).mm == doctest::Approx(1.5));
    CHECK(gap_between(mixed, point).mm == 0);
    CHECK(PreparedArea(mixed).gap_to(PreparedArea(point)).mm == 0);
    CHECK(PreparedArea(point).distance_to(PreparedArea(mixed)) == 0);
}

TEST_CASE("random areas are as far apart as the slow way says and symmetric") {
    // Twin: every corner against every edge.
    Random random(61);
    int apart = 0;
    for (int i = 0; i < 400; ++i) {
        const Ring a = random_star(random, random.point(4), 2, 3 + random.below(20));
        const Ring b = random_star(random, random.point(4), 2, 3 + random.below(20));
        const double expected = slow_distance(a, b);
        const Gap gap = gap_between({{a, {}}}, {{b, {}}});
        const PreparedArea first(Region{{a, {}}});
        const PreparedArea second(Region{{b, {}}});
        CHECK(gap.mm == doctest::Approx(expected).epsilon(1e-12));
        CHECK(distance(gap.from, gap.to) == doctest::Approx(gap.mm).epsilon(1e-9));
        CHECK(slow_distance(gap.from, Polygon{a, {}}) < 1e-9);
        CHECK(slow_distance(gap.to, Polygon{b, {}}) < 1e-9);
        CHECK(first.distance_to(second) == doctest::Approx(expected).epsilon(1e-12));
        CHECK(second.distance_to(first) == doctest::Approx(expected).epsilon(1e-12));
        CHECK(first.gap_to(second).mm == doctest::Approx(expected).epsilon(1e-12));
        CHECK(first.is_within(second, expected * (1 + 1e-9)));
        CHECK(first.is_within(second, expected * (1 - 1e-9)) == (expected == 0));
        apart += expected > 0 ? 1 : 0;
    }
    CHECK(apart > 100);
    CHECK(apart < 390);
}

TEST_CASE("distance does not change when both areas are moved turned or mirrored") {
    Random random(62);
    for (int i = 0; i < 100; ++i) {
        const Ring a = random_star(random, random.point(4), 2, 12);
        const Ring b = random_star(random, random.point(4), 2, 12);
        const Affine move = Affine::translation(random.point(50)) * Affine::rotation(random.turn()) *
                            Affine::scaling(i % 2 == 0 ? -1 : 1, 1);
        const double before = gap_between({{a, {}}}, {{b, {}}}).mm;
        const double after = gap_between({{transformed(a, move), {}}}, {{transformed(b, move), {}}}).mm;
        CHECK(after == doctest::Approx(before).epsilon(1e-9));
    }
}

TEST_CASE("within a distance means up to and with it") {
    const PreparedArea a(moved(rectangle(2, 2), {}));
    const PreparedArea b(moved(rectangle(2, 2), {3, 0}));
    CHECK(a.is_within(b, 1.0));
    CHECK_FALSE(a.is_within(b, 0.999999));
    CHECK_FALSE(a.is_within(b, -1.0));
    CHECK(a.is_within(a, 0.0));
    CHECK(a.box() == Box{{-1, -1}, {1, 1}});
}

TEST_CASE("an area inside the edge keeps its distance to the nearest line") {
    const std::vector<Ring> edge{rectangle(20, 10), transformed(circle(1, 1e-6), Affine::translation({5, 0}))};
    const Region pad = moved(rectangle(1, 1), {});
    CHECK(gap_to_lines(pad, edge).mm == doctest::Approx(3.5).epsilon(1e-6)); // to the hole at x = 4
    CHECK(gap_to_lines(moved(rectangle(1, 1), {-9, 0}), edge).mm == doctest::Approx(0.5));
    CHECK(gap_to_lines(moved(rectangle(1, 1), {-10, 0}), edge).mm == 0);
    const PreparedArea lines = PreparedArea::along(edge);
    CHECK(PreparedArea(pad).distance_to(lines) == doctest::Approx(3.5).epsilon(1e-6));
    CHECK(lines.distance_to(PreparedArea(pad)) == doctest::Approx(3.5).epsilon(1e-6));
}
