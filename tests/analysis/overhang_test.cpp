// Limits: IPC-A-610 revision F, clauses 8.3.2.1 (side overhang), 8.3.2.2 (end overhang) and 8.3.2.3 (end joint width),
// for chip components, as its ballot text gives them. The geometry is own arithmetic.

#include "analysis/overhang.hpp"

#include <doctest/doctest.h>

#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::document;

namespace {

/// 1.6 mm by 0.8 mm on lands of 0.9 mm by 0.8 mm that reach 0.3 mm past its ends, shifted by `by` on them.
Footprint chip(geometry::Vec2 by, double turn_deg = 0.0) {
    Footprint part;
    part.id = {"r1"};
    part.part_class = PartClass::Resistor;
    part.body = Body{by, Angle::degrees(turn_deg), {ShapeKind::Rectangle, 1.6, 0.8, {}}, 0.5, {}};
    for (const double x : {-0.65, 0.65}) {
        Pad pad;
        pad.number = x < 0 ? "1" : "2";
        pad.at = {x, 0};
        pad.shape = {ShapeKind::Rectangle, 0.9, 0.8, {}};
        part.pads.push_back(pad);
    }
    return part;
}

PartOverhang measured(const Footprint& part) {
    const auto answer = overhang_of(part, 0.0);
    REQUIRE(answer);
    return *answer;
}

} // namespace

TEST_CASE("a chip in the middle of its lands overhangs nowhere") {
    for (const EndOverhang& end : measured(chip({})).ends) {
        CHECK(end.side_mm == 0.0);
        CHECK(end.end_mm == 0.0);
        CHECK(end.joint_share == doctest::Approx(1.0));
        for (const ProductClass product : {ProductClass::One, ProductClass::Two, ProductClass::Three})
            CHECK(!end.is_defect(product));
    }
}

TEST_CASE("a side overhang of 40 % is acceptable in class 1 and 2 and a defect in class 3") {
    const EndOverhang end = measured(chip({0, 0.32})).ends[0]; // 0.32 of 0.8 mm
    CHECK(end.side_share == doctest::Approx(0.40));
    CHECK(!end.is_side_defect(ProductClass::One));
    CHECK(!end.is_side_defect(ProductClass::Two));
    CHECK(end.is_side_defect(ProductClass::Three));
}

TEST_CASE("a side overhang of just 25 % is acceptable in class 3 and of just 50 % in class 2") {
    CHECK(!measured(chip({0, 0.2})).ends[1].is_side_defect(ProductClass::Three));
    CHECK(measured(chip({0, 0.201})).ends[1].is_side_defect(ProductClass::Three));
    CHECK(!measured(chip({0, -0.4})).ends[1].is_side_defect(ProductClass::Two));
    CHECK(measured(chip({0, -0.401})).ends[1].is_side_defect(ProductClass::Two));
}

TEST_CASE("an end overhang is a defect in every class however small") {
    const PartOverhang just = measured(chip({0.3, 0})); // the end on the land's edge
    CHECK(!just.ends[1].is_end_defect());
    const PartOverhang over = measured(chip({0.31, 0}));
    CHECK(over.ends[1].end_mm == doctest::Approx(0.01));
    CHECK(!over.ends[0].is_end_defect());
    for (const ProductClass product : {ProductClass::One, ProductClass::Two, ProductClass::Three})
        CHECK(over.ends[1].is_defect(product));
}

TEST_CASE("an end joint of 60 % is acceptable in class 1 and 2 and a defect in class 3") {
    const EndOverhang end = measured(chip({0, 0.32})).ends[0];
    CHECK(end.joint_share == doctest::Approx(0.60));
    CHECK(!end.is_joint_defect(ProductClass::One));
    CHECK(!end.is_joint_defect(ProductClass::Two));
    CHECK(end.is_joint_defect(ProductClass::Three));
    CHECK(!measured(chip({0, 0.2})).ends[0].is_joint_defect(ProductClass::Three)); // 75 % itself
}

TEST_CASE("an end that does not reach its land has no joint") {
    const EndOverhang end = measured(chip({-0.7, 0})).ends[1]; // its end at 0.1 mm; the land begins at 0.2 mm
    CHECK(end.joint_mm == 0.0);
    CHECK(end.is_joint_defect(ProductClass::One));
}

TEST_CASE("shares are of the narrower of end and land") {
    Footprint wide = chip({0, 0.3});
    for (Pad& pad : wide.pads)
        pad.shape.height_mm = 1.2;
    CHECK(measured(wide).ends[0].width_mm == doctest::Approx(0.8));
    CHECK(measured(wide).ends[0].side_mm == doctest::Approx(0.1)); // 0.4 + 0.3 past 0.6
    Footprint narrow = chip({});
    for (Pad& pad : narrow.pads)
        pad.shape.height_mm = 0.6;
    CHECK(measured(narrow).ends[0].width_mm == doctest::Approx(0.6));
    CHECK(measured(narrow).ends[0].joint_share == doctest::Approx(1.0));
}

TEST_CASE("a skewed chip is judged by its corners") {
    // Turned by t about its middle a corner of the end lies 0.8 sin t + 0.4 cos t from the axis, and 0.4 is land.
    const double t = Angle::degrees(10).radians();
    const EndOverhang end = measured(chip({}, 10)).ends[0];
    CHECK(end.side_mm == doctest::Approx(0.8 * std::sin(t) + 0.4 * std::cos(t) - 0.4));
}

TEST_CASE("the answer is the same whichever way the whole part is drawn") {
    testing::Random random(3);
    for (int round = 0; round < 200; ++round) {
        Footprint part = chip(random.point(0.5), random.between(-20, 20));
        const PartOverhang expected = measured(part);
        const Angle turn = random.turn();
        const geometry::Affine map = geometry::Affine::translation(random.point(20)) * geometry::Affine::rotation(turn);
        for (Pad& pad : part.pads) {
            pad.at = map(pad.at);
            pad.turn = pad.turn + turn;
        }
        part.body->at = map(part.body->at);
        part.body->turn = part.body->turn + turn;
        const PartOverhang answer = measured(part);
        for (std::size_t i = 0; i < 2; ++i) {
            CHECK(answer.ends[i].side_mm == doctest::Approx(expected.ends[i].side_mm).epsilon(1e-6));
            CHECK(answer.ends[i].end_mm == doctest::Approx(expected.ends[i].end_mm).epsilon(1e-6));
            CHECK(answer.ends[i].joint_mm == doctest::Approx(expected.ends[i].joint_mm).epsilon(1e-6));
        }
    }
}

TEST_CASE("what is no chip or not on the board is not judged and what measuring cannot tell is doubtful") {
    Footprint diode = chip({});
    diode.part_class = PartClass::Diode;
    CHECK(!overhang_of(diode, 0.0));
    Footprint gone = chip({});
    gone.condition.presence = Presence::Missing;
    CHECK(!overhang_of(gone, 0.0));
    Footprint bare = chip({});
    bare.body.reset();
    CHECK(!overhang_of(bare, 0.0));
    CHECK(overhang_of(chip({0, 0.19}), 0.02)->is_doubtful);
    CHECK(!overhang_of(chip({0, 0.1}), 0.02)->is_doubtful);
    CHECK(overhang_of(chip({0.31, 0}), 0.02)->is_doubtful); // just past the land's edge, or not
    CHECK(overhang_of(chip({0.29, 0}), 0.02)->is_doubtful); // just within it, or not
    CHECK(!overhang_of(chip({0.25, 0}), 0.02)->is_doubtful);
    Chart chart;
    chart.parts.add(chip({}));
    CHECK(overhang(chart).empty());
    chart.scale = Scale{};
    CHECK(overhang(chart).size() == 1);
}
