#include "document/thing_side.hpp"
#include "document/things.hpp"

#include <doctest/doctest.h>

#include <array>

#include "document/edits.hpp"

using namespace padchart;
using namespace padchart::document;

namespace {

Chart bench() {
    Chart chart;
    Footprint part;
    part.id = Id{"u1"};
    part.name = "U1";
    part.placement.at = {1, 1};
    chart.parts.add(part);
    KeepOut foam;
    foam.id = Id{"k1"};
    foam.name = "foam";
    foam.outline = {{{0, 0}, {2, 0}, {2, 1}}, {}};
    chart.keep_outs.add(foam);
    Shield tape;
    tape.id = Id{"s1"};
    tape.outline = {{{4, 0}, {6, 0}, {6, 1}}, {}};
    chart.shields.add(tape);
    for (const char* id : {"n1", "n2"}) {
        Note note;
        note.id = Id{id};
        note.at = {3, 3};
        chart.notes.add(note);
    }
    Reading reading;
    reading.id = Id{"m1"};
    reading.at = {5, 5};
    chart.readings.add(reading);
    return chart;
}

} // namespace

TEST_CASE("things are told apart and called as on the map") {
    const Chart chart = bench();
    CHECK(kind_of(chart, Id{"u1"}) == ThingKind::Part);
    CHECK(kind_of(chart, Id{"k1"}) == ThingKind::KeepOut);
    CHECK(kind_of(chart, Id{"s1"}) == ThingKind::Shield);
    CHECK(kind_of(chart, Id{"n2"}) == ThingKind::Note);
    CHECK(kind_of(chart, Id{"m1"}) == ThingKind::Reading);
    CHECK(kind_of(chart, Id{"nobody"}) == ThingKind::None);
    CHECK(spoken_name(chart, Id{"u1"}) == "U1");
    CHECK(spoken_name(chart, Id{"k1"}) == "foam");
    CHECK(spoken_name(chart, Id{"s1"}) == "a shield");
    CHECK(spoken_name(chart, Id{"n2"}) == "note N2");
    CHECK(spoken_name(chart, Id{"m1"}) == "reading M1");
}

TEST_CASE("all kinds are moved by the same hand in one step") {
    const std::array ids{Id{"u1"}, Id{"k1"}, Id{"s1"}, Id{"n1"}, Id{"m1"}};
    const Result<Chart> moved = move_things(bench(), ids, {1, 2});
    REQUIRE(moved);
    CHECK(moved->parts[0].placement.at == geometry::Vec2{2, 3});
    CHECK(moved->keep_outs[0].outline.outer[1] == geometry::Vec2{3, 2});
    CHECK(moved->shields[0].outline.outer[0] == geometry::Vec2{5, 2});
    CHECK(moved->notes[0].at == geometry::Vec2{4, 5});
    CHECK(moved->notes[1].at == geometry::Vec2{3, 3});
    CHECK(moved->readings[0].at == geometry::Vec2{6, 7});
    const std::array nobody{Id{"nobody"}};
    CHECK_FALSE(move_things(bench(), nobody, {1, 2}));
}

TEST_CASE("what is no part has its place") {
    const Chart chart = bench();
    CHECK(place_of(chart, Id{"k1"}).max == geometry::Vec2{2, 1});
    CHECK(place_of(chart, Id{"n1"}).centre() == geometry::Vec2{3, 3});
    CHECK(place_of(chart, Id{"u1"}).is_empty());
}

TEST_CASE("everything that lies on a board has its side") {
    const Chart chart = bench();
    CHECK(side_of(chart, Id{"u1"}) == chart.parts[0].placement.side);
    CHECK(side_of(chart, Id{"k1"}) == chart.keep_outs[0].side);
    CHECK(side_of(chart, Id{"n1"}) == chart.notes[0].side);
    CHECK_FALSE(side_of(chart, Id{"nobody"}));
}
