// A layer whose side was corrected: its parts are the same parts.
#include "svg/reimport_side.hpp"

#include <algorithm>

#include "document/edits.hpp"
#include "reimport_support.hpp"

namespace padchart::svg {
namespace {

using Lines = std::vector<std::string>;

std::string on_bottom(const std::string& shapes) {
    return "<g id=\"bottom\">" + shapes + "</g>";
}

/// R5 with a value, a mark at its pad 1 and a lifted land.
document::Chart charted() {
    document::Chart chart = traced(chip("R5", 4, 5) + chip("R6", 12, 5));
    document::Footprint part = chart.parts[0];
    part.value = "10k";
    part.orientation.state = document::RecordState::Recorded;
    part.orientation.mark = document::MarkKind::Dot;
    part.orientation.meaning = document::Meaning::Pin1;
    part.orientation.bearing = Angle::degrees(180); // left, where pad 1 is
    part.pads[1].land = document::LandState::Lifted;
    chart.parts.replace(0, part);
    document::Note note;
    note.id = {"note-1"};
    note.target = part.id;
    note.at = {4.4, 5.4};
    chart.notes.add(note);
    return chart;
}

geometry::Vec2 on_board(const document::Footprint& part, std::size_t pad) {
    return document::board_from_part(part.placement)(part.pads[pad].at);
}

TEST_CASE("a part that is drawn on the other side is the same part, told so, with all that was said of it") {
    const document::Chart chart = charted();
    const Result<ReimportResult> result = reimport(chart, traced(on_bottom(chip("R5", 4, 5)) + chip("R6", 12, 5)));
    CHECK(told_as(result, "other-side") ==
          Lines{"R5 is now drawn on the bottom; what was said of it went along: check its direction on the board"});
    CHECK(told_as(result, "gone-from-trace").empty());
    CHECK(told_as(result, "new-in-trace").empty());
    REQUIRE(result->chart.parts.size() == 2);
    const document::Footprint& part = result->chart.parts[0];
    CHECK(part.id == chart.parts[0].id);
    CHECK(part.placement.side == document::Side::Bottom);
    CHECK(part.value == "10k");
    CHECK(part.pads[1].land == document::LandState::Lifted);
    for (std::size_t i = 0; i < 2; ++i)
        CHECK(geometry::distance(on_board(part, i), on_board(chart.parts[0], i)) < 1e-9);
    // The mark is at pad 1 as before, which on the bottom is to the right in the part's own frame.
    CHECK(part.orientation.bearing.degrees() == doctest::Approx(0.0));
    CHECK(result->chart.notes[0].side == document::Side::Bottom);
    CHECK(result->chart.notes[0].at == chart.notes[0].at);
}

TEST_CASE("a part that moved on its way to the other side says so") {
    const Result<ReimportResult> result =
        reimport(charted(), traced(on_bottom(chip("R5", 4.3, 5.4)) + chip("R6", 12, 5)));
    REQUIRE(told_as(result, "other-side").size() == 1); // a right triangle of sides 3, 4 and 5
    CHECK(told_as(result, "other-side")[0].find("on the bottom, moved by 0.50 mm (+0.30 right, +0.40 down);") !=
          std::string::npos);
}

TEST_CASE("a name that stands on both sides is two parts") {
    const document::Chart chart = traced(chip("R5", 4, 5) + on_bottom(chip("R5", 12, 5)));
    const Result<ReimportResult> result = reimport(chart, traced(on_bottom(chip("R5", 12, 5))));
    CHECK(told_as(result, "other-side").empty());
    CHECK(told_as(result, "left-with-trace").size() == 1);
}

TEST_CASE("a locked part stays on its side, and says so") {
    document::Chart chart = charted();
    document::Footprint part = chart.parts[0];
    part.locked = true;
    chart.parts.replace(0, part);
    const Result<ReimportResult> result = reimport(chart, traced(on_bottom(chip("R5", 4, 5)) + chip("R6", 12, 5)));
    CHECK(told_as(result, "locked-kept") ==
          Lines{"R5 is locked: it stays on the top, though the trace draws it on the bottom"});
    CHECK(result->chart.parts[0] == part);
}

TEST_CASE("pads without a name that lie where they lay on the other side are found by their place") {
    const std::string pads = R"(<g id="pads"><rect x="2" y="2" width="0.8" height="0.4"/></g>)";
    const Result<ReimportResult> result = reimport(traced(pads), traced(on_bottom(pads)));
    REQUIRE(told_as(result, "other-side").size() == 1);
    CHECK(told_as(result, "other-side")[0].find("found again by its place alone") != std::string::npos);
    CHECK(result->chart.parts.size() == 1);
}

TEST_CASE("a part told as one of the other side and back again is the same") {
    const document::Footprint part = charted().parts[0];
    CHECK(on_other_side(on_other_side(part)) == part);
}

TEST_CASE("a keep-out whose layer went to the other side is a warning and goes there") {
    const std::string keep = R"(<g class="keep-out"><rect id="K1" x="2" y="2" width="3" height="2"/></g>)";
    const Result<ReimportResult> result =
        reimport(traced(keep + chip("R5", 12, 5)), traced(on_bottom(keep) + chip("R5", 12, 5)));
    CHECK(told_as(result, "keep-out-changed") ==
          Lines{"keep-out K1 is now drawn on the bottom: hot air may go elsewhere now"});
    REQUIRE(result->chart.keep_outs.size() == 1);
    CHECK(result->chart.keep_outs[0].side == document::Side::Bottom);
}

/// A chip of five pads that is no mirror image of itself.
std::string uneven(const std::string& name, double x, double y) {
    const auto pad = [&](int number, double left, double top) {
        return "<rect id=\"" + name + "-" + std::to_string(number) + "\" x=\"" + std::to_string(x + left) + "\" y=\"" +
               std::to_string(y + top) + "\" width=\"0.4\" height=\"0.4\"/>";
    };
    return "<g id=\"" + name + "\"><g class=\"pads\">" + pad(1, 0, 0) + pad(2, 0, 0.8) + pad(3, 0, 1.6) +
           pad(4, 2, 1.6) + pad(5, 2, 0) + "</g></g>";
}

const std::string kFour = uneven("U1", 3, 3) + chip("C1", 12, 4) + uneven("U2", 5, 10) + chip("C2", 16, 12);
const std::string kEdge = "<path id=\"outline\" d=\"M1 1h24v16h-20l-4-4z\"/>";

/// With a mark at the upper left of all, at pad 1 of those that have one there.
document::Chart marked(document::Chart chart) {
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        document::Footprint part = chart.parts[i];
        part.orientation.state = document::RecordState::Recorded;
        part.orientation.bearing = Angle::degrees(135);
        part.orientation.evidence.kind = document::EvidenceKind::SeenHere;
        chart.parts.replace(i, part);
    }
    document::Note note;
    note.id = {"note-1"};
    note.at = {10, 8};
    chart.notes.add(note);
    return chart;
}

TEST_CASE("a board that is drawn on the bottom as it is seen from there is laid over, told once, marks at their pads") {
    const document::Chart chart = marked(traced(kFour + kEdge));
    const auto result =
        reimport(chart, traced("<g transform=\"translate(30 0) scale(-1 1)\">" + kEdge + on_bottom(kFour) + "</g>"));
    CHECK(told_as(result, "laid-over").size() == 1);
    for (const char* code : {"other-side", "part-changed", "outline-changed", "mark-kept", "record-of-turned"})
        CHECK_MESSAGE(told_as(result, code).empty(), code);
    REQUIRE(result->parts.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
        const document::Footprint &was = chart.parts[i], &is = result->chart.parts[i];
        CHECK(is.placement.side == document::Side::Bottom);
        CHECK(is.orientation.bearing.degrees() == doctest::Approx(135.0));
        for (std::size_t p = 0; p < was.pads.size(); ++p)
            CHECK(geometry::distance(is.pads[p].at, was.pads[p].at) < 1e-9);
    }
    CHECK(geometry::distance(result->chart.notes[0].at, {20, 8}) < 1e-9);
    CHECK(result->chart.notes[0].side == document::Side::Bottom);
}

TEST_CASE("a board that is drawn on the bottom where it lay takes its marks along as the board is seen through") {
    const document::Chart chart = marked(traced(kFour + kEdge));
    const auto result = reimport(chart, traced(kEdge + on_bottom(kFour)));
    CHECK(told_as(result, "laid-over").empty());
    CHECK(told_as(result, "other-side").size() == 4);
    for (const document::Footprint& part : result->chart.parts)
        CHECK(part.orientation.bearing.degrees() == doctest::Approx(45.0));
    CHECK(geometry::distance(result->chart.notes[0].at, {10, 8}) < 1e-9);
}

TEST_CASE("one part that is drawn on the bottom as it is seen from there keeps its mark at its pad") {
    const document::Chart chart = marked(traced(kFour + kEdge));
    const std::string others = chip("C1", 12, 4) + uneven("U2", 5, 10) + chip("C2", 16, 12);
    const auto result = reimport(
        chart, traced(kEdge + others +
                      on_bottom("<g transform=\"translate(8.4 0) scale(-1 1)\">" + uneven("U1", 3, 3) + "</g>")));
    REQUIRE(told_as(result, "other-side").size() == 1);
    CHECK(told_as(result, "other-side")[0].starts_with("U1 is now drawn on the bottom; what was said"));
    CHECK(result->chart.parts[0].orientation.bearing.degrees() == doctest::Approx(135.0));
}

} // namespace
} // namespace padchart::svg
