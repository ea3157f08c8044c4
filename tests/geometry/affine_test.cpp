#include "geometry/affine.hpp"

#include <doctest/doctest.h>

#include "support/geometry_printing.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::geometry;

TEST_CASE("a quarter turn counter-clockwise on a page with y down takes right to up") {
    // Own arithmetic: up on the page is -y.
    const Affine quarter = Affine::rotation(Angle::degrees(90));
    CHECK(quarter(Vec2{1, 0}) == Vec2{0, -1});
    CHECK(quarter(Vec2{0, -1}) == Vec2{-1, 0});
    CHECK(quarter(Vec2{-1, 0}) == Vec2{0, 1});
    CHECK_FALSE(quarter.mirrors());
}

TEST_CASE("four quarter turns about any point bring every point back exactly") {
    const Affine quarter = Affine::rotation(Angle::degrees(90));
    const Vec2 p{0.1, 0.7};
    CHECK(quarter(quarter(quarter(quarter(p)))) == p);
    const Vec2 centre{3.3, -2.1};
    CHECK(distance(Affine::rotation_about(centre, Angle::degrees(137))(centre), centre) < 1e-12);
}

TEST_CASE("bearing and direction are each other's inverse and agree with a rotation") {
    for (int degrees = 0; degrees < 360; degrees += 15) {
        const Angle angle = Angle::degrees(degrees);
        CHECK(bearing(direction(angle)).degrees() == doctest::Approx(degrees));
        CHECK(distance(Affine::rotation(angle)(Vec2{1, 0}), direction(angle)) < 1e-15);
    }
}

TEST_CASE("the inverse of a random map undoes it") {
    testing::Random random(11);
    for (int i = 0; i < 200; ++i) {
        const Affine map{random.between(-3, 3), random.between(-3, 3), random.between(-3, 3),
                         random.between(-3, 3), random.between(-9, 9), random.between(-9, 9)};
        if (std::abs(map.determinant()) < 0.1) continue;
        const Vec2 p = random.point(20);
        CHECK(distance(map.inverse()(map(p)), p) < 1e-9);
        CHECK(distance((map * map.inverse())(p), p) < 1e-9);
        CHECK(distance(map.linear(p) + map(Vec2{}), map(p)) < 1e-12);
    }
}

TEST_CASE("a product applies its right factor first") {
    const Affine shift = Affine::translation({1, 2});
    const Affine grow = Affine::scaling(10, 10);
    CHECK((grow * shift)(Vec2{1, 1}) == Vec2{20, 30});
    CHECK((shift * grow)(Vec2{1, 1}) == Vec2{11, 12});
}

TEST_CASE("the largest stretch is the longest image of a unit vector") {
    testing::Random random(12);
    for (int i = 0; i < 50; ++i) {
        const Affine map{
            random.between(-3, 3), random.between(-3, 3), random.between(-3, 3), random.between(-3, 3), 0, 0};
        double longest = 0;
        for (int step = 0; step < 3600; ++step)
            longest = std::max(longest, length(map.linear(direction(Angle::degrees(step / 10.0)))));
        CHECK(largest_stretch(map) == doctest::Approx(longest).epsilon(1e-5));
    }
}
