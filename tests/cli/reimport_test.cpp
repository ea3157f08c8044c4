// A corrected trace goes into the demo chart: geometry follows, everything that was said stays. Invented board.
#include "svg/reimport.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>

#include "cli/run_support.hpp"
#include "document/edits.hpp"
#include "svg/drawing.hpp"
#include "svg/trace_to_chart.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using document::Chart;
using document::Footprint;
using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::demo_chart_path;
using padchart::tests::TemporaryFolder;

namespace {

std::string demo_trace() {
    std::ifstream in(padchart::tests::demo_trace_path(), std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

Chart demo_chart() {
    auto chart = json::load_chart(demo_chart_path());
    REQUIRE(chart);
    return *chart;
}

Chart traced(const std::string& text) {
    const auto drawing = svg::read(text);
    REQUIRE(drawing);
    auto result = svg::chart_from_trace(*drawing);
    REQUIRE(result);
    return result->chart;
}

void replace_once(std::string& text, std::string_view from, std::string_view to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
}

/// Takes out `<g id="NAME"` to its closing tag; the demo's part groups hold no groups.
void remove_group(std::string& text, const std::string& name) {
    const std::size_t from = text.find("<g id=\"" + name + "\"");
    REQUIRE(from != std::string::npos);
    const std::size_t to = text.find("</g>", from);
    text.erase(from, to + 4 - from);
}

const Footprint& part(const Chart& chart, std::string_view name) {
    const auto at = document::find_part_named(chart, name);
    REQUIRE(at);
    return chart.parts[*at];
}

/// Everything a technician says, without what is drawn.
void check_same_words(const Footprint& before, const Footprint& after) {
    CAPTURE(before.name);
    CHECK(after.id == before.id);
    CHECK(after.name == before.name);
    CHECK(after.value == before.value);
    CHECK(after.role == before.role);
    CHECK(after.part_class == before.part_class);
    CHECK(after.family == before.family);
    CHECK(after.family_parameters == before.family_parameters);
    CHECK(after.stated_pad_count == before.stated_pad_count);
    CHECK(after.orientation == before.orientation);
    CHECK(after.harmless_turns_deg == before.harmless_turns_deg);
    CHECK(after.heat == before.heat);
    CHECK(after.condition == before.condition);
    CHECK(after.locked == before.locked);
    CHECK(after.comment == before.comment);
    CHECK(after.extras == before.extras);
    if (before.body && after.body) CHECK(after.body->height_mm == before.body->height_mm);
    REQUIRE(after.pads.size() == before.pads.size());
    for (std::size_t i = 0; i < before.pads.size(); ++i) {
        CHECK(after.pads[i].number == before.pads[i].number);
        CHECK(after.pads[i].land == before.pads[i].land);
        CHECK(after.pads[i].joint == before.pads[i].joint);
    }
}

bool has(const Diagnostics& findings, std::string_view code, const document::Id& target = {}) {
    return std::any_of(findings.begin(), findings.end(), [&](const Diagnostic& finding) {
        return finding.code == code && (target.is_empty() || finding.target == target.text);
    });
}

} // namespace

TEST_CASE("the same trace again changes nothing in the demo chart") {
    const Chart before = demo_chart();
    const auto result = svg::reimport(before, traced(demo_trace()));
    REQUIRE(result);
    CHECK(result->added.empty());
    CHECK(result->left.empty());
    CHECK(result->kept.empty());
    CHECK(result->parts.size() == before.parts.size());
    CHECK(json::write_chart(result->chart) == json::write_chart(before));
}

TEST_CASE("bringing in a corrected trace that is told to stop gives no half of a chart") {
    std::stop_source stop;
    stop.request_stop();
    const auto result = svg::reimport(demo_chart(), traced(demo_trace()), stop.get_token());
    REQUIRE_FALSE(result);
    CHECK(result.error().message == "called off");
}

TEST_CASE("a corrected trace moves what moved and keeps every word of the demo chart") {
    const Chart before = demo_chart();
    std::string text = demo_trace();
    replace_once(text, "<g id=\"U1\" transform=\"translate(10.5 8)\">",
                 "<g id=\"U1\" transform=\"translate(10.7 8.1)\">");
    // C2 was misread: it is C42, at the same place.
    replace_once(text, "<g id=\"C2\" transform", "<g id=\"C42\" transform");
    replace_once(text, "C2: input capacitor", "C42: input capacitor");
    remove_group(text, "R1");
    const auto result = svg::reimport(before, traced(text));
    REQUIRE(result);
    const Chart& after = result->chart;
    REQUIRE(after.parts.size() == before.parts.size());
    for (std::size_t i = 0; i < before.parts.size(); ++i) {
        Footprint expected = before.parts[i];
        if (expected.name == "C2") expected.name = "C42";
        check_same_words(expected, after.parts[i]);
    }
    const auto moved = part(after, "U1").placement.at - part(before, "U1").placement.at;
    CHECK(moved.x == doctest::Approx(0.2));
    CHECK(moved.y == doctest::Approx(0.1));
    CHECK(has(result->findings, "found-by-place", part(before, "C2").id));
    CHECK(has(result->findings, "name-follows-trace", part(before, "C2").id));
    CHECK(has(result->findings, "gone-from-trace", part(before, "R1").id));
    CHECK(part(after, "R1") == part(before, "R1"));
    CHECK(after.title == before.title);
    CHECK(after.rules == before.rules);
    CHECK(after.readings.size() == before.readings.size());
    CHECK(after.heat_plans.size() == before.heat_plans.size());
    for (std::size_t i = 0; i < before.readings.size(); ++i) {
        document::Reading expected = before.readings[i];
        if (expected.target == part(before, "U1").id) expected.at += geometry::Vec2{0.2, 0.1};
        CHECK(after.readings[i].at.x == doctest::Approx(expected.at.x));
        CHECK(after.readings[i].at.y == doctest::Approx(expected.at.y));
        expected.at = after.readings[i].at;
        CHECK(after.readings[i] == expected);
    }
    for (std::size_t i = 0; i < before.keep_outs.size(); ++i)
        CHECK(after.keep_outs[i] == before.keep_outs[i]);
}

TEST_CASE("a mark drawn anew does not overwrite the record") {
    Chart before = demo_chart();
    document::Orientation record = part(before, "U1").orientation;
    record.state = document::RecordState::Recorded;
    record.bearing = Angle::degrees(135.0);
    record.meaning = document::Meaning::Pin1;
    record.evidence = {document::EvidenceKind::SeenHere, "under the lens", "bench 1", "2026-03-14"};
    auto said = document::set_orientation(before, part(before, "U1").id, record);
    REQUIRE(said);
    std::string text = demo_trace();
    replace_once(text, "cx=\"-1.504\" cy=\"-1.496\"", "cx=\"1.504\" cy=\"1.496\"");
    const auto result = svg::reimport(*said, traced(text));
    REQUIRE(result);
    CHECK(part(result->chart, "U1").orientation == record);
    CHECK(has(result->findings, "mark-kept", part(before, "U1").id));
}

TEST_CASE("a mark that only the trace told follows the corrected trace") {
    const std::string text = demo_trace();
    std::string corrected = text;
    replace_once(corrected, "cx=\"-1.504\" cy=\"-1.496\"", "cx=\"1.504\" cy=\"1.496\"");
    const auto result = svg::reimport(traced(text), traced(corrected));
    REQUIRE(result);
    // Lower right of a page with y down is 315 degrees counter-clockwise from the right; the drawing is off by a hair.
    CHECK(part(result->chart, "U1").orientation.bearing.degrees() == doctest::Approx(315.0).epsilon(0.002));
    CHECK(has(result->findings, "mark-follows-trace"));
}

TEST_CASE("a part nobody spoke of leaves with the trace and one that was named stays") {
    const char* const kTwo = R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10">
<g id="body"><rect id="R1" x="2" y="2" width="1" height=".5"/><rect id="R2" x="6" y="2" width="1" height=".5"/>
<rect id="R3" x="10" y="2" width="1" height=".5"/></g></svg>)";
    const char* const kOne = R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10">
<g id="body"><rect id="R1" x="2" y="2" width="1" height=".5"/><rect id="R9" x="15" y="8" width="1" height=".5"/></g>
</svg>)";
    Chart before = traced(kTwo);
    auto said = document::set_value(before, part(before, "R3").id, "10k");
    REQUIRE(said);
    const auto result = svg::reimport(*said, traced(kOne));
    REQUIRE(result);
    CHECK_FALSE(document::find_part_named(result->chart, "R2"));
    CHECK(part(result->chart, "R3") == part(*said, "R3"));
    CHECK(result->left == std::vector<std::string>{"R2"});
    REQUIRE(result->kept.size() == 1);
    REQUIRE(result->added.size() == 1);
    CHECK(result->added[0] == part(result->chart, "R9").id);
}

TEST_CASE("shapes without names keep their words when another shape is drawn before them") {
    const auto drawing = [](const std::string& bodies) {
        return traced("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\" viewBox=\"0 0 20 10\">"
                      "<g id=\"body\">" +
                      bodies + "</g></svg>");
    };
    const std::string a = "<rect x=\"2\" y=\"2\" width=\"1\" height=\".5\"/>";
    const std::string b = "<rect x=\"6\" y=\"2\" width=\"1\" height=\".5\"/>";
    const std::string c = "<rect x=\"10\" y=\"2\" width=\"1\" height=\".5\"/>";
    Chart before = drawing(b + c);
    before = *document::set_value(before, before.parts[0].id, "b");
    before = *document::set_value(before, before.parts[1].id, "c");
    const auto result = svg::reimport(before, drawing(a + b + c));
    REQUIRE(result);
    REQUIRE(result->chart.parts.size() == 3);
    CHECK(result->chart.parts[0].value == "b");
    CHECK(result->chart.parts[0].placement.at.x == doctest::Approx(6.5));
    CHECK(result->chart.parts[1].value == "c");
    CHECK(result->chart.parts[1].placement.at.x == doctest::Approx(10.5));
    CHECK(result->chart.parts[2].value.empty());
    // And the answer's own trace keys find everything the next time.
    const auto again = svg::reimport(result->chart, drawing(a + b + c));
    REQUIRE(again);
    CHECK(again->chart == result->chart);
}

TEST_CASE("exchanged names and a locked part are told") {
    const Chart before = demo_chart();
    std::string text = demo_trace();
    replace_once(text, "<g id=\"C3\"", "<g id=\"C999\"");
    replace_once(text, "<g id=\"C4\"", "<g id=\"C3\"");
    replace_once(text, "<g id=\"C999\"", "<g id=\"C4\"");
    replace_once(text, "<title>C3:", "<title>");
    replace_once(text, "<title>C4:", "<title>");
    auto locked = document::set_locked(before, std::vector{part(before, "U1").id}, true);
    REQUIRE(locked);
    replace_once(text, "translate(10.5 8)", "translate(11.5 8)");
    const auto result = svg::reimport(*locked, traced(text));
    REQUIRE(result);
    CHECK(has(result->findings, "places-exchanged"));
    CHECK(has(result->findings, "locked-kept", part(before, "U1").id));
    CHECK(part(result->chart, "U1").placement == part(before, "U1").placement);
}

TEST_CASE("pads with a state or a reading stay when the trace loses them") {
    Chart before = demo_chart();
    auto said = document::set_pad_state(before, part(before, "U1").id, 0, document::LandState::Lifted,
                                        document::JointState::NotChecked);
    REQUIRE(said);
    std::string text = demo_trace();
    const auto drop = [&](std::string_view id) {
        const std::size_t at = text.find("<rect id=\"" + std::string(id) + "\"");
        REQUIRE(at != std::string::npos);
        text.erase(at, text.find("/>", at) + 2 - at);
    };
    drop("U1-1");
    drop("U1-8");
    const auto result = svg::reimport(*said, traced(text));
    REQUIRE(result);
    const Footprint& after = part(result->chart, "U1");
    const auto has_pad = [&](std::string_view number) {
        return std::any_of(after.pads.begin(), after.pads.end(),
                           [&](const document::Pad& pad) { return pad.number == number; });
    };
    CHECK(has_pad("1"));
    CHECK(has(result->findings, "pad-gone-kept", after.id));
    const bool pad_8_is_read =
        std::any_of(before.readings.begin(), before.readings.end(),
                    [&](const document::Reading& reading) { return reading.target == after.id && reading.pad == "8"; });
    CHECK(has_pad("8") == pad_8_is_read);
}

TEST_CASE("a chart that was put to scale keeps its scale when its trace is imported again") {
    const Chart before = demo_chart();
    document::Scale measured = *before.scale;
    measured.mm_per_unit *= 1.02;
    measured.source = document::ScaleSource::TwoPoints;
    const auto scaled = document::rescale(before, 1.02, measured);
    REQUIRE(scaled);
    const auto result = svg::reimport(*scaled, traced(demo_trace()));
    REQUIRE(result);
    CHECK(result->chart.scale == scaled->scale);
    CHECK(has(result->findings, "scale-changed"));
    for (std::size_t i = 0; i < before.parts.size(); ++i) {
        CHECK(result->chart.parts[i].placement.at.x == doctest::Approx(scaled->parts[i].placement.at.x).epsilon(1e-9));
        CHECK(result->chart.parts[i].orientation == before.parts[i].orientation);
    }
}

TEST_CASE("a part redrawn in another frame keeps its record pointing the same way on the board") {
    // A rect drawn turned by 90 degrees is the same body as one drawn upright with its sides exchanged.
    const auto drawing = [](const std::string& body) {
        return traced("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\" viewBox=\"0 0 20 10\">"
                      "<g id=\"U1\"><title>U1</title><g id=\"body\">" +
                      body +
                      "</g><g id=\"pads\"><rect id=\"U1-1\" x=\"4.2\" y=\"3\" width=\".4\" height=\".6\"/>"
                      "<rect id=\"U1-2\" x=\"4.2\" y=\"6\" width=\".4\" height=\".6\"/></g></g></svg>");
    };
    Chart before =
        drawing("<rect transform=\"translate(5 5) rotate(-90)\" x=\"-2\" y=\"-1\" width=\"4\" height=\"2\"/>");
    const Footprint& old = before.parts[0];
    REQUIRE(old.placement.turn.degrees() == doctest::Approx(90.0));
    document::Orientation record;
    record.state = document::RecordState::Recorded;
    record.mark = document::MarkKind::Dot;
    record.bearing = Angle::degrees(10.0);
    record.meaning = document::Meaning::Pin1;
    before = *document::set_orientation(before, old.id, record);
    const auto result = svg::reimport(before, drawing("<rect x=\"4\" y=\"3\" width=\"2\" height=\"4\"/>"));
    REQUIRE(result);
    const Footprint& next = result->chart.parts[0];
    CHECK(next.placement.turn.degrees() == doctest::Approx(90.0));
    CHECK(next.orientation == record);
    // The same copper in the same places on the board.
    const Chart fresh = drawing("<rect x=\"4\" y=\"3\" width=\"2\" height=\"4\"/>");
    for (std::size_t i = 0; i < 2; ++i) {
        const auto now = geometry::bounds(document::outline_on_board(next, next.pads[i]));
        const auto then = geometry::bounds(document::outline_on_board(fresh.parts[0], fresh.parts[0].pads[i]));
        CHECK(now.min.x == doctest::Approx(then.min.x));
        CHECK(now.max.y == doctest::Approx(then.max.y));
        CHECK(next.pads[i].number == before.parts[0].pads[i].number);
    }
}

TEST_CASE("import into a chart writes the chart and tells what was not found again") {
    const TemporaryFolder folder;
    std::string text = demo_trace();
    remove_group(text, "R1");
    const std::string trace = folder.write("corrected.svg", text);
    const std::string out = folder.file("next.chart.json");
    const Answer answer = call({"import", trace, "--into", demo_chart_path(), "-o", out});
    CHECK(answer.code == 1);
    CHECK(answer.out.find("gone from the trace but kept: R1") != std::string::npos);
    CHECK(answer.err.find("R1 is gone from the trace") != std::string::npos);
    const auto chart = json::load_chart(out);
    REQUIRE(chart);
    CHECK(chart->title == demo_chart().title);
    const Answer missing = call({"import", trace, "--into", folder.file("none.chart.json"), "-o", folder.file("x")});
    CHECK(missing.code == 2);
}

TEST_CASE(
    "a scale stated for a corrected trace takes no surer one's place, and where they differ both stay on record") {
    const TemporaryFolder folder;
    const std::string trace = folder.write(
        "board.svg",
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 800 400\"><g id=\"R1\"><rect class=\"body\" "
        "x=\"100\" y=\"100\" width=\"32\" height=\"16\"/></g><g id=\"R2\"><rect class=\"body\" x=\"300\" "
        "y=\"100\" width=\"32\" height=\"16\"/></g></svg>");
    const std::string chart = folder.file("board.chart.json");
    REQUIRE(call({"import", trace, "--scale-points", "100,100,700,100,30", "-o", chart}).code < 2);
    const auto corrected = [&](const std::string& option, const std::string& value) {
        const std::string out = folder.file("corrected.chart.json");
        const Answer answer = call({"import", trace, "--into", chart, option, value, "-o", out, "--force"});
        CHECK(answer.code < 2);
        const Result<document::Chart> made = json::load_chart(out);
        REQUIRE(made);
        return std::pair(*made, answer.err);
    };
    const auto [rough, told] = corrected("--mm-per-unit", "0.06");
    CHECK(rough.scale->mm_per_unit == doctest::Approx(0.05));
    REQUIRE(rough.scale->overruled.size() == 1);
    CHECK(rough.scale->overruled[0].mm_per_unit == doctest::Approx(0.06));
    CHECK(told.find("the chart's own is kept") != std::string::npos);
    CHECK(told.find("two scales differ by") != std::string::npos);
    const auto [sure, said] = corrected("--scale-points", "100,100,700,100,36");
    CHECK(sure.scale->mm_per_unit == doctest::Approx(0.06));
    CHECK(sure.parts[1].placement.at.x == doctest::Approx(rough.parts[1].placement.at.x * 1.2));
    REQUIRE(sure.scale->overruled.size() == 1);
    CHECK(sure.scale->overruled[0].mm_per_unit == doctest::Approx(0.05));
    CHECK(said.find("two scales differ by") != std::string::npos);
}
