#include "document/edits.hpp"

#include <cmath>

#include <doctest/doctest.h>

#include <limits>

using namespace padchart;
using namespace padchart::document;

namespace {

Footprint chip(const std::string& id, geometry::Vec2 at, Side side = Side::Top) {
    Footprint part;
    part.id = {id};
    part.name = id;
    part.placement = {at, Angle::degrees(0), side};
    for (const double x : {-0.45, 0.45}) {
        Pad pad;
        pad.at = {x, 0};
        pad.shape = {ShapeKind::Rectangle, 0.5, 0.5, {}};
        part.pads.push_back(pad);
    }
    part.body = Body{{}, {}, {ShapeKind::Rectangle, 1.0, 0.5, {}}, 0.5, {}};
    return part;
}

Chart two_chips() {
    Chart chart;
    chart.parts.add(chip("a", {1, 2}));
    chart.parts.add(chip("b", {5, 2}, Side::Bottom));
    return chart;
}

const std::vector<Id> kBoth{{"a"}, {"b"}};

} // namespace

TEST_SUITE("edits") {
    TEST_CASE("an edit leaves the chart it was given as it was") {
        const Chart before = two_chips();
        const Chart copy = before;
        const Result<Chart> after = move_parts(before, kBoth, {1, 1});
        REQUIRE(after);
        CHECK(before == copy);
        CHECK_FALSE(*after == before);
        CHECK(after->parts[0].placement.at == geometry::Vec2{2, 3});
    }

    TEST_CASE("an edit of one part shares every other part with the chart before") {
        const Chart before = two_chips();
        const Result<Chart> after = rename_part(before, {"a"}, "R1");
        REQUIRE(after);
        CHECK(after->parts.pointer(1) == before.parts.pointer(1));
        CHECK(after->parts.pointer(0) != before.parts.pointer(0));
    }

    TEST_CASE("an id stays when the part is renamed") {
        const Result<Chart> after = rename_part(two_chips(), {"a"}, "R1");
        REQUIRE(after);
        CHECK(after->parts[0].id == Id{"a"});
        CHECK(find_part_named(*after, "R1") == 0u);
    }

    TEST_CASE("a part placed with more than a whole turn has the same direction within one") {
        for (const auto& [typed, kept] : {std::pair{725.0, 5.0}, {-400.5, 319.5}, {360.0, 0.0}, {90.0, 90.0}}) {
            const Result<Chart> after =
                place_part(two_chips(), {"a"}, Placement{{1, 2}, Angle::degrees(typed), Side::Top});
            REQUIRE(after);
            CHECK(after->parts[0].placement.turn.degrees() == doctest::Approx(kept));
        }
    }

    TEST_CASE("a quarter turn about a point brings the place round it counter-clockwise as seen") {
        // y runs down: seen from the top, a quarter turn counter-clockwise brings what lies right of the centre above
        // it.
        const Result<Chart> after =
            turn_parts(two_chips(), std::vector<Id>{{"b"}}, Angle::degrees(90), {1, 2}, Side::Top);
        REQUIRE(after);
        CHECK(after->parts[1].placement.at == geometry::Vec2{1, -2});
        // The part sits on the bottom, so seen from its own side the same turn runs clockwise.
        CHECK(after->parts[1].placement.turn == Angle::degrees(270));
    }

    TEST_CASE("a turn seen from the bottom is the opposite one seen from the top") {
        const std::vector<Id> one{{"b"}};
        const Result<Chart> seen_below = turn_parts(two_chips(), one, Angle::degrees(30), {1, 2}, Side::Bottom);
        const Result<Chart> seen_above = turn_parts(two_chips(), one, Angle::degrees(-30), {1, 2}, Side::Top);
        REQUIRE(seen_below);
        REQUIRE(seen_above);
        CHECK(*seen_below == *seen_above);
    }

    TEST_CASE("four quarter turns bring every part back to the very place") {
        Chart chart = two_chips();
        for (int i = 0; i < 4; ++i) {
            Result<Chart> next = turn_parts(chart, kBoth, Angle::degrees(90), {3.7, 1.1}, Side::Top);
            REQUIRE(next);
            chart = *next;
        }
        for (std::size_t i = 0; i < 2; ++i) {
            CHECK(chart.parts[i].placement.at.x == doctest::Approx(two_chips().parts[i].placement.at.x).epsilon(1e-12));
            CHECK(chart.parts[i].placement.at.y == doctest::Approx(two_chips().parts[i].placement.at.y).epsilon(1e-12));
            CHECK(chart.parts[i].placement.turn == Angle::degrees(0));
        }
    }

    TEST_CASE("a part laid over to the other side keeps its place and is mirrored on the board") {
        Footprint part = chip("c", {4, 4});
        part.pads[1].at = {0.6, 0.1};
        Chart chart;
        chart.parts.add(part);
        const Result<Chart> after = change_side(chart, std::vector<Id>{{"c"}});
        REQUIRE(after);
        const geometry::Affine map = board_from_part(after->parts[0].placement);
        CHECK(map.mirrors());
        CHECK(map({0.6, 0.1}) == geometry::Vec2{4 - 0.6, 4.1});
    }

    TEST_CASE("an edit of what is not there says so") {
        const Result<Chart> after = move_parts(two_chips(), std::vector<Id>{{"nobody"}}, {1, 0});
        REQUIRE_FALSE(after);
        CHECK(after.error().message == "nothing in this chart bears the id \"nobody\"");
    }

    TEST_CASE("a part cannot take an id that is taken or malformed") {
        CHECK(add_part(two_chips(), chip("a", {})).error().message == "the id \"a\" is taken");
        CHECK(add_part(two_chips(), chip("Not An Id", {})).error().message ==
              "the id \"Not An Id\" is not one; right would be 1 to 64 of a-z, 0-9, - and _");
    }

    TEST_CASE("a pad without size or a place that is no number is refused") {
        Footprint part = chip("c", {});
        part.pads[1].shape.width_mm = 0.0;
        CHECK(add_part(two_chips(), part).error().message ==
              "pad #2's width and height must be above 0 and at most 10,000 mm");
        part = chip("c", {std::numeric_limits<double>::quiet_NaN(), 0});
        CHECK(add_part(two_chips(), part).error().message == "the part is not at a place within 10,000 mm");
    }

    TEST_CASE("a limit below the warning temperature is refused") {
        HeatSensitivity heat;
        heat.warn_c = 240;
        heat.limit_c = 200;
        CHECK(set_heat_sensitivity(two_chips(), {"a"}, heat).error().message ==
              "the limit lies below the warning temperature; right would be at or above it");
    }

    TEST_CASE("readings and notes outlive the part they spoke of") {
        Chart chart = two_chips();
        Reading reading;
        reading.id = {"r"};
        reading.target = {"a"};
        reading.value = SpecialValue::OverLimit;
        chart.readings.add(reading);
        HeatPlan plan;
        plan.id = {"h"};
        plan.target = {"a"};
        chart.heat_plans.add(plan);
        const Result<Chart> after = remove_parts(chart, std::vector<Id>{{"a"}});
        REQUIRE(after);
        REQUIRE(after->readings.size() == 1);
        CHECK(after->readings[0].target.is_empty());
        CHECK(after->heat_plans.empty());
    }

    TEST_CASE("a harmless turn list always holds zero and is sorted") {
        const Result<Chart> after = set_harmless_turns(two_chips(), {"a"}, {270, -180, 540});
        REQUIRE(after);
        CHECK(after->parts[0].harmless_turns_deg == std::vector<double>{0, 180, 270});
    }

    TEST_CASE("another scale moves what was drawn and leaves what was measured") {
        Scale scale;
        scale.mm_per_unit = 2;
        const Result<Chart> after = rescale(two_chips(), 2.0, scale);
        REQUIRE(after);
        CHECK(after->parts[0].placement.at == geometry::Vec2{2, 4});
        CHECK(after->parts[0].pads[0].shape.width_mm == 1.0);
        CHECK(after->parts[0].body->height_mm == 0.5);
    }

    TEST_CASE("another scale writes no more digits than a millionth of a millimetre, and a wrong one loses no shape") {
        const Chart before = two_chips();
        Scale scale;
        const Result<Chart> third = rescale(before, 100.0 / 3.0, scale);
        REQUIRE(third);
        const auto is_short = [](double v) { return std::round(v * 1e6) / 1e6 == v; };
        for (const Footprint& part : third->parts) {
            CHECK(is_short(part.placement.at.x));
            CHECK(is_short(part.placement.at.y));
            for (const Pad& pad : part.pads) {
                CHECK(is_short(pad.at.x));
                CHECK(is_short(pad.shape.width_mm));
            }
        }
        const Result<Chart> tiny = rescale(before, 1e-6, scale);
        REQUIRE(tiny);
        const Result<Chart> back = rescale(*tiny, 1e6, scale);
        REQUIRE(back);
        for (std::size_t i = 0; i < before.parts.size(); ++i) {
            CHECK(back->parts[i].placement.at.x == doctest::Approx(before.parts[i].placement.at.x).epsilon(1e-5));
            for (std::size_t p = 0; p < before.parts[i].pads.size(); ++p)
                CHECK(back->parts[i].pads[p].shape.width_mm ==
                      doctest::Approx(before.parts[i].pads[p].shape.width_mm).epsilon(1e-5));
        }
    }

    TEST_CASE("put adds what is new and replaces what bears the id") {
        Note note;
        note.id = {"n"};
        note.text = "first";
        Result<Chart> chart = put(two_chips(), note);
        REQUIRE(chart);
        note.text = "second";
        chart = put(*chart, note);
        REQUIRE(chart);
        REQUIRE(chart->notes.size() == 1);
        CHECK(chart->notes[0].text == "second");
    }
}
