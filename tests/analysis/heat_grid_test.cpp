#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "analysis/heat_grid.hpp"
#include "geometry/overlay.hpp"
#include "geometry/validity.hpp"

using namespace padchart::analysis;
namespace geometry = padchart::geometry;
using doctest::Approx;
using geometry::Region;
using geometry::Ring;
using geometry::Vec2;

namespace {

Ring star(std::mt19937& random, Vec2 centre, int points) {
    std::uniform_real_distribution<double> radius(1.0, 4.0);
    Ring ring;
    for (int k = 0; k < points; ++k) {
        const double turn = 2 * std::numbers::pi * k / points;
        ring.push_back(centre + Vec2{std::cos(turn), std::sin(turn)} * radius(random));
    }
    return ring;
}

Ring cell_ring(const Grid& grid, int i, int j) {
    const Vec2 a = grid.origin + Vec2{i * grid.cell_mm, j * grid.cell_mm};
    const double d = grid.cell_mm;
    return {a, a + Vec2{d, 0}, a + Vec2{d, d}, a + Vec2{0, d}};
}

} // namespace

TEST_CASE("covered shares agree with polygon intersection cell by cell") {
    // Twin: GEOS intersection of the region with every cell.
    std::mt19937 random(11);
    for (int round = 0; round < 6; ++round) {
        const Grid grid{{-0.3, 0.2}, 0.7, 12, 10};
        Region region{{star(random, {3.7, 3.9}, 9), {}}};
        region[0].holes.push_back({{3.6, 3.6}, {4.1, 3.7}, {3.8, 4.2}});
        if (round % 2 == 1) std::reverse(region[0].outer.begin(), region[0].outer.end());
        const std::vector<double> share = coverage(grid, region);
        for (int j = 0; j < grid.rows; ++j)
            for (int i = 0; i < grid.columns; ++i) {
                const double exact =
                    geometry::area(geometry::intersect(region, {{cell_ring(grid, i, j), {}}})) / grid.cell_area_mm2();
                CHECK(share[grid.index(i, j)] == Approx(exact).epsilon(1e-9));
            }
    }
}

TEST_CASE("what reaches beyond the grid is left out and nothing else") {
    const Grid grid{{0, 0}, 1.0, 3, 3};
    const std::vector<double> share = coverage(grid, {{{{-2, -2}, {1.5, -2}, {1.5, 1.25}, {-2, 1.25}}, {}}});
    const double expected[9] = {1, 0.5, 0, 0.25, 0.125, 0, 0, 0, 0};
    for (std::size_t k = 0; k < 9; ++k)
        CHECK(share[k] == Approx(expected[k]));
}

TEST_CASE("sixty millimetres at half a millimetre are a hundred and twenty cells") {
    geometry::Box box;
    box.add(Vec2{0.1, 0.1});
    box.add(Vec2{60.1, 30.1});
    const Grid grid = grid_over(box, 0.5);
    CHECK(grid.columns == 120);
    CHECK(grid.rows == 60);
}

TEST_CASE("heat passes a face only as far as it is open on both sides") {
    const Grid grid{{0, 0}, 1.0, 4, 2};
    Region board{{{{0, 0}, {4, 0}, {4, 2}, {0, 2}}, {}}};
    board[0].holes.push_back({{1.5, 0.25}, {2.5, 0.25}, {2.5, 1.0}, {1.5, 1.0}});
    const Openings open = openings(grid, board);
    CHECK(open.east[grid.index(0, 0)] == Approx(1.0));
    CHECK(open.east[grid.index(1, 0)] == Approx(0.25));
    CHECK(open.east[grid.index(1, 1)] == Approx(1.0));
    // The hole ends on the line between the rows: that half of the face is shut though the cell below is whole.
    CHECK(open.south[grid.index(1, 0)] == Approx(0.5));
    CHECK(open.south[grid.index(0, 0)] == Approx(1.0));
}

TEST_CASE("pieces of an edge add up to it and look outwards") {
    const Grid grid{{0, 0}, 0.3, 40, 40};
    const Ring ring = geometry::transformed(geometry::circle(3.0, 0.001), geometry::Affine::translation({6, 6}));
    double length = 0.0;
    Vec2 flux;
    for (const EdgePiece& piece : edge_pieces(grid, ring)) {
        length += piece.length_mm;
        flux += piece.outward * piece.length_mm;
        CHECK(geometry::dot(piece.outward, grid.centre(piece.cell) - Vec2{6, 6}) > 0.0);
    }
    CHECK(length == Approx(2 * std::numbers::pi * 3.0).epsilon(1e-3));
    CHECK(geometry::length(flux) < 1e-9);
}

TEST_CASE("a contour of a cone is the circle it should be with the higher side on its right") {
    const Grid grid{{0, 0}, 0.25, 80, 80};
    std::vector<float> values(grid.size());
    for (std::size_t k = 0; k < values.size(); ++k)
        values[k] = static_cast<float>(10.0 - geometry::distance(grid.centre(k), {10, 10}));
    const auto lines = contours(grid, values, 4.0F);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].is_closed);
    for (const Vec2 p : lines[0].points)
        CHECK(geometry::distance(p, {10, 10}) == Approx(6.0).epsilon(0.002));
    CHECK(geometry::signed_area(lines[0].points) > 0.0); // clockwise on the page: the middle lies to the right
    const Region area = area_above(grid, values, 4.0F);
    CHECK(geometry::area(area) == Approx(36 * std::numbers::pi).epsilon(0.005));
}

TEST_CASE("an area above a level keeps its hole and ends at the border") {
    const Grid grid{{0, 0}, 0.5, 40, 30};
    std::vector<float> values(grid.size());
    for (std::size_t k = 0; k < values.size(); ++k) {
        const double r = geometry::distance(grid.centre(k), {20, 7.5});
        values[k] = static_cast<float>(3.0 - std::abs(r - 6.0)); // a ring of radius 6, cut by the right border
    }
    const Region area = area_above(grid, values, 0.0F);
    REQUIRE(area.size() == 1);
    CHECK_FALSE(geometry::flaw_of(area[0]));
    CHECK(geometry::area(area) == Approx(0.5 * std::numbers::pi * (81 - 9) - 2 * 0.5 * 20.2).epsilon(0.2));
    CHECK(geometry::contains(area, {14, 7.5}));
    CHECK_FALSE(geometry::contains(area, {19.5, 7.5}));
    CHECK(geometry::bounds(area).max.x == Approx(20.0));
}

TEST_CASE("contours agree with the values on both sides of them for any field") {
    std::mt19937 random(5);
    std::uniform_real_distribution<float> height(-1.0F, 1.0F);
    const Grid grid{{0, 0}, 1.0, 14, 11};
    std::vector<float> values(grid.size());
    for (int round = 0; round < 10; ++round) {
        for (float& value : values)
            value = height(random);
        const Region area = area_above(grid, values, 0.0F);
        for (std::size_t k = 0; k < values.size(); ++k)
            CHECK(geometry::contains(area, grid.centre(k)) == (values[k] >= 0.0F));
    }
}

TEST_CASE("lines stop where there is no board") {
    const Grid grid{{0, 0}, 1.0, 10, 10};
    std::vector<float> values(grid.size());
    for (std::size_t k = 0; k < values.size(); ++k)
        values[k] = static_cast<float>(grid.centre(k).x);
    for (int j = 4; j < 6; ++j)
        for (int i = 0; i < 10; ++i)
            values[grid.index(i, j)] = std::nanf("");
    const auto lines = contours(grid, values, 5.2F);
    CHECK(lines.size() == 2);
    for (const Contour& line : lines) {
        CHECK_FALSE(line.is_closed);
        for (const Vec2 p : line.points)
            CHECK(p.x == Approx(5.2).epsilon(1e-6));
    }
}
