#include "support.hpp"

#include "analysis/grouping.hpp"
#include "app/pad_numbering.hpp"
#include "app/traced_shape.hpp"
#include "document/mark_spot.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Footprint;

/// A hand-drawn SOIC: no family, and numbers as the pads were drawn.
Chart hand_drawn(const char* name = "U1") {
    Chart chart = new_chart();
    Footprint part = part_of("soic-8", name, {10, 10});
    leave_family(part);
    part.orientation = {};
    std::swap(part.pads[0].number, part.pads[5].number);
    return document::add_part(chart, part).value();
}

std::string number_at(const Chart& chart, std::size_t pad) {
    return chart.parts[0].pads[pad].number;
}

TEST_CASE("the pads of the selected part are numbered by rule in one step and readings follow them") {
    Editor editor;
    Chart chart = hand_drawn();
    document::Reading reading;
    reading.id = {"r1"};
    reading.target = chart.parts[0].id;
    reading.pad = number_at(chart, 0); // "6", which is pin 1
    chart.readings.add(reading);
    editor.start_new(chart);
    editor.select({chart.parts[0].id});
    number_selected_pads(editor);
    CHECK(editor.history().steps().size() == 2);
    for (std::size_t i = 0; i < 8; ++i)
        CHECK(number_at(editor.chart(), i) == std::to_string(i + 1));
    CHECK(editor.chart().readings[0].pad == "1");
    REQUIRE(editor.notice());
    CHECK(editor.notice()->text.find("8 pads of U1 numbered counter-clockwise by rule") != std::string::npos);
    number_selected_pads(editor);
    CHECK(editor.history().steps().size() == 2);
}

TEST_CASE("numbers by rule begin at the mark of pin 1 that is on record") {
    Chart chart = hand_drawn();
    const Footprint drawn = chart.parts[0];
    for (const std::size_t first : {0U, 4U}) { // the two ends of a part that is the same turned by half
        Footprint part = drawn;
        part.orientation.state = document::RecordState::Recorded;
        part.orientation.meaning = document::Meaning::Pin1;
        part.orientation.bearing = geometry::bearing(part.pads[first].at - document::centre_in_part(part));
        Chart marked = chart;
        marked.parts.replace(0, part);
        const auto numbered = numbered_by_rule(marked, part.id);
        REQUIRE(numbered);
        CHECK(number_at(numbered->chart, first) == "1");
        CHECK(numbered->words.find("nearest to the mark on record") != std::string::npos);
    }
}

TEST_CASE("a locked part and one that lacks a pad are not numbered") {
    Chart chart = hand_drawn();
    Footprint part = chart.parts[0];
    part.pads.erase(part.pads.begin() + 1);
    Chart lacking = chart;
    lacking.parts.replace(0, part);
    const auto refused = numbered_by_rule(lacking, part.id);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().message.find("draw it first") != std::string::npos);
    part = chart.parts[0];
    part.locked = true;
    chart.parts.replace(0, part);
    CHECK_FALSE(numbered_by_rule(chart, part.id));
}

TEST_CASE("a part lacks numbers while a pad of it has none, unless it is locked or loose pads of several parts") {
    Footprint part = hand_drawn().parts[0];
    CHECK_FALSE(lacks_numbers(part));
    part.pads[3].number.clear();
    CHECK(lacks_numbers(part));
    part.locked = true;
    CHECK_FALSE(lacks_numbers(part));
    part.locked = false;
    part.name.clear();
    part.body.reset();
    CHECK(lacks_numbers(part)); // drawn here by a hand
    part.trace_key = "pads/rect:1";
    REQUIRE(analysis::is_left_loose(part));
    CHECK_FALSE(lacks_numbers(part));
}

} // namespace
} // namespace padchart::app
