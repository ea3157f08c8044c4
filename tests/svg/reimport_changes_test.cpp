#include "svg/reimport.hpp"

#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "document/edits.hpp"
#include "document/mark_spot.hpp"
#include "reimport_support.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::svg {
namespace {

TEST_CASE("in a chart without a scale no line about a corrected trace tells millimetres") {
    const auto drawn = [](const std::string& body_x, const std::string& page) {
        return traced("<g class=\"body\"><rect x=\"" + body_x + "\" y=\"4\" width=\"3\" height=\"3\"/></g>", page);
    };
    const auto lines = [&](const std::string& page) {
        const auto result = reimport(drawn("4", page), drawn("4.5", page));
        REQUIRE(result);
        std::string all;
        for (const Diagnostic& finding : result->findings)
            all += finding.message + "\n";
        return all;
    };
    const std::string units = lines(""), mm = lines("width=\"30mm\" height=\"20mm\"");
    CHECK_MESSAGE(units.find(" mm") == std::string::npos, units);
    CHECK_MESSAGE(units.find("the part at x 6.00, y 5.50 units") != std::string::npos, units);
    CHECK_MESSAGE(mm.find("the part at x 6.00, y 5.50 mm") != std::string::npos, mm);
}

/// U1: a body and four pads round it; R1: a body of its own; a keep-out. Any piece may be put in other words.
struct Trace {
    std::string body = R"(x="4" y="4" width="3" height="3")";
    std::string pad1 = R"(x="3" y="4.5" width="0.8" height="0.4")";
    std::string pads = R"(<rect id="U1-2" x="3" y="6.1" width="0.8" height="0.4"/>
<rect id="U1-3" x="7.2" y="6.1" width="0.8" height="0.4"/><rect id="U1-4" x="7.2" y="4.5" width="0.8" height="0.4"/>)";
    std::string keep = R"(x="12" y="1" width="3" height="2")";
    std::string group = "";

    [[nodiscard]] document::Chart chart() const {
        const std::string text =
            R"(<svg xmlns="http://www.w3.org/2000/svg" xmlns:d="urn:draw" width="20mm" height="12mm" viewBox="0 0 20 12">)"
            "<g id=\"U1\" " +
            group + "><rect class=\"body\" " + body + "/><g class=\"pads\"><rect id=\"U1-1\" " + pad1 + "/>" + pads +
            R"(</g></g><g d:label="body"><rect id="R1" x="14" y="6" width="1.6" height="0.8"/></g>)" +
            "<g d:label=\"keep-out\"><rect id=\"K1\" " + keep + "/></g></svg>";
        Result<TraceResult> result = chart_from_trace(read(text).value());
        REQUIRE(result);
        REQUIRE(result->chart.parts.size() == 2);
        REQUIRE(result->chart.parts[0].pads.size() >= 3);
        return result->chart;
    }
};

/// All that is told of the corrected trace but how many parts are as they were.
std::vector<std::string> told(const Trace& corrected) {
    const Result<ReimportResult> result = reimport(Trace{}.chart(), corrected.chart());
    REQUIRE(result);
    std::vector<std::string> lines;
    for (const Diagnostic& finding : result->findings)
        if (finding.code != "unchanged") lines.push_back(finding.message);
    return lines;
}

using Lines = std::vector<std::string>;

TEST_CASE("a trace that draws the same again changes no part, and says so") {
    const Result<ReimportResult> result = reimport(Trace{}.chart(), Trace{}.chart());
    REQUIRE(result);
    REQUIRE(result->findings.size() == 1);
    CHECK(result->findings[0].message == "2 parts lie where they lay");
}

TEST_CASE("a pad that was moved is told by its number and how far, and its part counts as changed") {
    Trace corrected;
    corrected.pad1 = R"(x="2.6" y="4.5" width="0.8" height="0.4")";
    CHECK(told(corrected) == Lines{"U1: pad 1 moved by 0.40 mm"});
    const Result<ReimportResult> result = reimport(Trace{}.chart(), corrected.chart());
    REQUIRE(result);
    CHECK(result->parts[0].is_changed);
    CHECK_FALSE(result->parts[1].is_changed);
    CHECK(result->findings.back().message == "1 part lies where it lay");
}

TEST_CASE("a pad of another size or shape is told") {
    Trace wider;
    wider.pad1 = R"(x="3" y="4.4" width="0.8" height="0.6")";
    CHECK(told(wider) == Lines{"U1: pad 1 is 0.80 x 0.60 mm, was 0.80 x 0.40"});
    Trace rounded;
    rounded.pad1 = R"(x="3" y="4.5" width="0.8" height="0.4" rx="0.2")";
    CHECK(told(rounded) == Lines{"U1: pad 1 has another shape"});
}

TEST_CASE("a round pad is told by its diameter, and not at all where it is only turned") {
    const auto with_round = [](const std::string& diameter, const std::string& turn) {
        return traced("<g id=\"U7\"><g class=\"pads\"><rect id=\"U7-1\" x=\"4\" y=\"4\" width=\"0.4\" "
                      "height=\"0.3\"/><circle id=\"U7-2\" cx=\"6\" cy=\"5\" r=\"" +
                      diameter + "\" transform=\"rotate(" + turn + " 6 5)\"/></g></g>");
    };
    for (const char* turn : {"7", "15", "37"})
        CHECK(told_as(reimport(with_round("0.1", "0"), with_round("0.1", turn)), "part-changed").empty());
    CHECK(told_as(reimport(with_round("0.1", "0"), with_round("0.125", "15")), "part-changed") ==
          Lines{"U7: pad 2 is 0.25 mm across, was 0.20"});
}

TEST_CASE("a curve that begins elsewhere is no other shape: of a pad, of a body or of a keep-out") {
    const auto curved = [](const std::string& turn, double more) {
        const std::string start = "\" rx=\"0.3\" ry=\"" + std::to_string(0.22 + more) + "\" ";
        const std::string round = "\" r=\"" + std::to_string(0.31 + more) + "\" ";
        const auto turned = [&](const std::string& x, const std::string& y) {
            return "transform=\"rotate(" + turn + " " + x + " " + y + ")\"";
        };
        return traced("<g id=\"U7\"><circle class=\"body\" cx=\"5\" cy=\"5" + round + turned("5", "5") +
                      "/><g class=\"pads\"><rect id=\"U7-1\" x=\"4\" y=\"4\" width=\"0.4\" height=\"0.3\"/>"
                      "<ellipse id=\"U7-2\" cx=\"6\" cy=\"5" +
                      start + (turn == "0" ? "" : turned("6", "5")) +
                      "/></g></g><g id=\"keep-out\"><circle id=\"K1\" cx=\"12\" cy=\"7" + round + turned("12", "7") +
                      "/></g>");
    };
    const auto result = reimport(curved("0", 0.0), curved("180", 0.0));
    CHECK(told_as(result, "part-changed").empty());
    CHECK(told_as(result, "keep-out-changed").empty());
    const auto larger = reimport(curved("0", 0.0), curved("180", 0.05));
    const Lines parts = told_as(larger, "part-changed");
    REQUIRE(parts.size() == 1);
    // The ellipse is a polygon that lies within it, by 0.01 mm at the most.
    CHECK(parts[0] == "U7: its body is 0.72 mm across, was 0.62, pad 2 is 0.60 x 0.53 mm, was 0.60 x 0.43");
    CHECK(told_as(larger, "keep-out-changed").size() == 1);
    const auto round_only = [&](const std::string& turn) {
        return traced(chip("R1", 3, 3) +
                      "<g id=\"keep-out\"><circle id=\"K1\" cx=\"12\" cy=\"7\" r=\"0.31\" "
                      "transform=\"rotate(" +
                      turn + " 12 7)\"/></g>");
    };
    for (const char* turn : {"7", "15", "37"})
        CHECK(told_as(reimport(round_only("0"), round_only(turn)), "keep-out-changed").empty());
}

TEST_CASE("a part that moved as a whole is told as one, what did not go along by itself") {
    Trace moved;
    moved.group = R"x(transform="translate(0.3 0.4)")x"; // a right triangle of sides 3, 4 and 5
    CHECK(told(moved) == Lines{"U1: moved by 0.50 mm (+0.30 right, +0.40 down)"});
    moved.pad1 = R"(x="2.7" y="4.1" width="0.8" height="0.4")";
    CHECK(told(moved) == Lines{"U1: moved by 0.50 mm (+0.30 right, +0.40 down), pad 1 stayed"});
}

TEST_CASE("three parts and more that moved alike are one line, one that moved otherwise is its own") {
    const auto rows = [](double off, double last_off) {
        std::string shapes;
        for (int i = 0; i < 4; ++i) // the lower row stays
            shapes += chip("R" + std::to_string(i + 1), 2 + 5 * i + (i == 3 ? last_off : off), 5) +
                      chip("C" + std::to_string(i + 1), 2 + 5 * i, 10);
        return traced(shapes);
    };
    CHECK(told_as(reimport(rows(0, 0), rows(0.3, 0.7)), "part-changed") ==
          Lines{"3 parts moved by 0.30 mm (+0.30 right, +0.00 down), all alike: R1, R2 and R3",
                "R4: moved by 0.70 mm (+0.70 right, +0.00 down)"});
}

TEST_CASE("what went along with its part within the digits that are told is no move of its own") {
    Trace moved;
    moved.body = R"(x="4.3" y="4.4" width="3" height="3")";
    moved.pad1 = R"(x="3.306" y="4.9" width="0.8" height="0.4")";
    moved.pads = R"(<rect id="U1-2" x="3.3" y="6.5" width="0.8" height="0.4"/>
<rect id="U1-3" x="7.506" y="6.5" width="0.8" height="0.4"/><rect id="U1-4" x="7.5" y="4.9" width="0.8" height="0.4"/>)";
    CHECK(told(moved) == Lines{"U1: moved by 0.50 mm (+0.30 right, +0.40 down)"});
}

TEST_CASE("a size that reads the same is no change") {
    // 0.0098 mm more either way, and all of it reads 0.80 x 0.40.
    Trace before, hair;
    before.pad1 = R"(x="3" y="4.5" width="0.7951" height="0.3951")";
    hair.pad1 = R"(x="2.9951" y="4.4951" width="0.8049" height="0.4049")";
    const Result<ReimportResult> result = reimport(before.chart(), hair.chart());
    CHECK(told_as(result, "part-changed").empty());
}

TEST_CASE("a body that is drawn larger or elsewhere is told, its pads do not count as moved") {
    Trace larger;
    larger.body = R"(x="3.9" y="3.9" width="3.2" height="3.2")";
    CHECK(told(larger) == Lines{"U1: its body is 3.20 x 3.20 mm, was 3.00 x 3.00"});
    Trace elsewhere;
    elsewhere.body = R"(x="4.2" y="4" width="3" height="3")";
    CHECK(told(elsewhere) == Lines{"U1: its body moved by 0.20 mm"});
}

TEST_CASE("pads that came and went are told") {
    Trace corrected;
    corrected.pads = R"(<rect id="U1-2" x="3" y="6.1" width="0.8" height="0.4"/>
<rect id="U1-3" x="7.2" y="6.1" width="0.8" height="0.4"/><rect id="U1-9" x="5" y="2.8" width="0.4" height="0.8"/>)";
    CHECK(told(corrected) == Lines{"U1: pad 4 is gone, pad 9 is new"});
}

TEST_CASE("a part that was turned says by how much, and its pads stay in place on it") {
    Trace turned;
    turned.group = R"x(transform="rotate(10 5.5 5.5)")x";
    CHECK(told(turned) == Lines{"U1: turned by 10.0 degrees clockwise"}); // clockwise on a page with y down
}

TEST_CASE("a keep-out that is drawn differently is a warning") {
    Trace corrected;
    corrected.keep = R"(x="12" y="1" width="2" height="2")";
    const Lines lines = told(corrected);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0] == "keep-out K1 is drawn differently: hot air may go elsewhere now");
}

/// The chart with U1's mark on record at its upper left, beside pad 1, seen on the board.
document::Chart with_mark(document::Chart chart) {
    document::Footprint part = chart.parts[0];
    part.orientation.state = document::RecordState::Recorded;
    part.orientation.mark = document::MarkKind::Dot;
    part.orientation.bearing = Angle::degrees(135);
    part.orientation.meaning = document::Meaning::Pin1;
    part.orientation.evidence.kind = document::EvidenceKind::SeenHere;
    chart.parts.replace(0, part);
    return chart;
}

TEST_CASE("a mark on record stays where it was seen when the body is drawn longer") {
    Trace longer;
    longer.body = R"(x="4" y="4" width="3" height="9")";
    const document::Chart before = with_mark(Trace{}.chart());
    const Result<ReimportResult> result = reimport(before, longer.chart());
    REQUIRE(result);
    const auto spot_on_board = [](const document::Footprint& part) {
        return document::board_from_part(part.placement)(document::mark_spot(part).value());
    };
    const geometry::Vec2 was = spot_on_board(before.parts[0]);
    CHECK(geometry::distance(was, {4, 4}) < 1e-9); // the body's upper left corner
    const document::Footprint& part = result->chart.parts[0];
    const geometry::Vec2 off = was - document::board_from_part(part.placement)(document::centre_in_part(part));
    CHECK(std::abs((geometry::bearing(off) - part.orientation.bearing).signed_turn().degrees()) < 1e-6);
    CHECK(std::any_of(result->findings.begin(), result->findings.end(),
                      [](const Diagnostic& finding) { return finding.code == "mark-held"; }));
}

TEST_CASE("a mark that only the trace told of and that it no longer draws is a warning") {
    document::Chart chart = Trace{}.chart();
    document::Footprint part = chart.parts[0];
    part.orientation.state = document::RecordState::Recorded;
    part.orientation.evidence.note = "drawn in the trace";
    chart.parts.replace(0, part);
    const Result<ReimportResult> result = reimport(chart, Trace{}.chart());
    REQUIRE(result);
    CHECK(std::any_of(result->findings.begin(), result->findings.end(), [](const Diagnostic& finding) {
        return finding.code == "mark-gone" && finding.severity == Severity::Warning;
    }));
}

TEST_CASE("a part drawn turned by less than half a quarter takes the mark on record along, with a warning") {
    Trace turned;
    turned.group = R"x(transform="rotate(37 5.5 5.5)")x";
    const document::Chart before = with_mark(Trace{}.chart());
    const Result<ReimportResult> result = reimport(before, turned.chart());
    CHECK(told_as(result, "record-of-turned") == Lines{"U1 is drawn turned by 37 degrees clockwise: its mark on record "
                                                       "goes along, at the end or corner nearest to where "
                                                       "it was seen; check it on the board"});
    CHECK(result->chart.parts[0].orientation == before.parts[0].orientation);
    CHECK(told_as(reimport(Trace{}.chart(), turned.chart()), "record-of-turned").empty());
}

TEST_CASE("a mark of the trace on a part that a hand turned in the chart is told as where the chart had it") {
    const std::string mark = R"(<circle id="U1 dot" class="mark" cx="4.3" cy="4.3" r="0.1"/>)";
    Trace marked;
    marked.pads += "</g><g>" + mark;
    document::Chart chart = marked.chart();
    document::Footprint part = chart.parts[0];
    REQUIRE(part.orientation.state == document::RecordState::Recorded);
    part.placement.turn = Angle::degrees(90);
    chart.parts.replace(0, part);
    CHECK(
        told_as(reimport(chart, marked.chart()), "mark-follows-trace") ==
        Lines{"the mark of U1 goes to where the trace draws it, 90 degrees away from where the chart had it: check it "
              "on the board"});
}

TEST_CASE("a keep-out that the trace no longer draws stays, since hot air would go there") {
    document::Chart fresh = Trace{}.chart();
    fresh.keep_outs.erase(0);
    const Result<ReimportResult> result = reimport(Trace{}.chart(), fresh);
    REQUIRE(result);
    REQUIRE(result->chart.keep_outs.size() == 1);
    CHECK(result->chart.keep_outs[0] == Trace{}.chart().keep_outs[0]);
    CHECK(std::any_of(result->findings.begin(), result->findings.end(), [](const Diagnostic& finding) {
        return finding.code == "gone-from-trace" && finding.severity == Severity::Warning;
    }));
}

/// Pads in one layer, without body, names and numbers: their part lies in their middle.
document::Chart loose_pads(const std::vector<geometry::Vec2>& corners) {
    std::string text =
        R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="12mm" viewBox="0 0 20 12"><g id="pads">)";
    for (const geometry::Vec2 at : corners)
        text += "<rect x=\"" + std::to_string(at.x) + "\" y=\"" + std::to_string(at.y) +
                "\" width=\"0.8\" height=\"0.4\"/>";
    Result<TraceResult> result = chart_from_trace(read(text + "</g></svg>").value());
    REQUIRE(result);
    REQUIRE(result->chart.parts.size() == 1);
    return result->chart;
}

TEST_CASE("pads without numbers are found again where their middle moved because others are gone") {
    document::Chart chart = loose_pads({{2, 2}, {2, 4}, {12, 2}, {12, 4}});
    // Said of the part as a whole, and one pad lifted.
    document::Reading reading;
    reading.id = {"reading-1"};
    reading.target = chart.parts[0].id;
    chart.readings.add(reading);
    document::Footprint part = chart.parts[0];
    part.pads[3].land = document::LandState::Lifted;
    chart.parts.replace(0, part);
    const auto places = [](const document::Footprint& of) {
        std::vector<std::pair<long, long>> all; // in 0.01 mm
        for (const document::Pad& pad : of.pads) {
            const geometry::Vec2 at = document::board_from_part(of.placement)(pad.at);
            all.emplace_back(std::lround(at.x * 100), std::lround(at.y * 100));
        }
        return all;
    };
    const Result<ReimportResult> result = reimport(chart, loose_pads({{2, 2}, {2, 4}}));
    REQUIRE(result);
    REQUIRE(result->chart.parts.size() == 1);
    // The two that are drawn, and the lifted one where it lay; the third was never spoken of.
    CHECK(places(result->chart.parts[0]) == std::vector<std::pair<long, long>>{{240, 220}, {240, 420}, {1240, 420}});
}

TEST_CASE("what came, went and was found by its place has one line each") {
    Trace renamed;
    renamed.pads += "<rect id=\"U1-5\" x=\"5\" y=\"2.8\" width=\"0.4\" height=\"0.8\"/>";
    document::Chart fresh = renamed.chart();
    fresh.parts.erase(1); // R1
    const Result<ReimportResult> result = reimport(Trace{}.chart(), fresh);
    REQUIRE(result);
    std::vector<std::string> lines;
    for (const Diagnostic& finding : result->findings)
        lines.push_back(finding.message);
    CHECK(lines ==
          Lines{"U1: pad 5 is new", "R1 is gone from the trace and, as nothing was said of it, from the chart"});
}

} // namespace
} // namespace padchart::svg
