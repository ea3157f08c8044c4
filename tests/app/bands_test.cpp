// The cutting of areas for the painter lies beside it; it needs no display.

#include <random>

#include "support.hpp"

#include "paint/bands.hpp"

namespace padchart::paint {
namespace {

using geometry::Polygon;
using geometry::Ring;
using geometry::Vec2;

double area_of(const std::vector<Band>& bands) {
    double sum = 0;
    for (const Band& b : bands)
        sum += (b.bottom - b.top) * ((b.top_right - b.top_left) + (b.bottom_right - b.bottom_left)) / 2;
    return sum;
}

bool in_bands(const std::vector<Band>& bands, Vec2 p) {
    for (const Band& b : bands) {
        if (p.y < b.top || p.y >= b.bottom) continue;
        const double t = (p.y - b.top) / (b.bottom - b.top);
        const double left = b.top_left + (b.bottom_left - b.top_left) * t;
        const double right = b.top_right + (b.bottom_right - b.top_right) * t;
        if (p.x > left && p.x < right) return true;
    }
    return false;
}

TEST_CASE("bands of a square with a square hole have the area between them") {
    const Polygon square{{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, {{{1, 1}, {3, 1}, {3, 3}, {1, 3}}}};
    CHECK(area_of(bands_of(square)) == doctest::Approx(12)); // 16 less 4
}

TEST_CASE("bands of a bow tie are its two triangles") {
    const Polygon bow{{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, {}};
    CHECK(area_of(bands_of(bow)) == doctest::Approx(2)); // two triangles of base 2 and height 1
}

TEST_CASE("bands hold just the points that are inside by even and odd") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> coordinate(0, 10);
    for (int round = 0; round < 60; ++round) {
        Polygon scribble;
        for (int i = 0; i < 7; ++i)
            scribble.outer.push_back({coordinate(random), coordinate(random)});
        const std::vector<Band> bands = bands_of(scribble);
        int wrong = 0;
        for (int i = 0; i < 300; ++i) {
            const Vec2 p{coordinate(random), coordinate(random)};
            if (in_bands(bands, p) != geometry::contains(scribble, p)) ++wrong;
        }
        CHECK(wrong <= 1); // a point on an edge may answer either way
    }
}

TEST_CASE("rows of a hatch run from edge to edge and skip holes") {
    const Polygon square{{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, {{{1, 1}, {3, 1}, {3, 3}, {1, 3}}}};
    const std::vector<RowSpan> rows = row_spans(square, 1.6, {{-1, -1}, {5, 5}});
    // y = 0, 1.6 and 3.2: the first and the last pass the hole, the second is cut in two.
    REQUIRE(rows.size() == 4);
    CHECK(rows[1].right == doctest::Approx(1));
    CHECK(rows[2].left == doctest::Approx(3));
    CHECK(rows[3].row == 2);
    CHECK(rows[3].right - rows[3].left == doctest::Approx(4));
}

TEST_CASE("rows outside the limits are not made") {
    const Polygon square{{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, {}};
    CHECK(row_spans(square, 0.5, {{0, 1}, {4, 2}}).size() == 3); // y = 1, 1.5 and 2
}

TEST_CASE("a ring without area has no bands") {
    CHECK(bands_of({{}, {}}).empty());
    CHECK(area_of(bands_of({{{0, 0}, {5, 5}, {2, 2}}, {}})) == doctest::Approx(0));
    CHECK(bands_of({{{0, 1}, {5, 1}, {2, 1}}, {}}).empty());
}

} // namespace
} // namespace padchart::paint
