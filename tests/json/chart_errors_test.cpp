// A chart that is not right says what was found, where, and what would be right. The line of each case is counted here
// by a plain count of line ends before the place that was broken.

#include <doctest/doctest.h>

#include <algorithm>

#include "document/vocabulary.hpp"
#include "json/chart_file.hpp"
#include "json/golden.hpp"

using namespace padchart;
using json::golden_text;
using json::replaced;

namespace {

std::string fault_of_text(const std::string& text) {
    const Result<document::Chart> chart = json::read_chart(text);
    return chart ? "no error" : describe(chart.error());
}

/// What is said when `from` reads `to`, with the line checked and left out.
std::string fault_when(std::string_view from, std::string_view to) {
    const std::string whole = golden_text();
    const auto line =
        1 + std::count(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(whole.find(from)), '\n');
    const std::string said = fault_of_text(replaced(whole, from, to));
    const std::string place = " (line " + std::to_string(line) + ")";
    const std::size_t at = said.find(place);
    return at == std::string::npos ? "another line: " + said : replaced(said, place, "");
}

const std::string kShapes = "rectangle, round, oblong, polygon";

} // namespace

TEST_CASE("a word that is not in the list is answered with the list") {
    CHECK(fault_when(R"("side": "bottom")", R"("side": "tpo")") ==
          R"(/parts/1/side: found "tpo"; right would be one of top, bottom)");
    CHECK(fault_when(R"("shape": "oblong")", R"("shape": 3)") ==
          "/parts/0/pads/1/shape: found 3; right would be one of " + kShapes);
    CHECK(fault_when(R"("source": "known-part")", R"("source": null)") ==
          "/scale/source: found null; right would be one of document-units, two-points, known-part, drawn");
}

TEST_CASE("the pointer and the line are those of the value itself") {
    CHECK(fault_of_text(
              "{\n\"format\": \"padchart\",\n\"version\": 1,\n\"board\": {\"stack\": {\n\"layers\":\n\n-1\n}}}") ==
          "/board/stack/layers (line 7): found -1; right would be a whole number from 1 to 64");
}

TEST_CASE("a value of another type is named and the right one too") {
    CHECK(fault_when(R"("width_mm": 0.6)", R"("width_mm": "0.6")") ==
          R"(/parts/0/pads/0/width_mm: found "0.6"; right would be a length above 0 and at most 10000 (mm))");
    CHECK(fault_when(R"("name": "U4")", R"("name": 4)") == "/parts/0/name: found 4; right would be a text in quotes");
    CHECK(fault_when(R"("locked": true,
      "comment")",
                     R"("locked": "yes",
      "comment")") == R"(/parts/0/locked: found "yes"; right would be true or false)");
    CHECK(fault_when(R"("rules": {)", R"("rules": 5, "r": {)") == "/rules: found 5; right would be an object");
    CHECK(fault_when(R"("harmless_turns_deg": [0])", R"("harmless_turns_deg": 0)") ==
          "/parts/0/harmless_turns_deg: found 0; right would be a list");
    CHECK(fault_when(R"("harmless_turns_deg": [0])", R"("harmless_turns_deg": [0, {}])") ==
          "/parts/0/harmless_turns_deg/1: found an object; right would be a number of degrees");
    CHECK(fault_when(R"("shields": ["sh-1"])", R"("shields": [[]])") ==
          "/heat_plans/0/shields/0: found a list; right would be 1 to 64 of a-z, 0-9, - and _, with a letter or digit "
          "first");
    CHECK(fault_of_text("[1]") == "/ (line 1): found a list; right would be an object");
}

TEST_CASE("a missing key is named at its object") {
    CHECK(fault_when(R"({"number": "2", "at_mm": [0, 1.3], )", R"({"number": "2", )") ==
          R"(/parts/0/pads/1: "at_mm" is missing; right would be [x, y] in mm)");
    CHECK(fault_when(R"("diameter_mm": 0.6)", R"("diameter": 0.6)") ==
          R"(/parts/0/pads/2: "diameter_mm" is missing; right would be a length above 0 and at most 10000 (mm))");
    CHECK(
        fault_of_text(R"({"format": "padchart", "version": 1, "parts": [{"at_mm": [0, 0]}]})") ==
        R"(/parts/0 (line 1): "id" is missing; right would be 1 to 64 of a-z, 0-9, - and _, with a letter or digit first)");
    CHECK(fault_of_text(R"({"format": "padchart", "version": 1, "readings": [{"id": "r", "quantity": "current"}]})") ==
          R"(/readings/0 (line 1): "value" is missing; right would be a number or one of OL, short, unstable)");
    CHECK(fault_of_text(R"({"format": "padchart", "version": 1, "readings": [{"id": "r", "value": 1}]})") ==
          "/readings/0 (line 1): \"quantity\" is missing; right would be one of diode-drop, resistance-to-ground, "
          "resistance, continuity, voltage, current, capacitance, series-resistance, temperature");
    CHECK(fault_of_text(R"({"format": "padchart", "version": 1, "photos": [{"id": "p"}]})") ==
          R"(/photos/0 (line 1): "path" is missing; right would be a text in quotes that is not empty)");
}

TEST_CASE("a number out of its range is refused with the range and its unit") {
    CHECK(fault_when(R"("width_mm": 0.6)", R"("width_mm": 0)") ==
          "/parts/0/pads/0/width_mm: found 0; right would be a length above 0 and at most 10000 (mm)");
    CHECK(fault_when(R"("at_mm": [12.5, 8.25])", R"("at_mm": [12.5, 1e5])") ==
          "/parts/0/at_mm/1: found 1e5; right would be a place between -10000 and 10000 (mm)");
    CHECK(fault_when(R"("warn_c": 230)", R"("warn_c": -60)") ==
          "/parts/0/heat/warn_c: found -60; right would be a temperature between -60 and 2000 (degrees C)");
    CHECK(fault_when(R"("opacity": 0.4)", R"("opacity": 40)") ==
          "/photos/0/opacity: found 40; right would be a number from 0 to 1");
    CHECK(fault_when(R"("dwell_s": 40)", R"("dwell_s": 0)") ==
          "/heat_plans/0/dwell_s: found 0; right would be a number above 0");
    CHECK(fault_when(R"("stated_pad_count": 6)", R"("stated_pad_count": 6.5)") ==
          "/parts/0/stated_pad_count: found 6.5; right would be a whole number from 0 to 10000");
    CHECK(fault_when(R"("body_gap_mm": 0.25)", R"("body_gap_mm": -0.25)") ==
          "/rules/body_gap_mm: found -0.25; right would be a distance from 0 to 10000 (mm)");
    CHECK(fault_when(R"("layers": 4)", R"("layers": 18446744073709551615)") ==
          "/board/stack/layers: found 18446744073709551615; right would be a whole number from 1 to 64");
}

TEST_CASE("a number beyond what a double holds is refused") {
    CHECK(fault_of_text("{\"a\":\n 1e400}") ==
          "line 2 column 6: the number 1e400 is too large; right would be one below 1.8e308");
}

TEST_CASE("places and rings of the wrong size are refused") {
    CHECK(fault_when(R"("at_mm": [12.5, 8.25])", R"("at_mm": [12.5])") ==
          "/parts/0/at_mm: found a list of 1; right would be [x, y] in mm");
    CHECK(fault_when(R"("at_mm": [12.5, 8.25])", R"("at_mm": 12.5)") ==
          "/parts/0/at_mm: found 12.5; right would be [x, y] in mm");
    CHECK(fault_when(R"([[-0.3, -0.5], [0.3, -0.5], [0, 0.5]])", R"([[-0.3, -0.5], [0.3, -0.5]])") ==
          "/parts/0/pads/3/points_mm: found 2 points; right would be at least 3, as an area needs");
    CHECK(fault_when(R"([[-0.3, -0.5], [0.3, -0.5], [0, 0.5]])", R"("round")") ==
          R"(/parts/0/pads/3/points_mm: found "round"; right would be a list of at least 3 points [x, y] in mm)");
    CHECK(fault_of_text(R"({"format": "padchart", "version": 1, "board": {"outline_mm": []}})") ==
          "/board/outline_mm (line 1): found an empty list; right would be a list of rings, the outer one first, then "
          "the holes");
    CHECK(fault_of_text(R"({"format": "padchart", "version": 1, "board": {"outline_mm": 1}})") ==
          "/board/outline_mm (line 1): found 1; right would be a list of rings, the outer one first, then the holes");
    CHECK(fault_when("0.01, 0, 1.5, 0, 0.01, 2.5, 0, 0, 1", "0.01, 0, 1.5") ==
          "/photos/0/board_from_pixel: found 3 numbers; right would be 9");
}

TEST_CASE("keys of another kind of shape are refused rather than passed over") {
    CHECK(fault_when(R"("diameter_mm": 0.6)", R"("diameter_mm": 0.6, "width_mm": 0.6)") ==
          "/parts/0/pads/2/width_mm: only a rectangle or an oblong has a width; right would be to leave it out");
    CHECK(fault_when(R"("diameter_mm": 0.6)", R"("diameter_mm": 0.6, "height_mm": 0.6)") ==
          "/parts/0/pads/2/height_mm: only a rectangle or an oblong has a height; right would be to leave it out");
    CHECK(fault_when(R"("turn_deg": 15,)", R"("turn_deg": 15, "diameter_mm": 1,)") ==
          "/parts/0/pads/1/diameter_mm: only a round shape has a diameter; right would be to leave it out");
    CHECK(fault_when(R"("turn_deg": 15,)", R"("turn_deg": 15, "points_mm": [],)") ==
          "/parts/0/pads/1/points_mm: only a polygon has points; right would be to leave it out");
}

TEST_CASE("ids are well formed and borne once") {
    CHECK(fault_when(R"("id": "u4")", R"("id": "U 4")") ==
          R"(/parts/0/id: found "U 4"; right would be 1 to 64 of a-z, 0-9, - and _, with a letter or digit first)");
    CHECK(fault_when(R"("id": "u4")", R"("id": "")") ==
          R"(/parts/0/id: found ""; right would be 1 to 64 of a-z, 0-9, - and _, with a letter or digit first)");
    CHECK(fault_when(R"("id": "n-1")", R"("id": "u4")") ==
          R"(/notes/0/id: the id "u4" is borne by /parts/0/id too; right would be one of its own)");
    CHECK(fault_when(R"("target": "u4",
      "author")",
                     R"("target": "",
      "author")") ==
          R"(/notes/0/target: found ""; right would be 1 to 64 of a-z, 0-9, - and _, with a letter or digit first)");
}

TEST_CASE("what the document itself forbids is told with pointer and line too") {
    CHECK(fault_when(R"("limit_c": 245.5)", R"("limit_c": 100)").substr(0, 10) == "another li"); // told of the part:
    CHECK(fault_of_text(replaced(golden_text(), R"("limit_c": 245.5)", R"("limit_c": 100)")) ==
          "/parts/0 (line 59): the limit lies below the warning temperature; right would be at or above it");
}

TEST_CASE("another version is refused by its number whatever else it holds") {
    CHECK(fault_of_text(R"({"format": "padchart", "version": 7, "parts": "in another way"})") ==
          "/version (line 1): this file is version 7; this program reads version 1");
    CHECK(fault_of_text(R"({"format": "padchart", "version": 0})") ==
          "/version (line 1): this file is version 0; this program reads version 1");
    CHECK(fault_of_text(R"({"format": "padchart", "version": "1"})") ==
          R"(/version (line 1): found "1"; right would be a number)");
    CHECK(fault_of_text(R"({"format": "padchart"})") == R"(/ (line 1): "version" is missing; right would be a number)");
}

TEST_CASE("another format is refused") {
    CHECK(fault_of_text(R"({"format": "recipe", "version": 1})") ==
          R"(/format (line 1): found "recipe"; right would be "padchart")");
    CHECK(fault_of_text("{}") == R"(/ (line 1): "format" is missing; right would be "padchart")");
}

TEST_CASE("an empty file is called empty") {
    CHECK(fault_of_text("") == "the file is empty; right would be a chart");
    CHECK(fault_of_text(" \r\n\t") == "the file is empty; right would be a chart");
}

TEST_CASE("the file name stands in front of the place") {
    const auto told = [](std::string_view text) { return describe(json::read_chart(text, "a.chart.json").error()); };
    CHECK(told("") == "a.chart.json: the file is empty; right would be a chart");
    CHECK(told("{") == "a.chart.json: line 1 column 2: the text ends in the middle: the file was cut short");
    CHECK(told(R"({"format": 1})") == R"(a.chart.json: /format (line 1): found 1; right would be "padchart")");
}

TEST_CASE("a file cut short anywhere is an error and never half a chart") {
    const std::string whole = golden_text();
    const std::size_t end = whole.rfind('}');
    for (std::size_t size = 0; size <= end; ++size)
        CHECK_FALSE(json::read_chart(std::string_view(whole).substr(0, size)).has_value());
    CHECK(json::read_chart(std::string_view(whole).substr(0, end + 1)).has_value());
}
