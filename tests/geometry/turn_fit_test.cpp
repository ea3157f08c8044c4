#include "geometry/turn_fit.hpp"

#include <vector>

#include <doctest/doctest.h>

#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::geometry;

TEST_CASE("points that a turn, a factor and a shift led somewhere tell all three") {
    testing::Random random(5);
    for (int i = 0; i < 50; ++i) {
        const double turn = random.between(-179, 179), factor = random.between(0.2, 5);
        const Affine map = Affine::translation({random.between(-9, 9), random.between(-9, 9)}) *
                           Affine::scaling(factor, factor) * Affine::rotation(Angle::degrees(turn));
        std::vector<Step> steps;
        for (int k = 0; k < 5; ++k) {
            const Vec2 from{random.between(-9, 9), random.between(-9, 9)};
            steps.push_back({from, map(from)});
        }
        const TurnFit fit = turn_fit(steps);
        CHECK(fit.turn().signed_turn().degrees() == doctest::Approx(turn));
        CHECK(fit.factor() == doctest::Approx(factor));
        for (const Step& step : steps)
            CHECK(distance(fit.map(fit.turn(), fit.factor())(step.from), step.to) < 1e-9);
    }
}

TEST_CASE("what is off to both sides alike does not turn the fit") {
    const std::vector<Step> steps{{{0, 0}, {5, 0.1}}, {{4, 0}, {9, 0.1}}, {{0, 2}, {5, 1.9}}, {{4, 2}, {9, 1.9}}};
    CHECK(turn_fit(steps).turn().degrees() == doctest::Approx(0.0));
    CHECK(distance(turn_fit(steps).to, {7, 1}) < 1e-12);
}

TEST_CASE("one point alone tells a shift, no turn and no factor") {
    const std::vector<Step> one{{{1, 2}, {4, 6}}};
    const TurnFit fit = turn_fit(one);
    CHECK(fit.turn().degrees() == 0.0);
    CHECK(fit.factor() == 1.0);
    CHECK(distance(fit.map(fit.turn(), fit.factor())({1, 2}), {4, 6}) < 1e-12);
}
