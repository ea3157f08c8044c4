#include "base/angle.hpp"

#include <cmath>

#include <doctest/doctest.h>

using padchart::Angle;
using padchart::cos_sin;

TEST_CASE("a direction is brought into one turn") {
    CHECK(Angle::degrees(-90).wrapped() == Angle::degrees(270));
    CHECK(Angle::degrees(720).wrapped() == Angle::degrees(0));
    CHECK(Angle::degrees(-1e-18).wrapped() == Angle::degrees(0));
    CHECK_FALSE(std::signbit(Angle::degrees(-360).wrapped().degrees()));
}

TEST_CASE("the signed turn takes the short way") {
    CHECK(Angle::degrees(270).signed_turn() == Angle::degrees(-90));
    CHECK(Angle::degrees(180).signed_turn() == Angle::degrees(180));
    CHECK(Angle::degrees(-180).signed_turn() == Angle::degrees(180));
}

TEST_CASE("quarter turns have exact sines") {
    CHECK(cos_sin(Angle::degrees(90)).cos == 0.0);
    CHECK(cos_sin(Angle::degrees(180)).sin == 0.0);
    CHECK(cos_sin(Angle::degrees(-90)).sin == -1.0);
    CHECK(cos_sin(Angle::degrees(30)).sin == doctest::Approx(0.5)); // sine of 30 degrees, closed form
}

TEST_CASE("degrees given are degrees read") {
    CHECK(Angle::degrees(0.1).degrees() == 0.1);
    CHECK(Angle::degrees(180).radians() == doctest::Approx(3.14159265358979));
}
