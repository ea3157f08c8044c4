#include "geometry/segment.hpp"

#include <cmath>
#include <vector>

#include <doctest/doctest.h>

#include "geometry/polygon.hpp"

using namespace padchart::geometry;

TEST_CASE("the nearest point of a straight piece lies square to it or at an end") {
    CHECK(nearest_on_segment({1, 2}, {0, 0}, {4, 0}) == Vec2{1, 0});
    CHECK(nearest_on_segment({-3, 4}, {0, 0}, {4, 0}) == Vec2{0, 0});
    CHECK(nearest_on_segment({7, 4}, {0, 0}, {4, 0}) == Vec2{4, 0});
    CHECK(distance_to_segment({-3, 4}, {0, 0}, {4, 0}) == doctest::Approx(5.0));
}

TEST_CASE("a piece without length is a point") {
    CHECK(nearest_on_segment({1, 2}, {3, 3}, {3, 3}) == Vec2{3, 3});
    CHECK(distance_to_segment({0, -1}, {3, 3}, {3, 3}) == doctest::Approx(5.0));
}

TEST_CASE("no point of a piece, tried one by one, lies nearer than the nearest") {
    for (int k = 0; k < 200; ++k) {
        const auto place = [k](double a, double b) { return Vec2{std::sin(a * k), 3.0 * std::cos(b * k)}; };
        const Vec2 point = place(1.3, 2.1), a = place(0.7, 1.9), b = place(2.3, 0.4);
        double tried = distance(point, a);
        for (int step = 0; step <= 1000; ++step)
            tried = std::min(tried, distance(point, lerp(a, b, step / 1000.0)));
        CHECK(distance_to_segment(point, a, b) <= tried + 1e-12);
        CHECK(distance_to_segment(point, a, b) >= tried - distance(a, b) / 1000.0);
    }
}

TEST_CASE("a closed line is near from the inside as from the outside, its last side included") {
    const Ring square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    CHECK(distance_to_closed_line({2, 5}, square) ==
          doctest::Approx(2.0)); // the side from the last corner to the first
    CHECK(distance_to_closed_line({5, 9}, square) == doctest::Approx(1.0));
    CHECK(distance_to_closed_line({13, 14}, square) == doctest::Approx(5.0));
    CHECK(distance_to_closed_line({1, 1}, Ring{{4, 5}}) == doctest::Approx(5.0));
    CHECK(std::isinf(distance_to_closed_line({1, 1}, Ring{})));
}
