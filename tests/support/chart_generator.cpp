#include "support/chart_generator.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "support/random_shapes.hpp"

namespace padchart::testing {

namespace {

using document::Chart;
using document::Footprint;
using document::Pad;
using document::PartClass;
using document::Shape;
using document::ShapeKind;
using geometry::Ring;
using geometry::Vec2;

constexpr double kPitch_mm = 0.5;
constexpr double kRowGap_mm = 2.0;

Shape box_shape(ShapeKind kind, double width, double height) {
    return {kind, width, kind == ShapeKind::Round ? width : height, {}};
}

/// A rectangle without one of its corners, as a hand would trace it.
Shape cut_corner(double width, double height) {
    const double x = width / 2;
    const double y = height / 2;
    const double cut = std::min(width, height) / 3;
    Ring ring{{-x + cut, -y}, {x, -y}, {x, y}, {-x, y}, {-x, -y + cut}};
    return {ShapeKind::Polygon, 0, 0, std::move(ring)};
}

/// An L: a dent, so that shortcuts for convex shapes do not hold.
Shape ell(double width, double height) {
    const double x = width / 2;
    const double y = height / 2;
    return {ShapeKind::Polygon, 0, 0, {{-x, -y}, {x, -y}, {x, 0}, {0, 0}, {0, y}, {-x, y}}};
}

Shape pad_shape(std::size_t style) {
    switch (style % 4) {
    case 0: return box_shape(ShapeKind::Rectangle, 0.3, 0.8);
    case 1: return box_shape(ShapeKind::Oblong, 0.3, 0.8);
    case 2: return box_shape(ShapeKind::Round, 0.36, 0.36);
    default: return cut_corner(0.3, 0.7);
    }
}

Shape body_shape(Random& random, double width, double height) {
    const double pick = random.between(0, 1);
    if (pick < 0.6) return box_shape(ShapeKind::Rectangle, width, height);
    if (pick < 0.7) return box_shape(ShapeKind::Round, std::max(width, height), 0);
    if (pick < 0.8) return box_shape(ShapeKind::Oblong, width, height);
    return pick < 0.9 ? cut_corner(width, height) : ell(width, height);
}

double row_length(std::size_t pads) {
    return kPitch_mm * static_cast<double>((pads + 1) / 2);
}

void add_pads(Footprint& part, std::size_t count, std::size_t style) {
    const std::size_t in_row = (count + 1) / 2;
    const double first = -kPitch_mm * static_cast<double>(in_row - 1) / 2;
    for (std::size_t i = 0; i < count; ++i) {
        const bool upper = i < in_row;
        const auto column = static_cast<double>(upper ? i : count - 1 - i);
        Pad pad;
        pad.number = std::to_string(i + 1);
        pad.at = {first + kPitch_mm * column, (upper ? 1 : -1) * kRowGap_mm / 2};
        pad.shape = pad_shape(style);
        part.pads.push_back(std::move(pad));
    }
}

Angle some_turn(Random& random) {
    if (random.chance(0.15)) return random.turn();
    return Angle::degrees(90.0 * static_cast<double>(random.below(4)));
}

PartClass some_class(Random& random) {
    static constexpr std::array kUsual{PartClass::Resistor, PartClass::CeramicCapacitor, PartClass::IntegratedCircuit,
                                       PartClass::Transistor, PartClass::Inductor};
    static constexpr std::array kSensitive{PartClass::BoardConnector, PartClass::Microphone, PartClass::CardSocket,
                                           PartClass::AluminiumCapacitor};
    return random.chance(0.08) ? kSensitive[random.below(kSensitive.size())] : kUsual[random.below(kUsual.size())];
}

void add_mark(Footprint& part, Random& random) {
    if (random.chance(0.5)) return;
    part.orientation.state = document::RecordState::Recorded;
    part.orientation.mark = document::MarkKind::Dot;
    part.orientation.meaning = document::Meaning::Pin1;
    part.orientation.bearing = Angle::degrees(45.0 * static_cast<double>(random.below(8)));
}

Footprint make_part(Random& random, std::size_t number, std::size_t pads, Vec2 at) {
    Footprint part;
    part.id = {"part-" + std::to_string(number)};
    part.name = "P" + std::to_string(number);
    part.part_class = some_class(random);
    add_pads(part, pads, random.below(4));
    if (!random.chance(0.05))
        part.body = document::Body{{}, {}, body_shape(random, row_length(pads) + 0.2, kRowGap_mm + 0.4), 0.8};
    part.placement = {at, some_turn(random), random.chance(0.3) ? document::Side::Bottom : document::Side::Top};
    if (random.chance(0.02)) part.heat = document::HeatSensitivity{"lcp", {}, {}, "", {}};
    if (random.chance(0.03)) part.condition.presence = document::Presence::Missing;
    add_mark(part, random);
    return part;
}

geometry::Polygon board_outline(double width, double height) {
    const Ring outer{
        {0, 0},          {width, 0}, {width, height * 0.4}, {width - 2, height * 0.45}, {width, height * 0.5},
        {width, height}, {0, height}};
    return {outer, {geometry::transformed(geometry::circle(1.0, 0.002), geometry::Affine::translation({3, 3}))}};
}

document::KeepOut keep_out(std::string id, document::Side side, bool through, Ring outer) {
    document::KeepOut thing;
    thing.name = id;
    thing.id = {std::move(id)};
    thing.side = side;
    thing.through_board = through;
    thing.outline = {std::move(outer), {}};
    return thing;
}

} // namespace

Chart make_chart(std::size_t parts, std::size_t pads_per_part, std::uint64_t variant) {
    Random random(variant);
    const auto columns = static_cast<std::size_t>(std::ceil(std::sqrt(static_cast<double>(parts))));
    const double cell = std::max(row_length(pads_per_part), kRowGap_mm + 0.8) + 0.2;
    Chart chart;
    chart.title.title = "Generated chart";
    chart.scale = document::Scale{1.0, document::ScaleSource::DocumentUnits, 0.01, "made up", {}};
    chart.parts.reserve(parts);
    for (std::size_t i = 0; i < parts; ++i) {
        const Vec2 grid{static_cast<double>(i % columns), static_cast<double>(i / columns)};
        chart.parts.add(make_part(random, i + 1, pads_per_part, (grid + Vec2{0.6, 0.6}) * cell + random.point(0.35)));
    }
    const double side = cell * (static_cast<double>(std::max<std::size_t>(columns, 1)) + 0.2);
    chart.board.outline = board_outline(side, side);
    chart.keep_outs.add(keep_out("cell", document::Side::Bottom, true, {{1, 1}, {6, 1}, {6, 4}, {1, 4}}));
    chart.keep_outs.add(keep_out("label", document::Side::Top, false, {{side - 5, 1}, {side - 1, 1}, {side - 3, 3}}));
    return chart;
}

} // namespace padchart::testing
