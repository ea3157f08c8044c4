#include "geometry/validity.hpp"

#include <limits>

#include <doctest/doctest.h>

#include "clipper_twin.hpp"
#include "support/geometry_printing.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::geometry;
using padchart::testing::Random;

TEST_CASE("a proper outline has no flaw") {
    CHECK_FALSE(flaw_of({rectangle(2, 1), {}}));
    CHECK_FALSE(flaw_of({rectangle(2, 2), {rectangle(1, 1)}}));
    CHECK_FALSE(flaw_of({{{0, 0}, {1, 0}, {1, 0}, {0, 1}}, {}})); // a doubled point harms nothing
}

TEST_CASE("a bow-tie crosses itself where its diagonals meet") {
    const auto flaw = flaw_of({{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, {}});
    REQUIRE(flaw);
    CHECK(flaw->reason == "crosses itself");
    CHECK(flaw->at == Vec2{5, 5});
}

TEST_CASE("outlines without area are named and mend to nothing") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto reason = [](const Ring& ring) {
        const auto flaw = flaw_of({ring, {}});
        return flaw ? flaw->reason : std::string("none");
    };
    CHECK(reason({}) == "has fewer than three different points");
    CHECK(reason({{1, 1}, {1, 1}, {1, 1}, {1, 1}}) == "has fewer than three different points");
    CHECK(reason({{0, 0}, {1, 0}, {0, 0}, {1, 0}}) == "has fewer than three different points");
    CHECK(reason({{0, 0}, {1, 1}, {3, 3}}) == "has no area");
    CHECK(reason({{0, 0}, {nan, 1}, {3, 3}}) == "has a number that is not finite");
    for (const Ring& ring : {Ring{}, Ring{{1, 1}}, Ring{{0, 0}, {1, 1}, {3, 3}}, Ring{{0, 0}, {nan, 1}, {3, 3}}})
        CHECK(mended({ring, {}}).empty());
}

TEST_CASE("a hole that leaves its outline is a flaw") {
    CHECK(flaw_of({rectangle(2, 2), {transformed(rectangle(1, 1), Affine::translation({1, 0}))}}));
    const auto outside = flaw_of({rectangle(2, 2), {transformed(rectangle(1, 1), Affine::translation({9, 0}))}});
    REQUIRE(outside);
    CHECK(outside->reason == "has a hole outside its outline");
    const auto flat = flaw_of({rectangle(2, 2), {Ring{{0, 0}, {0.5, 0}, {0.9, 0}}}});
    REQUIRE(flat);
    CHECK(flat->reason == "has a hole that has no area");
}

TEST_CASE("mending a bow-tie keeps both wings") {
    // Own arithmetic: two triangles of base 10 and height 5.
    CHECK(area(mended({{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, {}})) == doctest::Approx(50));
}

TEST_CASE("what a hand went round twice is kept once") {
    // A square of side 4 traced twice, the second time from its middle: own arithmetic 16.
    const Ring twice{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}, {4, 0}, {4, 4}, {0, 4}};
    CHECK(area(mended({twice, {}})) == doctest::Approx(16));
    // A loop in a loop, both the same way round: the default of many libraries would cut the inner one out.
    const Ring nested{{0, 0}, {6, 0}, {6, 6}, {0, 6}, {0, 1}, {3, 1}, {3, 3}, {1, 3}, {1, 0}};
    CHECK(area(mended({nested, {}})) == doctest::Approx(testing::clipper_area(testing::clipper_mended(nested))));
}

TEST_CASE("mended tangles have the non-zero area the other library finds and no flaw") {
    // Reference: polyclipping, SimplifyPolygon with the non-zero rule.
    Random random(31);
    for (int i = 0; i < 200; ++i) {
        const Ring ring = random_tangle(random, random.point(20), 5, 3 + random.below(40));
        const Region proper = mended({ring, {}});
        CHECK(area(proper) == doctest::Approx(testing::clipper_area(testing::clipper_mended(ring))).epsilon(1e-5));
        for (const Polygon& polygon : proper)
            CHECK_FALSE(flaw_of(polygon));
    }
}

TEST_CASE("holes that cross themselves or the outline take out all they go round") {
    // Reference: polyclipping, difference of the two non-zero areas.
    Random random(33);
    for (int i = 0; i < 100; ++i) {
        Polygon drawn{random_tangle(random, random.point(3), 5, 3 + random.below(12)), {}};
        ClipperLib::Paths expected = testing::clipper_mended(drawn.outer);
        for (std::size_t k = random.below(4); k > 0; --k) {
            drawn.holes.push_back(random_tangle(random, random.point(6), 2, 3 + random.below(8)));
            expected = testing::clipper_combined(ClipperLib::ctDifference, expected,
                                                 testing::clipper_mended(drawn.holes.back()));
        }
        CHECK(std::abs(area(mended(drawn)) - testing::clipper_area(expected)) < 2e-4);
    }
}

TEST_CASE("a hole outside its outline takes nothing away and adds nothing") {
    const Ring outside = transformed(rectangle(1, 1), Affine::translation({9, 0}));
    CHECK(area(mended({rectangle(2, 2), {outside}})) == doctest::Approx(4));
    CHECK(area(mended({rectangle(2, 2), {rectangle(3, 3)}})) == doctest::Approx(0));
}

TEST_CASE("mending leaves a proper outline as large as it was") {
    Random random(32);
    for (int i = 0; i < 100; ++i) {
        const Polygon star{random_star(random, random.point(20), 5, 5 + random.below(40)), {}};
        CHECK(area(mended(star)) == doctest::Approx(area(star)).epsilon(1e-12));
    }
}
