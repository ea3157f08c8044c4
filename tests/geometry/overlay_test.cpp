#include "geometry/overlay.hpp"

#include <numbers>

#include <doctest/doctest.h>

#include "clipper_twin.hpp"
#include "geometry/validity.hpp"
#include "support/geometry_printing.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::geometry;
using namespace padchart::testing;

namespace {

Region square_at(double x, double y, double side) {
    return {{transformed(rectangle(side, side), Affine::translation({x, y})), {}}};
}

} // namespace

TEST_CASE("two squares that share a quarter unite meet and differ as counted by hand") {
    const Region a = square_at(0, 0, 2);
    const Region b = square_at(1, 1, 2);
    CHECK(area(unite(a, b)) == doctest::Approx(7));
    CHECK(area(intersect(a, b)) == doctest::Approx(1));
    CHECK(area(subtract(a, b)) == doctest::Approx(3));
    CHECK(unite(a, b).size() == 1);
}

TEST_CASE("empty and flat regions neither add area nor crash") {
    const Region a = square_at(0, 0, 2);
    const Region flat{{{{0, 0}, {1, 1}, {2, 2}}, {}}, {{{3, 3}}, {}}, {{}, {}}};
    CHECK(unite({}).empty());
    CHECK(area(unite(a, flat)) == doctest::Approx(4));
    CHECK(intersect(a, {}).empty());
    CHECK(intersect(flat, a).empty());
    CHECK(area(subtract(a, flat)) == doctest::Approx(4));
    CHECK(area(simplify(a, 0.1)) == doctest::Approx(4));
    CHECK(simplify({}, 0.1).empty());
}

TEST_CASE("polygons of one region that overlap each other unite once") {
    const Region three{square_at(0, 0, 2)[0], square_at(1, 0, 2)[0], square_at(1, 1, 2)[0]};
    CHECK(area(unite(three)) == doctest::Approx(8)); // own arithmetic: 3 x 2 and two squares on top
    CHECK(area(intersect(three, square_at(0, 0, 20))) == doctest::Approx(8));
}

TEST_CASE("random tangles unite meet and differ as the other library says") {
    // Reference: polyclipping, non-zero rule.
    Random random(41);
    for (int i = 0; i < 60; ++i) {
        const Ring a = random_tangle(random, random.point(2), 4, 3 + random.below(15));
        const Ring b = random_tangle(random, random.point(2), 4, 3 + random.below(15));
        const auto clipper = [&](ClipperLib::ClipType how) {
            return clipper_area(clipper_combined(how, clipper_mended(a), clipper_mended(b)));
        };
        const Region first{{a, {}}};
        const Region second{{b, {}}};
        const double slack = 2e-4;
        CHECK(std::abs(area(unite(first, second)) - clipper(ClipperLib::ctUnion)) < slack);
        CHECK(std::abs(area(intersect(first, second)) - clipper(ClipperLib::ctIntersection)) < slack);
        CHECK(std::abs(area(subtract(first, second)) - clipper(ClipperLib::ctDifference)) < slack);
    }
}

TEST_CASE("areas of union and intersection add up to those of the two") {
    Random random(42);
    for (int i = 0; i < 100; ++i) {
        const Region a{{random_star(random, random.point(3), 4, 5 + random.below(30)), {}}};
        const Region b{{random_star(random, random.point(3), 4, 5 + random.below(30)), {}}};
        CHECK(area(unite(a, b)) + area(intersect(a, b)) == doctest::Approx(area(a) + area(b)));
        CHECK(area(unite(a, b)) == doctest::Approx(area(unite(b, a))));
        CHECK(area(subtract(a, b)) + area(intersect(a, b)) == doctest::Approx(area(a)));
    }
}

TEST_CASE("the overlap of convex rings is what the general intersection says") {
    Random random(43);
    int touching = 0;
    for (int i = 0; i < 500; ++i) {
        const Ring a = random_convex(random, random.point(2), 3);
        const Ring b = random_convex(random, random.point(2), 3);
        const double fast = convex_overlap_area(a, b);
        CHECK(fast == doctest::Approx(area(intersect({{a, {}}}, {{b, {}}}))).epsilon(1e-9));
        CHECK(fast == doctest::Approx(convex_overlap_area(b, a)).epsilon(1e-9));
        touching += fast > 0 ? 1 : 0;
    }
    CHECK(touching > 200);
}

TEST_CASE("the overlap of convex rings does not mind their direction") {
    Ring a = rectangle(2, 2);
    Ring b = transformed(rectangle(2, 2), Affine::translation({1, 1}));
    for (int i = 0; i < 4; ++i) {
        CHECK(convex_overlap_area(a, b) == doctest::Approx(1));
        std::reverse(a.begin(), a.end());
        if (i % 2 == 1) std::reverse(b.begin(), b.end());
    }
    CHECK(convex_overlap_area(a, a) == doctest::Approx(4));
    CHECK(convex_overlap_area(a, transformed(a, Affine::translation({2, 0}))) == doctest::Approx(0));
    CHECK(convex_overlap_area(a, Ring{}) == 0);
    CHECK(convex_overlap_area(a, Ring{{0, 0}, {1, 0}, {2, 0}}) == 0);
    CHECK(convex_overlap_area(Ring{{0, 0}, {1, 0}, {2, 0}}, a) == 0);
}

TEST_CASE("simplified outlines stay within the tolerance and keep their holes") {
    Random random(44);
    Polygon rough{{}, {circle(1, 0.0001)}};
    for (int i = 0; i < 2000; ++i)
        rough.outer.push_back((4.0 + random.between(-0.004, 0.004)) * direction(Angle::degrees(-0.18 * i)));
    const Region smooth = simplify({rough}, 0.01);
    REQUIRE(smooth.size() == 1);
    REQUIRE(smooth[0].holes.size() == 1);
    CHECK(smooth[0].outer.size() < 400);
    for (const Vec2 p : smooth[0].outer)
        CHECK(std::abs(length(p) - 4.0) <= 0.004 + 0.01);
}
