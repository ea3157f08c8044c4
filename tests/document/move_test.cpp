// A chart that is drawn from the other side.
#include "document/move.hpp"

#include <doctest/doctest.h>

namespace padchart::document {
namespace {

using geometry::Affine;

Chart with_one_part() {
    Footprint part;
    part.id = {"p"};
    part.placement = {{3, 4}, Angle::degrees(30), Side::Top};
    part.orientation.state = RecordState::Recorded;
    part.orientation.bearing = Angle::degrees(135);
    Pad pad;
    pad.number = "1";
    pad.at = {-1, 0.5};
    pad.shape.width_mm = pad.shape.height_mm = 0.4;
    part.pads.push_back(pad);
    Chart chart;
    chart.parts.add(part);
    Note note;
    note.id = {"n"};
    note.at = {1, 2};
    chart.notes.add(note);
    return chart;
}

geometry::Vec2 place_of_pad(const Chart& chart) {
    const Footprint& part = chart.parts[0];
    return board_from_part(part.placement)(part.pads[0].at);
}

TEST_CASE("a chart laid over has each pad where the mirror leads it, and on its side each part as it was") {
    const Chart chart = with_one_part();
    for (const Affine& mirror :
         {Affine{-1, 0, 0, 1, 44, 0}, Affine{1, 0, 0, -1, 0, 36}, Affine{0, 1, 1, 0, 2, 3}}) { // across, along, aslant
        const Chart over = laid_over(chart, mirror);
        CHECK(over.parts[0].placement.side == Side::Bottom);
        CHECK(over.parts[0].pads == chart.parts[0].pads);
        CHECK(over.parts[0].orientation == chart.parts[0].orientation);
        CHECK(geometry::distance(place_of_pad(over), mirror(place_of_pad(chart))) < 1e-9);
        CHECK(over.notes[0].side == Side::Bottom);
        CHECK(geometry::distance(over.notes[0].at, mirror({1, 2})) < 1e-9);
    }
}

TEST_CASE("a chart laid over and back is the same") {
    const Chart chart = with_one_part();
    const Affine mirror{-1, 0, 0, 1, 44, 0};
    const Chart back = laid_over(laid_over(chart, mirror), mirror);
    CHECK(geometry::distance(place_of_pad(back), place_of_pad(chart)) < 1e-9);
    CHECK(back.parts[0].placement.side == Side::Top);
    CHECK(back.parts[0].placement.turn.degrees() == doctest::Approx(30.0));
}

} // namespace
} // namespace padchart::document
