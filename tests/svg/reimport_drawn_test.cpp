// A corrected trace whose names tell nothing and that lies elsewhere: what is drawn tells. Invented boards.
#include "svg/reimport_drawn.hpp"

#include <algorithm>
#include <random>

#include "svg/reimport_support.hpp"

namespace padchart::svg {
namespace {

using geometry::Vec2;
using Lines = std::vector<std::string>;

/// A body that wide with a pad at either end.
struct Drawn {
    double x = 0.0, y = 0.0, width = 1.0;
};

std::string shape(const std::string& name, const Drawn& part, bool with_numbers) {
    const auto box = [](const std::string& words, double x, double y, double width, double height) {
        return "<rect " + words + " x=\"" + std::to_string(x) + "\" y=\"" + std::to_string(y) + "\" width=\"" +
               std::to_string(width) + "\" height=\"" + std::to_string(height) + "\"/>";
    };
    const auto pad = [&](const char* number) {
        return (with_numbers ? "id=\"" + name + number + "\" " : std::string()) + "class=\"pad\"";
    };
    const double half = part.width / 2.0;
    return "<g" + (name.empty() ? "" : " id=\"" + name + "\"") + ">" +
           box("class=\"body\"", part.x - half, part.y - 0.25, part.width, 0.5) +
           box(pad("-1"), part.x - half - 0.3, part.y - 0.25, 0.5, 0.5) +
           box(pad("-2"), part.x + half - 0.2, part.y - 0.25, 0.5, 0.5) + "</g>";
}

struct Names {
    std::string before; ///< of each name
    bool are_drawn = true, number_pads = false;
};

std::string board(const std::vector<Drawn>& parts, const std::string& transform, const Names& names,
                  const std::string& more = {}) {
    std::string shapes;
    for (std::size_t i = 0; i < parts.size(); ++i)
        shapes += shape(names.are_drawn ? names.before + std::to_string(i + 1) : "", parts[i], names.number_pads);
    return "<g transform=\"" + transform + "\">" + shapes + more + "</g>";
}

const Names kNamed{"R"};
const Names kNameless{"", false};

/// Of two sizes, in no order.
const std::vector<Drawn> kUneven{{3, 3, 1}, {9, 4, 2}, {5, 8, 1}, {14, 9, 1}, {11, 13, 2}, {16, 3, 1}};
/// A half turn about (10, 8) lays each on another.
const std::vector<Drawn> kEven{{4, 4, 1}, {8, 5, 1}, {5, 9, 1}, {16, 12, 1}, {12, 11, 1}, {15, 7, 1}};

std::vector<Drawn> in_other_order(std::vector<Drawn> parts) {
    std::reverse(parts.begin(), parts.end());
    std::swap(parts[0], parts[2]);
    return parts;
}

document::Chart with_a_note(document::Chart chart) {
    document::Note note;
    note.id = {"n"};
    note.at = {10, 8};
    chart.notes.add(note);
    return chart;
}

TEST_CASE("a drawing without names that was turned, drawn in another order and has no edge is known by its parts") {
    const document::Chart chart = with_a_note(traced(board(kUneven, "", kNamed)));
    const auto result =
        reimport(chart, traced(board(in_other_order(kUneven), "translate(20 1) rotate(77)", kNameless)));
    REQUIRE(told_as(result, "drawing-moved").size() == 1);
    CHECK(told_as(result, "drawing-moved")[0].starts_with("the whole drawing is turned by 77 degrees clockwise"));
    CHECK(result->parts.size() == kUneven.size());
    CHECK(result->added.empty());
    // 77 degrees about the origin and then the shift, worked out by hand.
    CHECK(result->chart.notes[0].at.x == doctest::Approx(20 + 10 * 0.224951 - 8 * 0.974370).epsilon(1e-4));
    CHECK(result->chart.notes[0].at.y == doctest::Approx(1 + 10 * 0.974370 + 8 * 0.224951).epsilon(1e-4));
}

TEST_CASE("a drawing under other names that lies elsewhere is known by its parts, though two went and one came") {
    std::vector<Drawn> parts = in_other_order(kUneven);
    parts.pop_back();
    parts.push_back({18, 12, 2});
    const auto result =
        reimport(traced(board(kUneven, "", kNamed)), traced(board(parts, "translate(2 1)", Names{"part"})));
    CHECK(told_as(result, "drawing-moved").size() == 1);
    CHECK(result->parts.size() == kUneven.size() - 1);
    CHECK(result->added.size() == 1);
}

TEST_CASE("a drawing without names that looks alike under two turns is not taken, and the error tells what to do") {
    const document::Chart chart = traced(board(kEven, "", kNamed));
    const auto result = reimport(chart, traced(board(in_other_order(kEven), "translate(18 0) rotate(90)", kNameless)));
    REQUIRE_FALSE(result);
    CHECK(result.error().message ==
          "the corrected trace lies elsewhere under other names, and what is drawn lies on what was drawn in 2 ways, "
          "turned by 90 or 270 degrees counter-clockwise: nothing is taken from it. Keep the ids of the parts, or lay "
          "the drawing as it lay before");
}

TEST_CASE("of two turns under which the parts look alike the board's edge tells which") {
    const std::string edge = "<path id=\"outline\" d=\"M1 1h18v14h-14l-4-4z\"/>";
    const auto result = reimport(traced(board(kEven, "", kNamed, edge)),
                                 traced(board(in_other_order(kEven), "translate(18 0) rotate(90)", kNameless, edge)));
    REQUIRE(told_as(result, "drawing-moved").size() == 1);
    CHECK(told_as(result, "drawing-moved")[0].starts_with("the whole drawing is turned by 90 degrees clockwise"));
}

TEST_CASE("of two turns under which the parts look alike numbered pads tell which") {
    const auto result = reimport(traced(board(kEven, "", {"R", true, true})),
                                 traced(board(in_other_order(kEven), "translate(18 0) rotate(90)", {"X", true, true})));
    REQUIRE(told_as(result, "drawing-moved").size() == 1);
    CHECK(told_as(result, "drawing-moved")[0].starts_with("the whole drawing is turned by 90 degrees clockwise"));
}

TEST_CASE("a drawing without names that looks alike under two turns and lies where it lay is found by its places") {
    const auto result = reimport(traced(board(kEven, "", kNamed)), traced(board(in_other_order(kEven), "", kNameless)));
    CHECK(told_as(result, "drawing-moved").empty());
    CHECK(told_as(result, "found-by-place").size() == kEven.size());
}

const std::string kSquareEdge = R"(<rect id="outline" x="1" y="1" width="18" height="18"/>)";

TEST_CASE("a drawing without names that was turned about the middle of its board is known, though the edge stayed") {
    for (const std::string turn : {"90", "180", "270"}) {
        CAPTURE(turn);
        const auto result =
            reimport(traced(board(kUneven, "", kNamed, kSquareEdge)),
                     traced(board(in_other_order(kUneven), "rotate(" + turn + " 10 10)", kNameless, kSquareEdge)));
        CHECK(told_as(result, "drawing-moved").size() == 1);
        CHECK(result->parts.size() == kUneven.size());
        CHECK(result->added.empty());
    }
}

TEST_CASE("parts that stand across where others lay do not tell that the drawing stayed") {
    const std::vector<Drawn> alike{{4, 6, 1}, {14, 4, 1}, {16, 14, 1}, {6, 16, 1}}; // a quarter turn about (10, 10)
    const auto result = reimport(traced(board(alike, "", kNamed, kSquareEdge)),
                                 traced(board(in_other_order(alike), "rotate(90 10 10)", kNameless, kSquareEdge)));
    REQUIRE_FALSE(result);
    CHECK(result.error().message.find("turned by 90 or 270 degrees counter-clockwise") != std::string::npos);
}

TEST_CASE("a drawing without names that fits better turned than as it lies is not taken") {
    std::vector<Drawn> parts = kEven;
    parts.push_back({3, 12, 1});
    const auto result =
        reimport(traced(board(parts, "", kNamed)), traced(board(in_other_order(parts), "rotate(180 10 8)", kNameless)));
    REQUIRE_FALSE(result);
    CHECK(result.error().message.find("turned by 0 or 180 degrees") != std::string::npos);
}

TEST_CASE("a mirror image without names is not taken, on its side or on the other one") {
    const document::Chart chart = traced(board(kUneven, "", kNamed));
    for (const std::string side : {"top", "bottom"}) {
        CAPTURE(side);
        const std::string drawn = board(in_other_order(kUneven), "translate(20 0) scale(-1 1)", kNameless);
        const auto result = reimport(chart, traced("<g id=\"" + side + "\">" + drawn + "</g>"));
        REQUIRE_FALSE(result);
        CHECK(result.error().message.starts_with("the corrected trace is a mirror image of what was drawn"));
    }
}

TEST_CASE("another drawing is told before all else as one of which hardly anything was found again") {
    const std::vector<Drawn> others{{25, 3, 1.5}, {26, 6, 3}, {22, 9, 1.5}, {21, 15, 4}};
    const auto result = reimport(traced(board(kUneven, "", kNamed)), traced(board(others, "", kNameless)));
    REQUIRE(result);
    REQUIRE_FALSE(result->findings.empty());
    CHECK(result->findings[0].message ==
          "hardly anything was found again, 0 of 6 parts: another drawing, or one that lies elsewhere. What comes from "
          "it may not lie on what was here");
}

TEST_CASE(
    "five thousand parts of one size beside a larger one, without names, are found again wherever the drawing lies") {
    std::mt19937 dice(7); // the same numbers everywhere
    document::Chart chart = traced(shape("U1", {8, 5, 3}, false));
    document::Chart fresh;
    fresh.scale = chart.scale;
    document::Footprint large = chart.parts[0];
    const document::Footprint one = traced(shape("R1", {5, 5, 1}, false)).parts[0];
    const geometry::Affine motion =
        geometry::Affine::translation({3, -8}) * geometry::Affine::rotation(Angle::degrees(33));
    large.trace_key = "rect:1";
    large.placement.at = motion(large.placement.at);
    large.placement.turn = Angle::degrees(33);
    fresh.parts.add(large);
    for (int i = 0; i < 5000; ++i) {
        document::Footprint part = one;
        const double off = static_cast<double>(dice() % 1000) / 1000.0;
        part.id = {"p" + std::to_string(i)};
        part.trace_key = "R" + std::to_string(i + 2);
        part.placement.at = {5.0 + 4.0 * (i % 80) + off, 9.0 + 4.0 * (i / 80) - off * off};
        chart.parts.add(part);
        part.trace_key = "rect:" + std::to_string(i + 2);
        part.placement.at = motion(part.placement.at);
        part.placement.turn = Angle::degrees(33);
        fresh.parts.add(part);
    }
    const DrawnMotion found = motion_of_what_is_drawn(chart, fresh, 0.2);
    REQUIRE(found.motion);
    CHECK(geometry::distance((*found.motion)({300, 200}), motion({300, 200})) < 0.01);
}

TEST_CASE("a part without a name that went no farther than it is long is the same one where no other is near") {
    std::vector<Drawn> parts = kUneven;
    parts[0].x += 1.0;
    const auto result = reimport(traced(board(kUneven, "", kNamed)), traced(board(parts, "", kNameless)));
    REQUIRE(result);
    CHECK(result->parts.size() == kUneven.size());
    CHECK(told_as(result, "found-by-place")[0] ==
          "R1 was found again by its place alone: moved by 1.00 mm (+1.00 right, +0.00 down)");
}

TEST_CASE("of two parts of one size as near nobody knows which it was") {
    std::vector<Drawn> parts = kUneven;
    parts[0] = {2.2, 3.6, 1};
    parts.push_back({3.8, 2.4, 1});
    const auto result = reimport(traced(board(kUneven, "", kNamed)), traced(board(parts, "", kNameless)));
    REQUIRE(result);
    CHECK(result->added.size() == 2);
}

} // namespace
} // namespace padchart::svg
