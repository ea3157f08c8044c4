#include "geometry/deviation.hpp"

#include <cmath>

#include <doctest/doctest.h>

#include "geometry/polygon.hpp"

using namespace padchart;

TEST_CASE("how far outlines are apart counts both ways") {
    const geometry::Ring small = geometry::rectangle(2, 2);
    const geometry::Ring large = geometry::rectangle(4, 2);
    // The corner of the larger is 1 mm off, own arithmetic.
    CHECK(geometry::outline_deviation(small, large) == doctest::Approx(1.0));
    CHECK(geometry::outline_deviation(large, small) == doctest::Approx(1.0));
}

TEST_CASE("outlines of very many corners are held against each other without counting every pair") {
    const geometry::Ring one = geometry::circle(10.0, 1e-8), other = geometry::circle(10.25, 1e-8);
    REQUIRE(one.size() > 10'000);
    CHECK(geometry::outline_deviation(one, other) == doctest::Approx(0.25).epsilon(1e-4));
    CHECK(std::isinf(geometry::outline_deviation(one, {})));
}
