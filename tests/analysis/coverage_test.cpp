#include "analysis/coverage.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "document/edits.hpp"

using namespace padchart;
using namespace padchart::document;

namespace {

/// A body of 1.6 by 0.8 mm with nothing said of it.
Footprint body_at(const char* name, double x, double y, Side side = Side::Top) {
    Footprint part;
    part.id = Id{name};
    part.name = name;
    part.body.emplace();
    part.body->shape = {ShapeKind::Rectangle, 1.6, 0.8, {}};
    part.placement = {{x, y}, Angle(), side};
    return part;
}

Chart chart_of(const std::vector<Footprint>& parts) {
    Chart chart;
    for (const Footprint& part : parts)
        chart.parts.add(part);
    return chart;
}

std::string names(const std::vector<Id>& ids) {
    std::string text;
    for (const Id& id : ids)
        text += (text.empty() ? "" : " ") + id.text;
    return text;
}

} // namespace

TEST_CASE("coverage counts what was checked and a part that is missing was checked") {
    Footprint gone = body_at("c", 2, 0);
    gone.condition.presence = Presence::Missing;
    Footprint there = body_at("b", 1, 0);
    there.condition.presence = Presence::Present;
    const analysis::Coverage found = analysis::coverage(chart_of({body_at("a", 0, 0), there, gone}));
    CHECK(analysis::in_words(found) == "2 of 3 checked");
    CHECK(names(found.not_checked) == "a");
}

TEST_CASE("a part is mentioned once anything is said of it and a name alone says nothing") {
    Chart chart = chart_of({body_at("a", 0, 0)});
    const auto is_left_out = [&](const Chart& now) { return !analysis::coverage(now).not_mentioned.empty(); };
    CHECK(is_left_out(chart));
    Chart with_note = chart;
    Note note;
    note.target = Id{"a"};
    with_note.notes.add(note);
    CHECK_FALSE(is_left_out(with_note));
    Chart with_reading = chart;
    Reading reading;
    reading.target = Id{"a"};
    with_reading.readings.add(reading);
    CHECK_FALSE(is_left_out(with_reading));
    const auto said = [&](auto say) {
        Footprint part = body_at("a", 0, 0);
        say(part);
        return !is_left_out(chart_of({part}));
    };
    CHECK(said([](Footprint& p) { p.role = "feeds the radio"; }));
    CHECK(said([](Footprint& p) { p.part_class = PartClass::Resistor; }));
    CHECK(said([](Footprint& p) { p.condition.body = BodyState::Cracked; }));
    CHECK(said([](Footprint& p) { p.orientation.state = RecordState::NoMark; }));
    CHECK(said([](Footprint& p) {
        p.pads.emplace_back();
        p.pads[0].net = "GND";
    }));
}

TEST_CASE("parts are read row by row from the upper left as seen from their side") {
    // Two rows by hand, each a little askew (own drawing).
    const std::vector<Footprint> parts{body_at("f", 6, 3.2), body_at("b", 3, 0.3), body_at("a", 0, 0.5),
                                       body_at("e", 3, 2.9), body_at("c", 6, 0.1), body_at("d", 0, 3.0)};
    CHECK(names(analysis::reading_order(chart_of(parts), Side::Top)) == "a b c d e f");
    CHECK(analysis::reading_order(chart_of(parts), Side::Bottom).empty());
    std::vector<Footprint> below;
    for (Footprint part : parts) {
        part.placement.side = Side::Bottom;
        below.push_back(part);
    }
    // Turned over, what was at the right is at the left.
    CHECK(names(analysis::reading_order(chart_of(below), Side::Bottom)) == "c b a f e d");
}

TEST_CASE("a tall part does not swallow the rows beside it") {
    Footprint tall = body_at("j", 20, 5);
    tall.body->shape.height_mm = 12.0;
    const std::vector<Footprint> parts{tall, body_at("a", 0, 0), body_at("b", 3, 0), body_at("c", 0, 5),
                                       body_at("d", 0, 10)};
    CHECK(names(analysis::reading_order(chart_of(parts), Side::Top)) == "a b c j d");
}

TEST_CASE("every part of the side is walked exactly once") {
    std::vector<Footprint> parts;
    unsigned state = 12345;
    const auto next = [&state] {
        state = state * 1664525U + 1013904223U;
        return static_cast<double>(state >> 8U) / 16777216.0;
    };
    for (int i = 0; i < 300; ++i)
        parts.push_back(body_at(("p" + std::to_string(i)).c_str(), 40 * next(), 30 * next(),
                                next() < 0.3 ? Side::Bottom : Side::Top));
    const Chart chart = chart_of(parts);
    std::vector<Id> walked = analysis::reading_order(chart, Side::Top);
    for (const Id& id : analysis::reading_order(chart, Side::Bottom))
        walked.push_back(id);
    std::sort(walked.begin(), walked.end());
    CHECK(walked.size() == 300);
    CHECK(std::adjacent_find(walked.begin(), walked.end()) == walked.end());
}
