#pragma once
// Every object of the chart file, once: key, place in the chart, what it may hold, and the value that goes without
// saying. The reader and the writer both walk these lists, so that they cannot differ. A field whose value is the
// default is left out; heat plans and rules always spell out their numbers, since those are a shop's decisions.

#include <concepts>
#include <type_traits>

#include "document/chart.hpp"
#include "json/range.hpp"
#include "json/report.hpp"

namespace padchart::json {

/// T is Wanted, const for the writer.
template <class T, class Wanted>
concept Is = std::same_as<std::remove_const_t<T>, Wanted>;

/// Small things stand on one line; what people edit one by one stands one key a line.
template <class T>
inline constexpr JsonLayout kLayout = JsonLayout::Lines;
template <>
inline constexpr JsonLayout kLayout<document::Pad> = JsonLayout::OneLine;
template <>
inline constexpr JsonLayout kLayout<document::Body> = JsonLayout::OneLine;
template <>
inline constexpr JsonLayout kLayout<document::Evidence> = JsonLayout::OneLine;
template <>
inline constexpr JsonLayout kLayout<document::Orientation> = JsonLayout::OneLine;
template <>
inline constexpr JsonLayout kLayout<document::HeatSensitivity> = JsonLayout::OneLine;
template <>
inline constexpr JsonLayout kLayout<document::Condition> = JsonLayout::OneLine;
template <>
inline constexpr JsonLayout kLayout<document::Tick> = JsonLayout::OneLine;
template <>
inline constexpr JsonLayout kLayout<document::RevisionNote> = JsonLayout::OneLine;
template <>
inline constexpr JsonLayout kLayout<document::FrozenBefore> = JsonLayout::OneLine;

/// Width and height, the diameter, or the points, as the kind of shape asks for; other kinds' keys are refused.
template <class Io, Is<document::Shape> T>
void shape_fields(Io& io, T& shape) {
    using document::ShapeKind;
    io.word("shape", shape.kind, ShapeKind::Rectangle);
    const bool is_round = shape.kind == ShapeKind::Round;
    const bool is_polygon = shape.kind == ShapeKind::Polygon;
    if (is_round) {
        io.number("diameter_mm", shape.width_mm, range::kLength);
        io.repeat(shape.height_mm, shape.width_mm);
    } else if (is_polygon) {
        io.ring("points_mm", shape.points);
    } else {
        io.number("width_mm", shape.width_mm, range::kLength);
        io.number("height_mm", shape.height_mm, range::kLength);
    }
    if (!is_round) io.refuse("diameter_mm", "only a round shape has a diameter");
    if (!is_polygon) io.refuse("points_mm", "only a polygon has points");
    if (is_round || is_polygon) io.refuse("width_mm", "only a rectangle or an oblong has a width");
    if (is_round || is_polygon) io.refuse("height_mm", "only a rectangle or an oblong has a height");
}

template <class Io, Is<document::Pad> T>
void fields(Io& io, T& pad) {
    io.text("number", pad.number);
    io.text("net", pad.net);
    io.place("at_mm", pad.at);
    io.turn("turn_deg", pad.turn);
    shape_fields(io, pad.shape);
    io.word("land", pad.land, document::LandState::NotChecked);
    io.word("joint", pad.joint, document::JointState::NotChecked);
    io.extras(pad.extras);
}

template <class Io, Is<document::Body> T>
void fields(Io& io, T& body) {
    io.place("at_mm", body.at);
    io.turn("turn_deg", body.turn);
    shape_fields(io, body.shape);
    io.number("above_board_mm", body.height_mm, range::kLength);
    io.extras(body.extras);
}

template <class Io, Is<document::Evidence> T>
void fields(Io& io, T& evidence) {
    io.word("kind", evidence.kind, document::EvidenceKind::NotStated);
    io.text("note", evidence.note);
    io.text("by", evidence.by);
    io.text("date", evidence.date);
    io.link("photo", evidence.photo);
    io.numbers("crop_px", evidence.crop_px, range::kNumber, 4);
    io.extras(evidence.extras);
}

template <class Io, Is<document::Orientation> T>
void fields(Io& io, T& orientation) {
    io.word("state", orientation.state, document::RecordState::NotRecorded);
    io.word("mark", orientation.mark, document::MarkKind::Unknown);
    io.turn("bearing_deg", orientation.bearing);
    io.word("meaning", orientation.meaning, document::Meaning::Unknown);
    io.object("evidence", orientation.evidence);
    io.extras(orientation.extras);
}

template <class Io, Is<document::HeatSensitivity> T>
void fields(Io& io, T& heat) {
    io.text("material", heat.material);
    io.number("warn_c", heat.warn_c, range::kTemperature);
    io.number("limit_c", heat.limit_c, range::kTemperature);
    io.text("note", heat.note);
    io.extras(heat.extras);
}

template <class Io, Is<document::Condition> T>
void fields(Io& io, T& condition) {
    io.word("presence", condition.presence, document::Presence::NotChecked);
    io.word("seating", condition.seating, document::Seating::NotChecked);
    io.word("joint", condition.joint, document::JointState::NotChecked);
    io.word("body", condition.body, document::BodyState::NotChecked);
    io.word("land", condition.land, document::LandState::NotChecked);
    io.text("not_needed_because", condition.not_needed_because);
    io.text("note", condition.note);
    io.extras(condition.extras);
}

template <class Io, Is<document::Footprint> T>
void fields(Io& io, T& part) {
    io.id("id", part.id);
    io.text("name", part.name);
    io.text("value", part.value);
    io.text("role", part.role);
    io.word("class", part.part_class, document::PartClass::Unknown);
    io.word("side", part.placement.side, document::Side::Top);
    io.place("at_mm", part.placement.at);
    io.turn("turn_deg", part.placement.turn);
    io.text("family", part.family);
    io.numbers("family_parameters", part.family_parameters, range::kNumber);
    io.list("pads", part.pads);
    io.count("stated_pad_count", part.stated_pad_count, range::kPadCount);
    io.object("body", part.body);
    io.object("orientation", part.orientation);
    io.numbers("harmless_turns_deg", part.harmless_turns_deg, range::kTurn);
    io.object("heat", part.heat);
    io.object("condition", part.condition);
    io.text("trace_key", part.trace_key);
    io.flag("locked", part.locked);
    io.text("comment", part.comment);
    io.extras(part.extras);
}

template <class Io, Is<document::KeepOut> T>
void fields(Io& io, T& thing) {
    io.id("id", thing.id);
    io.text("name", thing.name);
    io.word("reason", thing.reason, document::KeepOutReason::Unknown);
    io.word("side", thing.side, document::Side::Top);
    io.flag("through_board", thing.through_board);
    io.polygon("outline_mm", thing.outline);
    io.number("above_board_mm", thing.height_mm, range::kLength);
    io.number("limit_c", thing.limit_c, range::kAnyTemperature);
    io.word("measure", thing.measure, document::Measure::None);
    io.text("note", thing.note);
    io.text("trace_key", thing.trace_key);
    io.extras(thing.extras);
}

template <class Io, Is<document::Shield> T>
void fields(Io& io, T& thing) {
    io.id("id", thing.id);
    io.text("name", thing.name);
    io.word("kind", thing.kind, document::ShieldKind::PolyimideTape);
    io.word("side", thing.side, document::Side::Top);
    io.polygon("outline_mm", thing.outline);
    io.text("note", thing.note);
    io.extras(thing.extras);
}

template <class Io, Is<document::Note> T>
void fields(Io& io, T& note) {
    io.id("id", note.id);
    io.text("text", note.text);
    io.word("side", note.side, document::Side::Top);
    io.place("at_mm", note.at);
    io.link("target", note.target);
    io.text("author", note.author);
    io.text("date", note.date);
    io.extras(note.extras);
}

template <class Io, Is<document::Reading> T>
void fields(Io& io, T& reading) {
    io.id("id", reading.id);
    io.word("quantity", reading.quantity);
    io.number_or_word("value", reading.value, range::kNumber);
    io.text("unit", reading.unit);
    io.word("side", reading.side, document::Side::Top);
    io.place("at_mm", reading.at);
    io.link("target", reading.target);
    io.text("pad", reading.pad);
    io.text("reference", reading.reference, "GND");
    io.word("leads", reading.leads, document::Leads::NotStated);
    io.word("power", reading.power, document::PowerState::NotStated);
    io.word("board", reading.board, document::WhichBoard::ThisBoard);
    io.text("parts_removed", reading.parts_removed);
    io.text("meter", reading.meter);
    io.text("date", reading.date);
    io.text("note", reading.note);
    io.extras(reading.extras);
}

template <class Io, Is<document::HeatPlan> T>
void fields(Io& io, T& plan) {
    const document::HeatPlan usual;
    io.id("id", plan.id);
    io.text("name", plan.name);
    io.link("target", plan.target);
    io.word("side", plan.side, document::Side::Top);
    io.place("aim_mm", plan.aim);
    io.spelled_out("set_point_c", plan.set_point_c, range::kAnyTemperature, usual.set_point_c);
    io.spelled_out("flow_l_per_min", plan.flow_l_per_min, range::kAboveZero, usual.flow_l_per_min);
    io.spelled_out("nozzle_bore_mm", plan.nozzle_bore_mm, range::kAboveZero, usual.nozzle_bore_mm);
    io.spelled_out("stand_off_mm", plan.stand_off_mm, range::kAboveZero, usual.stand_off_mm);
    io.number("preheat_c", plan.preheat_c, range::kAnyTemperature);
    io.spelled_out("dwell_s", plan.dwell_s, range::kAboveZero, usual.dwell_s);
    io.text("alloy", plan.alloy, usual.alloy);
    io.number("low_melt_fraction", plan.low_melt_fraction, range::kFraction, usual.low_melt_fraction);
    io.link("station", plan.station);
    io.links("shields", plan.shields);
    io.text("note", plan.note);
    io.extras(plan.extras);
}

template <>
inline constexpr JsonLayout kLayout<document::PhotoPoint> = JsonLayout::OneLine;

template <class Io, Is<document::PhotoPoint> T>
void fields(Io& io, T& point) {
    io.number("pixel_x", point.pixel.x, range::kNumber);
    io.number("pixel_y", point.pixel.y, range::kNumber);
    io.place("at_mm", point.at);
    io.extras(point.extras);
}

template <class Io, Is<document::Photo> T>
void fields(Io& io, T& photo) {
    io.id("id", photo.id);
    io.filled_text("path", photo.path);
    io.text("checksum", photo.checksum);
    io.word("side", photo.side, document::Side::Top);
    io.word("board", photo.board, document::WhichBoard::ThisBoard);
    io.flag("mirrored", photo.mirrored);
    io.numbers("board_from_pixel", photo.board_from_pixel, range::kNumber, 9);
    io.list("points", photo.points);
    io.number("opacity", photo.opacity, range::kFraction, document::Photo{}.opacity);
    io.flag("hidden", photo.hidden);
    io.flag("locked", photo.locked);
    io.text("note", photo.note);
    io.extras(photo.extras);
}

template <class Io, Is<document::CopperArea> T>
void fields(Io& io, T& thing) {
    io.id("id", thing.id);
    io.text("name", thing.name);
    io.polygon("outline_mm", thing.outline);
    io.number("conductivity_factor", thing.conductivity_factor, range::kAboveZero);
    io.text("note", thing.note);
    io.extras(thing.extras);
}

template <class Io, Is<document::Station> T>
void fields(Io& io, T& station) {
    const document::Station usual;
    io.id("id", station.id);
    io.text("name", station.name);
    io.number("nozzle_bore_mm", station.nozzle_bore_mm, range::kAboveZero);
    io.number("flow_l_per_min", station.flow_l_per_min, range::kAboveZero);
    io.number("stand_off_mm", station.stand_off_mm, range::kAboveZero);
    io.spelled_out("exit_factor", station.exit_factor, range::kAboveZero, usual.exit_factor);
    io.spelled_out("h_factor", station.h_factor, range::kAboveZero, usual.h_factor);
    io.spelled_out("joint_band_k", station.joint_band_k, range::kAboveZero, usual.joint_band_k);
    io.spelled_out("neighbour_band_k", station.neighbour_band_k, range::kAboveZero, usual.neighbour_band_k);
    io.text("by", station.by);
    io.text("date", station.date);
    io.text("note", station.note);
    io.extras(station.extras);
}

template <class Io, Is<document::Tick> T>
void fields(Io& io, T& tick) {
    io.id("id", tick.id);
    io.text("task", tick.task);
    io.link("target", tick.target);
    io.flag("done", tick.done);
    io.text("by", tick.by);
    io.text("date", tick.date);
    io.text("note", tick.note);
    io.extras(tick.extras);
}

template <class Io, Is<document::RevisionNote> T>
void fields(Io& io, T& revision) {
    io.id("id", revision.id);
    io.text("revision", revision.revision);
    io.text("date", revision.date);
    io.text("author", revision.author);
    io.text("text", revision.text);
    io.extras(revision.extras);
}

template <class Io, Is<document::FrozenBefore> T>
void fields(Io& io, T& before) {
    io.filled_text("path", before.path);
    io.text("checksum", before.checksum);
    io.text("by", before.by);
    io.text("date", before.date);
    io.extras(before.extras);
}

template <class Io, Is<document::Conflict> T>
void fields(Io& io, T& conflict) {
    io.link("thing", conflict.thing);
    io.text("field", conflict.field);
    io.json("base", conflict.base);
    io.json("ours", conflict.ours);
    io.json("theirs", conflict.theirs);
    io.text("ours_from", conflict.ours_label);
    io.text("theirs_from", conflict.theirs_label);
    io.extras(conflict.extras);
}

template <class Io, Is<document::Title> T>
void fields(Io& io, T& title) {
    io.text("title", title.title);
    io.text("board", title.board);
    io.text("revision", title.revision);
    io.text("maker", title.maker);
    io.text("serial", title.serial);
    io.text("job", title.job);
    io.text("author", title.author);
    io.text("date", title.date);
    io.text("chart_revision", title.chart_revision);
    io.text("up_edge", title.up_edge);
    io.text("not_mapped", title.not_mapped);
    io.extras(title.extras);
}

/// Of a scale, whether it was taken or not.
template <class Io, class AnyScale>
void scale_fields(Io& io, AnyScale& scale) {
    io.number("mm_per_unit", scale.mm_per_unit, range::kAboveZero);
    io.word("source", scale.source);
    io.number("relative_uncertainty", scale.relative_uncertainty, range::kFraction, 0.0);
    io.text("note", scale.note);
}

template <class Io, Is<document::OtherScale> T>
void fields(Io& io, T& scale) {
    scale_fields(io, scale);
    io.extras(scale.extras);
}

template <class Io, Is<document::Scale> T>
void fields(Io& io, T& scale) {
    scale_fields(io, scale);
    io.list("overruled", scale.overruled);
    io.extras(scale.extras);
}

template <class Io, Is<document::Stack> T>
void fields(Io& io, T& stack) {
    io.number("thickness_mm", stack.thickness_mm, range::kLength);
    io.count("layers", stack.layers, range::kLayers);
    io.number("conductivity_w_per_m_k", stack.conductivity_w_per_m_k, range::kAboveZero);
    io.number("heat_capacity_j_per_m3_k", stack.heat_capacity_j_per_m3_k, range::kAboveZero);
    io.number("emissivity", stack.emissivity, range::kFraction);
    io.text("note", stack.note);
    io.extras(stack.extras);
}

template <class Io, Is<document::Board> T>
void fields(Io& io, T& board) {
    io.polygon("outline_mm", board.outline);
    io.object("stack", board.stack);
    io.extras(board.extras);
}

template <class Io, Is<document::Rules> T>
void fields(Io& io, T& rules) {
    const document::Rules usual;
    io.spelled_out("nozzle_bore_mm", rules.nozzle_bore_mm, range::kLength, usual.nozzle_bore_mm);
    io.spelled_out("nozzle_margin_mm", rules.nozzle_margin_mm, range::kGap, usual.nozzle_margin_mm);
    io.spelled_out("body_gap_mm", rules.body_gap_mm, range::kGap, usual.body_gap_mm);
    io.spelled_out("pad_gap_mm", rules.pad_gap_mm, range::kGap, usual.pad_gap_mm);
    io.spelled_out("edge_gap_mm", rules.edge_gap_mm, range::kGap, usual.edge_gap_mm);
    io.extras(rules.extras);
}

/// After "format" and "version", which reader and writer see to themselves.
template <class Io, Is<document::Chart> T>
void fields(Io& io, T& chart) {
    io.object("title", chart.title);
    io.object("scale", chart.scale);
    io.object("board", chart.board);
    io.object_always("rules", chart.rules);
    io.list("parts", chart.parts);
    io.list("keep_outs", chart.keep_outs);
    io.list("shields", chart.shields);
    io.list("notes", chart.notes);
    io.list("readings", chart.readings);
    io.list("heat_plans", chart.heat_plans);
    io.list("photos", chart.photos);
    io.list("copper_areas", chart.copper_areas);
    io.list("stations", chart.stations);
    io.list("ticks", chart.ticks);
    io.list("revisions", chart.revisions);
    io.object("frozen_before", chart.frozen_before);
    io.list("conflicts", chart.conflicts);
    io.extras(chart.extras);
}

} // namespace padchart::json
