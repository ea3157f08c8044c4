#include "analysis/check.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "document/edits.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::document;

namespace {

Footprint part(const std::string& name, geometry::Vec2 at, PartClass part_class = PartClass::Resistor) {
    Footprint part;
    part.id = id_of("p", name + std::to_string(at.x));
    part.name = name;
    part.part_class = part_class;
    part.placement.at = at;
    part.body = Body{{}, {}, {ShapeKind::Rectangle, 1.0, 0.5, {}}, 0.5, {}};
    Pad pad;
    pad.shape = {ShapeKind::Rectangle, 0.5, 0.5, {}};
    part.pads = {pad};
    part.condition.presence = Presence::Present;
    return part;
}

Chart chart_of(std::vector<Footprint> parts) {
    Chart chart;
    chart.scale = Scale{};
    chart.board.outline = geometry::Polygon{{{0, 0}, {50, 0}, {50, 50}, {0, 50}}, {}};
    for (Footprint& one : parts)
        chart.parts.add(std::move(one));
    return chart;
}

HeatPlan plan_at(geometry::Vec2 aim, const Id& target) {
    HeatPlan plan;
    plan.id = {"plan"};
    plan.aim = aim;
    plan.target = target;
    return plan;
}

FitReport risky(const Chart& chart, std::initializer_list<std::size_t> which) {
    FitReport report;
    report.has_scale = true;
    for (const std::size_t i : which) {
        PartFit fit;
        fit.part = chart.parts[i].id;
        fit.risky_turns = {90, 180, 270};
        fit.needs_record = true;
        report.parts.push_back(fit);
    }
    return report;
}

const Diagnostic* find(const Diagnostics& findings, std::string_view code) {
    const auto at = std::find_if(findings.begin(), findings.end(), [&](const Diagnostic& d) { return d.code == code; });
    return at == findings.end() ? nullptr : &*at;
}

} // namespace

TEST_SUITE("check") {
    TEST_CASE("a clean chart has nothing to say") {
        const Chart chart = chart_of({part("R1", {5, 5})});
        CHECK(check(chart, {}, {}).empty());
    }

    TEST_CASE("a scale that another way of telling it speaks against is a finding for as long as both are on record") {
        Chart chart = chart_of({part("R1", {5, 5})});
        chart.scale = Scale{1.0, ScaleSource::TwoPoints, 0.01, "points", {}};
        chart.scale->overruled = {{1.3, ScaleSource::DocumentUnits, 0.01, "page", {}}};
        const Diagnostics findings = check(chart, {}, {});
        REQUIRE(findings.size() == 1);
        CHECK(findings[0].code == "scale-disagrees");
        CHECK(findings[0].severity == Severity::Warning);
    }

    TEST_CASE("millimetres drawn over a photo that lies anywhere are doubted and those on a bare grid are not") {
        Chart chart = chart_of({part("R1", {5, 5})});
        chart.scale = Scale{1.0, ScaleSource::Drawn, 0.0, "drawn by hand in mm", {}};
        CHECK(check(chart, {}, {}).empty());
        Photo photo;
        photo.id = Id{"ph"};
        photo.path = "top.jpg";
        const Diagnostics findings = check(put(chart, photo).value(), {}, {});
        REQUIRE(findings.size() == 1);
        CHECK(findings[0].code == "scale-over-photo");
        CHECK(findings[0].message.find("top.jpg") != std::string::npos);
        photo.board_from_pixel = {0.1, 0, 0, 0, 0.1, 0, 0, 0, 1};
        CHECK(check(put(chart, photo).value(), {}, {}).empty());
    }

    TEST_CASE("a photo that lies far from where its points say is a warning") {
        Chart chart = chart_of({part("R1", {5, 5})});
        Photo photo;
        photo.id = Id{"ph"};
        photo.path = "top.jpg";
        photo.board_from_pixel = {0.1, 0, 0, 0, 0.1, 0, 0, 0, 1};
        photo.points = {{{0, 0}, {0, 0}, {}}, {{300, 0}, {30, 0}, {}}, {{0, 200}, {9, 20}, {}}};
        const Diagnostics findings = check(put(chart, photo).value(), {}, {});
        REQUIRE_FALSE(findings.empty());
        CHECK(findings[0].code == "photo-off");
        CHECK(findings[0].severity == Severity::Warning);
        CHECK(findings[0].message.find("top.jpg: the points lie up to 9.00 mm off") == 0);
        photo.points[2].at = {0, 20};
        CHECK(check(put(chart, photo).value(), {}, {}).empty());
    }

    TEST_CASE("a record that rests on a photo off which nothing may be read is a warning that names its part") {
        Footprint chip = part("R1", {5, 5});
        chip.orientation.state = RecordState::Recorded;
        chip.orientation.evidence.photo = Id{"ph"};
        Photo photo;
        photo.id = Id{"ph"};
        photo.path = "top.jpg";
        photo.board_from_pixel = {0.1, 0, 0, 0, 0.1, 0, 0, 0, 1};
        photo.points = {{{0, 0}, {0, 0}, {}}, {{300, 0}, {30, 0}, {}}, {{0, 200}, {9, 20}, {}}};
        const auto of_record = [](const Diagnostics& findings) {
            Diagnostics own;
            for (const Diagnostic& finding : findings)
                if (finding.code == "record-on-doubtful-photo") own.push_back(finding);
            return own;
        };
        const Diagnostics told = of_record(check(put(chart_of({chip, part("R2", {9, 5})}), photo).value(), {}, {}));
        REQUIRE(told.size() == 1);
        CHECK(told[0].severity == Severity::Warning);
        CHECK(told[0].target == chip.id.text);
        CHECK(told[0].message.find("R1 sits rests on top.jpg") != std::string::npos);
        photo.points[2].at = {0, 20};
        CHECK(of_record(check(put(chart_of({chip}), photo).value(), {}, {})).empty());
        photo.board_from_pixel.clear(); // a close look that lies nowhere claims no place
        photo.points.clear();
        CHECK(of_record(check(put(chart_of({chip}), photo).value(), {}, {})).empty());
    }

    TEST_CASE("a chart without a scale is told how to get one") {
        Chart chart = chart_of({});
        chart.scale.reset();
        const Diagnostics findings = check(chart, {}, {});
        REQUIRE_FALSE(findings.empty());
        CHECK(findings.front().code == "no-scale");
        CHECK(findings.front().severity == Severity::Fault);
    }

    TEST_CASE("a cell on the board comes before everything else") {
        const Chart chart =
            chart_of({part("R1", {5, 5}), part("R1", {9, 5}), part("BT1", {20, 20}, PartClass::CellHolder)});
        const Diagnostics findings = check(chart, {}, {});
        REQUIRE(findings.size() >= 2);
        CHECK(findings[0].code == "cell-on-board");
        CHECK(findings[1].code == "name-twice");
    }

    TEST_CASE("a removed cell is no hazard any more") {
        Chart chart = chart_of({part("BT1", {20, 20}, PartClass::CellHolder)});
        Footprint gone = chart.parts[0];
        gone.condition.presence = Presence::Removed;
        chart.parts.replace(0, gone);
        CHECK(find(check(chart, {}, {}), "cell-on-board") == nullptr);
    }

    TEST_CASE("a holder whose own plastic is stated has been emptied") {
        Chart chart = chart_of({part("BT1", {20, 20}, PartClass::CellHolder)});
        Footprint emptied = chart.parts[0];
        emptied.heat = HeatSensitivity{};
        emptied.heat->material = "coin-cell";
        chart.parts.replace(0, emptied);
        CHECK(find(check(chart, {}, {}), "cell-on-board") != nullptr);
        emptied.heat->material = "pa9t";
        chart.parts.replace(0, emptied);
        CHECK(find(check(chart, {}, {}), "cell-on-board") == nullptr);
    }

    TEST_CASE("unrecorded parts in the heat area come before those outside it") {
        Chart chart = chart_of({part("FAR", {45, 45}), part("NEAR", {10, 10})});
        chart.heat_plans.add(plan_at({10, 11}, chart.parts[1].id));
        const Diagnostics findings = check(chart, {}, risky(chart, {0, 1}));
        std::vector<std::string> order;
        for (const Diagnostic& finding : findings)
            if (finding.code == "orientation-not-recorded") order.push_back(finding.message);
        REQUIRE(order.size() == 2);
        CHECK(order[0] == "NEAR also seats turned by 90, 180 and 270 degrees and its right way round is not on record. "
                          "Record it before heat.");
        CHECK(order[1].rfind("FAR ", 0) == 0);
    }

    TEST_CASE("a recorded part is left in peace") {
        const Chart chart = chart_of({part("U1", {10, 10})});
        FitReport report = risky(chart, {0});
        report.parts[0].has_record = true;
        CHECK(find(check(chart, {}, report), "orientation-not-recorded") == nullptr);
    }

    TEST_CASE("the same name on both sides is no clash") {
        Footprint below = part("C1", {9, 5});
        below.placement.side = Side::Bottom;
        const Chart chart = chart_of({part("C1", {5, 5}), below});
        CHECK(find(check(chart, {}, {}), "name-twice") == nullptr);
    }

    TEST_CASE("each fault of a part is told on its own") {
        Footprint broken = part("Q1", {5, 5});
        broken.part_class = PartClass::Transistor;
        broken.condition.joint = JointState::Bridged;
        broken.condition.land = LandState::Lifted;
        const Diagnostics findings = check(chart_of({broken}), {}, {});
        REQUIRE(findings.size() == 2);
        CHECK(findings[0].message == "Q1: joint bridged.");
        CHECK(findings[1].message == "Q1: land lifted.");
    }

    TEST_CASE("a missing part that is decided not to be needed is no warning any more") {
        Footprint gone = part("C14", {5, 5});
        gone.part_class = PartClass::CeramicCapacitor;
        gone.condition.presence = Presence::Missing;
        CHECK(find(check(chart_of({gone}), {}, {}), "part-missing") != nullptr);
        gone.condition.not_needed_because = "one of four in parallel";
        const Diagnostics findings = check(chart_of({gone}), {}, {});
        CHECK(find(findings, "part-missing") == nullptr);
        REQUIRE(find(findings, "not-needed") != nullptr);
        CHECK(find(findings, "not-needed")->severity == Severity::Note);
        CHECK(find(findings, "not-needed")->message ==
              "C14 is missing; decided: not needed for function (one of four in parallel).");
    }

    TEST_CASE("a lifted land is told with its pad") {
        Footprint hurt = part("Q1", {5, 5});
        hurt.part_class = PartClass::Transistor;
        hurt.pads[0].number = "3";
        hurt.pads[0].land = LandState::Lifted;
        const Diagnostics findings = check(chart_of({hurt}), {}, {});
        REQUIRE(find(findings, "land-lifted") != nullptr);
        CHECK(find(findings, "land-lifted")->message == "Q1, pad 3: land lifted.");
    }

    TEST_CASE("copper drawn twice is told with the part and how many of its pads lie on others") {
        Footprint array = part("RA1", {10, 10});
        array.pads.clear();
        for (const double x : {-1.0, 1.0, 1.0}) {
            Pad pad;
            pad.shape = {ShapeKind::Rectangle, 0.5, 0.5, {}};
            pad.at = {x, 0};
            array.pads.push_back(pad);
        }
        const Chart chart = chart_of({array, part("R2", {20, 10})});
        const Diagnostics findings = check(chart, {}, fit(chart));
        const Diagnostic* told = find(findings, "pads-on-each-other");
        REQUIRE(told != nullptr);
        CHECK(told->message.find("RA1: 1 of its pads lie") != std::string::npos);
        const Chart apart = chart_of({part("R2", {20, 10})});
        CHECK(find(check(apart, {}, fit(apart)), "pads-on-each-other") == nullptr);
    }

    TEST_CASE("names and values that do not fit are notes of the check") {
        Footprint odd = part("C3", {5, 5}); // said to be a resistor
        odd.value = "10kk";
        const Diagnostics findings = check(chart_of({odd}), {}, {});
        CHECK(find(findings, "name-against-class") != nullptr);
        CHECK(find(findings, "value-not-read") != nullptr);
    }

    TEST_CASE("a stated pad count that differs from the drawing is a warning") {
        Footprint drawn = part("U7", {5, 5});
        drawn.part_class = PartClass::IntegratedCircuit;
        drawn.stated_pad_count = 6;
        const Diagnostics findings = check(chart_of({drawn}), {}, {});
        REQUIRE(findings.size() == 1);
        CHECK(findings[0].message == "U7 is said to have 6 pads, 1 are drawn.");
    }

    TEST_CASE("the heat area is twice the free jet at the board") {
        // d 5 mm, h 10 mm: 2.5 + 10 tan 11.8 = 4.589 mm, own arithmetic; twice that.
        HeatPlan plan;
        plan.nozzle_bore_mm = 5;
        plan.stand_off_mm = 10;
        CHECK(heat_area_radius(plan) == doctest::Approx(2 * 4.5892).epsilon(1e-4));
    }
}
