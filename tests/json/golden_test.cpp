// The written form itself: a change of it shows here first, and in every user's version control next.

#include <doctest/doctest.h>

#include "json/chart_file.hpp"
#include "json/golden.hpp"

using namespace padchart;
using namespace padchart::document;
using json::golden_text;

namespace {

Chart golden_chart() {
    const Result<Chart> chart = json::read_chart(golden_text());
    REQUIRE_MESSAGE(chart.has_value(), (chart ? "" : describe(chart.error())));
    return *chart;
}

} // namespace

TEST_CASE("the chart with every key is written as it lies in the file") {
    CHECK(json::write_chart(golden_chart()) == golden_text());
}

TEST_CASE("values of the chart with every key arrive where they belong") {
    const Chart chart = golden_chart();
    CHECK(chart.title.not_mapped == "everything right of the aerial");
    CHECK(chart.scale->mm_per_unit == 25.4 / 96.0);
    CHECK(chart.board.outline->holes.size() == 1);
    CHECK(chart.board.stack.layers == 4);
    CHECK(chart.rules.nozzle_margin_mm == 1.5);
    const Footprint& part = chart.parts[0];
    CHECK(part.placement == Placement{{12.5, 8.25}, Angle::degrees(90), Side::Top});
    CHECK(part.pads[1].shape == Shape{ShapeKind::Oblong, 0.6, 1.1, {}});
    CHECK(part.pads[2].shape == Shape{ShapeKind::Round, 0.6, 0.6, {}});
    CHECK(part.pads[3].shape == Shape{ShapeKind::Polygon, 0.0, 0.0, {{-0.3, -0.5}, {0.3, -0.5}, {0, 0.5}}});
    CHECK(part.body->height_mm == 1.1);
    CHECK(part.body->shape.height_mm == 1.6);
    CHECK(part.orientation.bearing == Angle::degrees(225));
    CHECK(part.orientation.evidence.by == "M. Tarn");
    CHECK(part.heat->limit_c == 245.5);
    CHECK(part.condition.joint == JointState::Cold);
    CHECK(part.comment == "was reworked once \u2014 \"flux\" all round");
    CHECK(chart.keep_outs[0].through_board);
    CHECK(chart.keep_outs[0].height_mm == 3.2);
    CHECK(chart.shields[0].kind == ShieldKind::AluminiumTape);
    CHECK(chart.notes[0].target == Id{"u4"});
    CHECK(std::get<SpecialValue>(chart.readings[0].value) == SpecialValue::OverLimit);
    CHECK(std::get<double>(chart.readings[1].value) == 3.287);
    CHECK(chart.readings[1].reference == "GND");
    CHECK(chart.heat_plans[0].shields == std::vector<Id>{Id{"sh-1"}});
    CHECK(chart.photos[0].board_from_pixel[2] == 1.5);
    CHECK(chart.photos[0].board == WhichBoard::Donor);
    CHECK(chart.photos[0].points[1].pixel == geometry::Vec2{250, 100.5});
    REQUIRE(chart.scale->overruled.size() == 1);
    CHECK(chart.scale->overruled[0].source == ScaleSource::DocumentUnits);
}

TEST_CASE("a part of which nobody said anything is unknown and unchecked throughout") {
    const Footprint part = golden_chart().parts[1];
    Footprint expected;
    expected.id = Id{"c9"};
    expected.name = "C9";
    expected.placement = {{20, 8}, {}, Side::Bottom};
    CHECK(part == expected);
}

TEST_CASE("keys nobody knows are kept with their digits and their order at every level") {
    const Chart chart = golden_chart();
    const Footprint& part = chart.parts[0];
    CHECK(chart.extras == Extras{{"kept_by", "\"shelf B\""}});
    CHECK(chart.scale->extras == Extras{{"callipers", "{\"last_checked\": \"2026-01-12\"}"}});
    CHECK(part.extras ==
          Extras{{"tidied", "[0.048, 17.25]"}, {"drawer", "7"}}); // the first one is known to tidying alone
    CHECK(part.pads[3].extras == Extras{{"paste", "[0.1, \"thin\"]"}});
    CHECK(part.body->extras == Extras{{"print", "\"KX41\""}});
    CHECK(part.orientation.evidence.extras == Extras{{"loupe", "20"}});
    CHECK(part.condition.extras == Extras{{"seen_twice", "false"}});
}

TEST_CASE("keys may stand in any order") {
    const std::string text =
        R"({"parts": [{"at_mm": [1, 2], "name": "R1", "id": "r1"}], "version": 1, "format": "padchart"})";
    const Result<Chart> chart = json::read_chart(text);
    REQUIRE(chart);
    CHECK(chart->parts[0].name == "R1");
}

TEST_CASE("whole numbers may be written with a point") {
    const Result<Chart> chart =
        json::read_chart(R"({"format": "padchart", "version": 1.0, "board": {"stack": {"layers": 4.0}}})");
    REQUIRE(chart);
    CHECK(chart->board.stack.layers == 4);
}

TEST_CASE("a byte order mark before the text is no fault") {
    CHECK(json::read_chart("\xEF\xBB\xBF" + golden_text()).has_value());
}

TEST_CASE("minus zero becomes zero") {
    const Result<Chart> chart =
        json::read_chart(json::replaced(golden_text(), "\"at_mm\": [0, 1.3]", "\"at_mm\": [-0.0, 1.3]"));
    REQUIRE(chart);
    CHECK(json::write_chart(*chart) == golden_text());
}
