#include "patterns/zero_orientation.hpp"

#include <doctest/doctest.h>

#include "support.hpp"

using namespace padchart;
using namespace padchart::patterns;

// Level A: IPC-7351. Level B: IEC 61188-7. The turn between them: own arithmetic.
TEST_CASE("a small outline turns by ninety degrees from level A to level B and a diode does not") {
    CHECK(level_b_from_a(8) == Angle::degrees(90));
    CHECK(level_b_from_a(2) == Angle::degrees(0));
    document::Footprint soic = test::pattern("soic-8");
    CHECK(test::pad(soic, "1").at.x < 0.0); // upper left at level A
    CHECK(test::pad(soic, "1").at.y < 0.0);
    CHECK(*turn_from_zero(soic, ZeroLevel::A) == Angle::degrees(0));
    CHECK(*turn_from_zero(soic, ZeroLevel::B) == Angle::degrees(270));
    soic.placement.turn = level_b_from_a(8);
    const geometry::Vec2 pin1 = document::board_from_part(soic.placement)(test::pad(soic, "1").at);
    CHECK(pin1.x < 0.0); // lower left at level B
    CHECK(pin1.y > 0.0);
    CHECK(*turn_from_zero(soic, ZeroLevel::B) == Angle::degrees(0));
    const document::Footprint diode = test::pattern("sod-323");
    CHECK(test::pad(diode, "1").at.x < 0.0); // the cathode, left in both
    CHECK(*turn_from_zero(diode, ZeroLevel::A) == Angle::degrees(0));
    CHECK(*turn_from_zero(diode, ZeroLevel::B) == Angle::degrees(0));
}

TEST_CASE("every family lies at its zero of level A") {
    for (const Family& family : families()) {
        CAPTURE(family.key);
        const std::optional<Angle> turn = turn_from_zero(test::pattern(family.key), ZeroLevel::A);
        if (turn) CHECK(*turn == Angle::degrees(0));
    }
}

TEST_CASE("without a numbered land there is no zero") {
    document::Footprint part = test::pattern("soic-8");
    for (document::Pad& pad : part.pads)
        pad.number.clear();
    CHECK(!turn_from_zero(part, ZeroLevel::A));
    CHECK(!turn_from_zero(test::pattern("test-point-1.0"), ZeroLevel::A));
}

// EIA-481-E, figure 1 and the rule on square parts.
TEST_CASE("tape quadrants and squareness") {
    CHECK(tape_quadrant({-1, -1}) == 1);
    CHECK(tape_quadrant({1, -1}) == 2);
    CHECK(tape_quadrant({-1, 1}) == 3);
    CHECK(tape_quadrant({1, 1}) == 4);
    CHECK(is_square_in_tape(5.0, 5.3));
    CHECK(is_square_in_tape(3.3, 3.0));
    CHECK(!is_square_in_tape(5.0, 5.31));
}
