#pragma once
// A small chart before and after, and motions of whole charts, for the tests of compare.

#include <string>
#include <vector>

#include "analysis/compare.hpp"
#include "document/edits.hpp"

namespace padchart::testing {

/// Two lands under the ends of a body of 1.6 mm by 0.8 mm.
inline document::Footprint two_lands(const std::string& name, geometry::Vec2 at, document::PartClass part_class) {
    document::Footprint part;
    part.id = document::id_of("part", name);
    part.name = name;
    part.part_class = part_class;
    part.placement.at = at;
    part.body = document::Body{{}, {}, {document::ShapeKind::Rectangle, 1.6, 0.8, {}}, 0.5, {}};
    for (const double x : {-0.75, 0.75}) {
        document::Pad pad;
        pad.number = x < 0 ? "1" : "2";
        pad.at = {x, 0};
        pad.shape = {document::ShapeKind::Rectangle, 0.7, 0.8, {}};
        part.pads.push_back(pad);
    }
    part.condition.presence = document::Presence::Present;
    return part;
}

/// Six parts on a board with a notch and a hole, so that no motion but one lays it on itself.
inline document::Chart small_chart() {
    using document::PartClass;
    document::Chart chart;
    chart.scale = document::Scale{};
    chart.board.outline = geometry::Polygon{{{0, 0}, {30, 0}, {30, 8}, {27, 9}, {30, 20}, {0, 20}}, {}};
    chart.board.outline->holes.push_back(
        geometry::transformed(geometry::circle(1.0, 0.01), geometry::Affine::translation({3, 3})));
    chart.parts.add(two_lands("R1", {8, 5}, PartClass::Resistor));
    chart.parts.add(two_lands("C2", {12, 5}, PartClass::CeramicCapacitor));
    chart.parts.add(two_lands("D3", {16, 6}, PartClass::Diode));
    chart.parts.add(two_lands("C7", {20, 12}, PartClass::TantalumCapacitor));
    chart.parts.add(two_lands("R8", {9, 15}, PartClass::Resistor));
    chart.parts.add(two_lands("L5", {25, 16}, PartClass::Inductor));
    return chart;
}

/// The chart with one part edited.
template <class Edit>
document::Chart with(const document::Chart& chart, const std::string& name, Edit edit) {
    document::Chart out = chart;
    for (std::size_t i = 0; i < out.parts.size(); ++i) {
        if (out.parts[i].name != name) continue;
        document::Footprint part = out.parts[i];
        edit(part);
        out.parts.replace(i, std::move(part));
        return out;
    }
    return out;
}

inline document::Side other_side(document::Side side) {
    return side == document::Side::Top ? document::Side::Bottom : document::Side::Top;
}

/// Every place through `map`, which turns by `turn` as seen from the top after it has mirrored in x, if it does. A
/// mirrored chart keeps each part's own frame and swaps the sides: the board seen from its other side.
inline document::Chart moved_chart(const document::Chart& chart, Angle turn, geometry::Vec2 by, bool from_other_side) {
    using geometry::Affine;
    const Affine flip = from_other_side ? Affine::scaling(-1, 1) : Affine{};
    const Affine map = Affine::translation(by) * Affine::rotation(turn) * flip;
    document::Chart out = chart;
    const auto side_of = [&](document::Side side) { return from_other_side ? other_side(side) : side; };
    for (std::size_t i = 0; i < out.parts.size(); ++i) {
        document::Footprint part = out.parts[i];
        part.placement.at = map(part.placement.at);
        part.placement.side = side_of(part.placement.side);
        const Angle own = part.placement.side == document::Side::Top ? turn : -turn;
        part.placement.turn = part.placement.turn + own;
        out.parts.replace(i, std::move(part));
    }
    if (out.board.outline) out.board.outline = geometry::transformed(*out.board.outline, map);
    for (std::size_t i = 0; i < out.keep_outs.size(); ++i) {
        document::KeepOut thing = out.keep_outs[i];
        thing.outline = geometry::transformed(thing.outline, map);
        thing.side = side_of(thing.side);
        out.keep_outs.replace(i, std::move(thing));
    }
    for (std::size_t i = 0; i < out.readings.size(); ++i) {
        document::Reading reading = out.readings[i];
        reading.at = map(reading.at);
        reading.side = side_of(reading.side);
        out.readings.replace(i, std::move(reading));
    }
    return out;
}

/// Turns a part about the middle of its extent, counter-clockwise as seen from its side.
inline void turn_in_place(document::Footprint& part, double by_deg) {
    const geometry::Vec2 middle = document::centre_in_part(part);
    const geometry::Vec2 was = document::board_from_part(part.placement)(middle);
    part.placement.turn = part.placement.turn + Angle::degrees(by_deg);
    part.placement.at += was - document::board_from_part(part.placement)(middle);
}

} // namespace padchart::testing
