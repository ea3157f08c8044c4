#include "document/fragment.hpp"

#include <doctest/doctest.h>

#include "document/copies.hpp"
#include "document/edits.hpp"
#include "document/things.hpp"

using namespace padchart;
using namespace padchart::document;
using geometry::Vec2;

namespace {

/// One thing of each kind; the note speaks of the part.
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
    foam.trace_key = "shape 7";
    foam.outline = {{{0, 0}, {2, 0}, {2, 1}}, {}};
    chart.keep_outs.add(foam);
    Shield tape;
    tape.id = Id{"s1"};
    tape.outline = {{{4, 0}, {6, 0}, {6, 1}}, {{{5, 0.2}, {5.5, 0.2}, {5.5, 0.4}}}};
    chart.shields.add(tape);
    Note note;
    note.id = Id{"n1"};
    note.at = {3, 3};
    note.text = "lifted once already";
    note.target = Id{"u1"};
    chart.notes.add(note);
    Reading reading;
    reading.id = Id{"m1"};
    reading.at = {5, 5};
    chart.readings.add(reading);
    return chart;
}

const std::vector<Id> kAll = {Id{"u1"}, Id{"k1"}, Id{"s1"}, Id{"n1"}, Id{"m1"}};

Fragment all() {
    return fragment_of(bench(), kAll).value();
}

} // namespace

TEST_CASE("parts, areas and notes are taken out, readings stay where they were taken") {
    const Fragment taken = all();
    CHECK(taken.size() == 4);
    CHECK(taken.keep_outs.front().name == "foam");
    CHECK(taken.notes.front().text == "lifted once already");
    const Id reading[] = {Id{"m1"}};
    CHECK(fragment_of(bench(), reading).value().empty());
    const Id nobody[] = {Id{"nobody"}};
    CHECK_FALSE(fragment_of(bench(), nobody));
}

TEST_CASE("a moved fragment lies elsewhere as a whole") {
    const Fragment there = moved(all(), {10, -2});
    CHECK(there.parts.front().placement.at == Vec2{11, -1});
    CHECK(there.keep_outs.front().outline.outer[1] == Vec2{12, -2});
    CHECK(there.shields.front().outline.holes[0][0] == Vec2{15, -1.8});
    CHECK(there.notes.front().at == Vec2{13, 1});
    CHECK(moved(there, {-10, 2}) == all());
}

TEST_CASE("laid over twice is as before, and once lies on the other side") {
    CHECK(lies_on(all(), Side::Top));
    const Fragment far = laid_over(all(), 3);
    CHECK(lies_on(far, Side::Bottom));
    CHECK_FALSE(lies_on(far, Side::Top));
    CHECK(far.keep_outs.front().outline.outer[1] == Vec2{4, 0});
    CHECK(laid_over(far, 3) == all());
    CHECK_FALSE(lies_on(Fragment{}, Side::Top));
}

TEST_CASE("copies are other things, and a copied note speaks of the copied part") {
    const Copies made = add_copies(bench(), all()).value();
    CHECK(made.ids.size() == 4);
    CHECK(made.chart.keep_outs.size() == 2);
    CHECK(made.chart.keep_outs[1].name == "foam");
    CHECK(made.chart.keep_outs[1].trace_key.empty());
    CHECK(made.chart.notes[1].target == made.ids.front());
    CHECK(made.chart.readings.size() == 1);
    CHECK_FALSE(fault_of(made.chart));
}

TEST_CASE("a note pasted without its part speaks of it only where the part is") {
    const Id note[] = {Id{"n1"}};
    const Fragment alone = fragment_of(bench(), note).value();
    CHECK(add_copies(bench(), alone)->chart.notes[1].target == Id{"u1"});
    CHECK(add_copies(Chart{}, alone)->chart.notes[0].target.is_empty());
}

TEST_CASE("areas and notes go into grids and rings with the parts") {
    const Copies grid = copy_to_grid(bench(), kAll, {3, 1, {10, 0}, {0, 0}}).value();
    CHECK(grid.ids.size() == 8);
    CHECK(grid.chart.shields[2].outline.outer[0] == Vec2{24, 0});
    const Copies ring = copy_to_ring(bench(), kAll, {2, Angle::degrees(180), {0, 0}, true, Side::Top}).value();
    CHECK(geometry::distance(ring.chart.notes[1].at, {-3, -3}) < 1e-9);
    CHECK(geometry::distance(ring.chart.keep_outs[1].outline.outer[1], {-2, 0}) < 1e-9);
    const Id reading[] = {Id{"m1"}};
    CHECK_FALSE(duplicate(bench(), reading, {1, 1}));
}
