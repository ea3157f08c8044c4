#pragma once
// A small chart with one of everything, for tests that need a chart at all: the power corner of a river-level logger.
// 16 x 12 mm, fourteen parts on both sides: one sensitive socket, a microphone, a missing part, one whose way round
// nobody wrote down, a shield, two keep-outs, notes, readings and a heat plan. All of it invented.

#include <string>
#include <utility>

#include "document/chart.hpp"

namespace padchart::test {

using namespace document;
using geometry::Polygon;
using geometry::Ring;
using geometry::Vec2;

inline Shape box_shape(double width_mm, double height_mm) {
    return {.kind = ShapeKind::Rectangle, .width_mm = width_mm, .height_mm = height_mm, .points = {}};
}
inline Shape round_shape(double diameter_mm) {
    return {.kind = ShapeKind::Round, .width_mm = diameter_mm, .height_mm = diameter_mm, .points = {}};
}
inline Pad pad_at(std::string number, Vec2 at, Shape shape) {
    Pad pad;
    pad.number = std::move(number);
    pad.at = at;
    pad.shape = std::move(shape);
    return pad;
}
inline Footprint part_named(std::string name, PartClass part_class, Vec2 at, Shape body) {
    Footprint part;
    part.id = id_of("part", name);
    part.name = std::move(name);
    part.part_class = part_class;
    part.placement.at = at;
    part.body = Body{};
    part.body->shape = std::move(body);
    return part;
}

/// Two lands under the ends of a body of the given size.
inline Footprint chip(std::string name, PartClass part_class, Vec2 at, Vec2 body) {
    Footprint part = part_named(std::move(name), part_class, at, box_shape(body.x, body.y));
    const double pad = body.x * 0.34;
    part.pads.push_back(pad_at("1", {-body.x * 0.43, 0}, box_shape(pad, body.y)));
    part.pads.push_back(pad_at("2", {body.x * 0.43, 0}, box_shape(pad, body.y)));
    return part;
}

/// `count` leads a side, numbered down the left and up the right.
inline Footprint two_rows(std::string name, PartClass part_class, Vec2 at, Vec2 body, int count, double pitch) {
    Footprint part = part_named(std::move(name), part_class, at, box_shape(body.x, body.y));
    for (int i = 0; i < 2 * count; ++i) {
        const bool left = i < count;
        const double row = left ? i : 2 * count - 1 - i;
        const Vec2 pad{left ? -body.x / 2 - 0.1 : body.x / 2 + 0.1, (row - (count - 1) / 2.0) * pitch};
        part.pads.push_back(pad_at(std::to_string(i + 1), pad, box_shape(0.35, pitch * 0.5)));
    }
    return part;
}

inline Footprint ball_grid(std::string name, Vec2 at, int side, double pitch) {
    const double size = side * pitch + 0.15;
    Footprint part = part_named(std::move(name), PartClass::IntegratedCircuit, at, box_shape(size, size));
    for (int row = 0; row < side; ++row)
        for (int column = 0; column < side; ++column) {
            const Vec2 ball{(column - (side - 1) / 2.0) * pitch, (row - (side - 1) / 2.0) * pitch};
            part.pads.push_back(pad_at(std::string(1, static_cast<char>('A' + row)) + std::to_string(column + 1), ball,
                                       round_shape(pitch * 0.55)));
        }
    return part;
}

inline Footprint quad_with_land(std::string name, Vec2 at) {
    Footprint part = part_named(std::move(name), PartClass::IntegratedCircuit, at, box_shape(2.2, 2.2));
    int number = 1;
    for (int edge = 0; edge < 4; ++edge)
        for (int i = 0; i < 5; ++i) {
            const geometry::Affine turn = geometry::Affine::rotation(Angle::degrees(90.0 * edge));
            Pad pad = pad_at(std::to_string(number++), turn({-1.15, (i - 2) * 0.37}), box_shape(0.36, 0.17));
            pad.turn = Angle::degrees(90.0 * edge);
            part.pads.push_back(pad);
        }
    part.pads.push_back(pad_at("EP", {0, 0}, box_shape(1.1, 1.1)));
    return part;
}

inline void record(Footprint& part, MarkKind mark, Angle bearing, Meaning meaning) {
    part.orientation.state = RecordState::Recorded;
    part.orientation.mark = mark;
    part.orientation.bearing = bearing;
    part.orientation.meaning = meaning;
    part.orientation.evidence = {.kind = EvidenceKind::SeenHere, .note = {}, .by = {}, .date = {}, .extras = {}};
}

inline Polygon ring_of(Ring ring) {
    return {std::move(ring), {}};
}
inline Polygon box_polygon(Vec2 min, Vec2 max) {
    return ring_of({min, {max.x, min.y}, max, {min.x, max.y}});
}

inline void add_sample_parts(Chart& chart) {
    Footprint u1 = quad_with_land("U1", {2.6, 2.8});
    record(u1, MarkKind::Dot, Angle::degrees(135), Meaning::Pin1);
    chart.parts.add(u1);
    Footprint u4 = ball_grid("U4", {7.4, 5.4}, 4, 0.37);
    record(u4, MarkKind::Triangle, Angle::degrees(135), Meaning::CornerA1);
    chart.parts.add(u4);
    chart.parts.add(chip("C11", PartClass::CeramicCapacitor, {5.4, 3.6}, {1.05, 0.55}));
    Footprint c12 = chip("C12", PartClass::CeramicCapacitor, {5.4, 4.6}, {1.05, 0.55});
    c12.value = "100 nF";
    c12.condition.body = BodyState::Cracked;
    chart.parts.add(c12);
    Footprint c14 = chip("C14", PartClass::CeramicCapacitor, {5.1, 6.7}, {1.05, 0.55});
    c14.placement.turn = Angle::degrees(90);
    c14.condition.presence = Presence::Missing;
    c14.pads[1].land = LandState::Lifted;
    chart.parts.add(c14);
    Footprint d3 = chip("D3", PartClass::Diode, {6.4, 8.0}, {1.1, 0.55});
    record(d3, MarkKind::Band, Angle::degrees(180), Meaning::Cathode);
    chart.parts.add(d3);
    Footprint tv2 = two_rows("TV2", PartClass::EsdArray, {9.1, 2.6}, {0.95, 1.5}, 3, 0.5);
    tv2.placement.turn = Angle::degrees(90);
    chart.parts.add(tv2);
    Footprint c7 = chip("C7", PartClass::TantalumCapacitor, {11.6, 2.2}, {1.4, 0.75});
    c7.value = "22 µF 6.3 V";
    record(c7, MarkKind::Bar, Angle::degrees(180), Meaning::Anode);
    chart.parts.add(c7);
    chart.parts.add(chip("R7", PartClass::Resistor, {9.3, 4.1}, {1.05, 0.5}));
    Footprint j2 = two_rows("J2", PartClass::CardSocket, {12.0, 7.6}, {3.2, 3.2}, 6, 0.47);
    j2.heat = HeatSensitivity{};
    j2.heat->material = "lcp";
    j2.heat->limit_c = 260;
    j2.heat->warn_c = 240;
    chart.parts.add(j2);
    Footprint mk1 = part_named("MK1", PartClass::Microphone, {1.9, 8.3}, round_shape(1.4));
    mk1.heat = HeatSensitivity{};
    mk1.heat->limit_c = 160;
    mk1.heat->warn_c = 140;
    chart.parts.add(mk1);
    Footprint l5 = chip("L5", PartClass::Inductor, {14.6, 5.9}, {1.0, 0.5});
    l5.placement.turn = Angle::degrees(30);
    chart.parts.add(l5);
    Footprint c61 = chip("C61", PartClass::CeramicCapacitor, {6.2, 5.2}, {1.05, 0.55});
    c61.placement.side = Side::Bottom;
    chart.parts.add(c61);
    Footprint d9 = chip("D9", PartClass::Led, {11.0, 8.6}, {1.6, 0.8});
    d9.placement.side = Side::Bottom;
    record(d9, MarkKind::Dot, Angle::degrees(0), Meaning::Unknown);
    chart.parts.add(d9);
}

inline void add_sample_things(Chart& chart) {
    KeepOut cell;
    cell.id = id_of("keep", "cell contact");
    cell.name = "cell contact";
    cell.outline = box_polygon({2.4, 10.2}, {4.6, 11.6});
    cell.reason = KeepOutReason::Cell;
    cell.through_board = true;
    cell.limit_c = 60;
    cell.measure = Measure::Removed;
    chart.keep_outs.add(cell);
    KeepOut far;
    far.id = id_of("keep", "label below");
    far.name = "label";
    far.outline = box_polygon({8.6, 9.6}, {10.6, 11.0});
    far.side = Side::Bottom;
    far.reason = KeepOutReason::LabelOrFoam;
    chart.keep_outs.add(far);
    Shield foil;
    foil.id = id_of("shield", "foil over J2");
    foil.name = "foil over J2";
    foil.outline = box_polygon({9.7, 5.6}, {10.6, 9.6});
    foil.kind = ShieldKind::Foil;
    chart.shields.add(foil);
    Note note;
    note.id = id_of("note", "1");
    note.at = {7.4, 10.2};
    note.text = "C14 came off with the tape; land 2 is loose, glue it before a new part goes on.";
    note.author = "bench 2";
    note.date = "2031-04-02";
    note.target = id_of("part", "C14");
    chart.notes.add(note);
    Reading reading;
    reading.id = id_of("reading", "1");
    reading.at = {5.0, 3.6};
    reading.target = id_of("part", "C11");
    reading.pad = "1";
    reading.value = 0.482;
    reading.unit = "V";
    reading.leads = Leads::RedOnGround;
    reading.power = PowerState::Off;
    reading.meter = "bench meter 3";
    chart.readings.add(reading);
    HeatPlan plan;
    plan.id = id_of("plan", "U4");
    plan.name = "Lift U4";
    plan.target = id_of("part", "U4");
    plan.aim = {7.4, 5.4};
    plan.nozzle_bore_mm = 3.0;
    plan.preheat_c = 100;
    chart.heat_plans.add(plan);
}

inline Chart sample_chart() {
    Chart chart;
    chart.title.title = "Power corner";
    chart.title.board = "River-level logger";
    chart.title.revision = "C";
    chart.title.maker = "Marshgate Instruments";
    chart.title.serial = "0417";
    chart.title.job = "J-2031-118";
    chart.title.author = "bench 2";
    chart.title.date = "2031-04-02";
    chart.title.chart_revision = "4";
    chart.title.up_edge = "battery edge";
    chart.title.not_mapped = "everything below the antenna feed, and the inside of the card socket";
    chart.scale = Scale{};
    chart.scale->source = ScaleSource::TwoPoints;
    chart.scale->relative_uncertainty = 0.01;
    chart.scale->note = "two mounting holes, 14.0 mm by calliper";
    chart.board.outline =
        Polygon{{{0.4, 0.4}, {13.4, 0.4}, {13.8, 0.8}, {13.8, 4.6}, {15.8, 4.6}, {15.8, 11.6}, {0.4, 11.6}}, {}};
    chart.board.outline->holes.push_back(
        geometry::transformed(geometry::circle(0.6, 0.005), geometry::Affine::translation({1.5, 10.6})));
    chart.rules.nozzle_bore_mm = 3.0;
    add_sample_parts(chart);
    add_sample_things(chart);
    return chart;
}

} // namespace padchart::test
