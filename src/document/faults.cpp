// What may not stand in a chart: the one list that edits and the file reader both ask.

#include <cmath>
#include <unordered_set>

#include "document/edits.hpp"

namespace padchart::document {
namespace {

using geometry::Polygon;
using geometry::Ring;
using Fault = std::optional<std::string>;

/// A metre is far beyond any bench; a larger number is a slip of units.
constexpr double kLargest_mm = 10'000.0;

bool is_place(geometry::Vec2 p) {
    return geometry::is_finite(p) && std::abs(p.x) <= kLargest_mm && std::abs(p.y) <= kLargest_mm;
}

bool is_length(double mm) {
    return std::isfinite(mm) && mm > 0.0 && mm <= kLargest_mm;
}

bool are_places(const Ring& ring) {
    for (const geometry::Vec2 p : ring)
        if (!is_place(p)) return false;
    return true;
}

Fault fault_of_ring(const Ring& ring, const std::string& what) {
    if (ring.size() < 3) return what + " has " + std::to_string(ring.size()) + " points; an area needs at least 3";
    if (!are_places(ring)) return what + " has a point that is not a place within 10,000 mm";
    return std::nullopt;
}

Fault fault_of_polygon(const Polygon& polygon, const std::string& what) {
    if (Fault fault = fault_of_ring(polygon.outer, what)) return fault;
    for (const Ring& hole : polygon.holes)
        if (Fault fault = fault_of_ring(hole, what + "'s cut-out")) return fault;
    return std::nullopt;
}

Fault fault_of_shape(const Shape& shape, const std::string& what) {
    if (shape.kind == ShapeKind::Polygon) return fault_of_ring(shape.points, what);
    if (!is_length(shape.width_mm) || !is_length(shape.height_mm))
        return what + "'s width and height must be above 0 and at most 10,000 mm";
    if (shape.kind == ShapeKind::Round && shape.width_mm != shape.height_mm)
        return what + " is round, so width and height must be equal";
    return std::nullopt;
}

Fault fault_of_pad(const Pad& pad, std::size_t index) {
    const std::string what = "pad " + (pad.number.empty() ? "#" + std::to_string(index + 1) : pad.number);
    if (!is_place(pad.at)) return what + " is not at a place within 10,000 mm";
    if (!std::isfinite(pad.turn.degrees())) return what + "'s turn is not a number";
    return fault_of_shape(pad.shape, what);
}

Fault fault_of_body(const Body& body) {
    if (!is_place(body.at)) return "the body is not at a place within 10,000 mm";
    if (!std::isfinite(body.turn.degrees())) return "the body's turn is not a number";
    if (body.height_mm && !is_length(*body.height_mm)) return "the body's height must be above 0 mm";
    return fault_of_shape(body.shape, "the body");
}

Fault fault_of_heat(const HeatSensitivity& heat) {
    const auto is_temperature = [](double c) { return std::isfinite(c) && c > -60.0 && c < 2000.0; };
    if (heat.warn_c && !is_temperature(*heat.warn_c)) return "the warning temperature must lie between -60 and 2000 C";
    if (heat.limit_c && !is_temperature(*heat.limit_c)) return "the limit must lie between -60 and 2000 C";
    if (heat.warn_c && heat.limit_c && *heat.limit_c < *heat.warn_c)
        return "the limit lies below the warning temperature; right would be at or above it";
    return std::nullopt;
}

Fault fault_of_thing(const KeepOut& thing) {
    if (thing.limit_c && !std::isfinite(*thing.limit_c)) return "the limit is not a number";
    if (thing.height_mm && !is_length(*thing.height_mm)) return "the height must be above 0 mm";
    return fault_of_polygon(thing.outline, "the keep-out");
}
Fault fault_of_thing(const Shield& thing) {
    return fault_of_polygon(thing.outline, "the shield");
}
Fault fault_of_thing(const Note& thing) {
    if (!is_place(thing.at)) return "the note is not at a place within 10,000 mm";
    return std::nullopt;
}
Fault fault_of_thing(const Reading& thing) {
    if (!is_place(thing.at)) return "the reading is not at a place within 10,000 mm";
    const double* number = std::get_if<double>(&thing.value);
    if (number != nullptr && !std::isfinite(*number))
        return "the reading's value is not a number; OL is written as text";
    return std::nullopt;
}
Fault fault_of_thing(const HeatPlan& thing) {
    if (!is_place(thing.aim)) return "the aim is not a place within 10,000 mm";
    const auto above_zero = [](double value) { return std::isfinite(value) && value > 0.0; };
    if (!std::isfinite(thing.set_point_c)) return "the set point is not a number";
    if (!above_zero(thing.flow_l_per_min)) return "the air flow must be above 0 L/min";
    if (!above_zero(thing.nozzle_bore_mm)) return "the nozzle bore must be above 0 mm";
    if (!above_zero(thing.stand_off_mm)) return "the stand-off must be above 0 mm";
    if (!above_zero(thing.dwell_s)) return "the dwell must be above 0 s";
    if (thing.preheat_c && !std::isfinite(*thing.preheat_c)) return "the preheat is not a number";
    if (!(thing.low_melt_fraction >= 0.0 && thing.low_melt_fraction <= 1.0))
        return "the share of low-melt alloy must lie between 0 and 1";
    return std::nullopt;
}
Fault fault_of_thing(const Photo& thing) {
    if (thing.path.empty()) return "the photo has no path";
    if (!(thing.opacity >= 0.0 && thing.opacity <= 1.0)) return "the photo's opacity must lie between 0 and 1";
    if (!thing.board_from_pixel.empty() && thing.board_from_pixel.size() != 9)
        return "the photo's placing must have 9 numbers";
    for (const double value : thing.board_from_pixel)
        if (!std::isfinite(value)) return "the photo's placing holds something that is not a number";
    for (const PhotoPoint& point : thing.points)
        if (!is_place(point.at) || !geometry::is_finite(point.pixel))
            return "a point of the photo is not at a place within 10,000 mm";
    return std::nullopt;
}
Fault fault_of_thing(const CopperArea& thing) {
    if (!(std::isfinite(thing.conductivity_factor) && thing.conductivity_factor > 0.0))
        return "the conductivity factor must be above 0";
    return fault_of_polygon(thing.outline, "the copper area");
}
Fault fault_of_thing(const Station& thing) {
    const auto above_zero = [](double value) { return std::isfinite(value) && value > 0.0; };
    if (!above_zero(thing.exit_factor)) return "the exit factor must be above 0";
    if (!above_zero(thing.h_factor)) return "the factor on the heat transfer must be above 0";
    if (!above_zero(thing.joint_band_k) || !above_zero(thing.neighbour_band_k)) return "the bands must be above 0 K";
    for (const auto& setting : {thing.nozzle_bore_mm, thing.flow_l_per_min, thing.stand_off_mm})
        if (setting && !above_zero(*setting)) return "the station's nozzle, flow and stand-off must be above 0";
    return std::nullopt;
}
Fault fault_of_thing(const Tick&) {
    return std::nullopt;
}
Fault fault_of_thing(const RevisionNote&) {
    return std::nullopt;
}
Fault fault_of_thing(const Footprint& thing) {
    return fault_of(thing);
}

template <class T>
std::optional<Error> fault_in(const Items<T>& items, const std::string& list, std::unordered_set<std::string>& ids) {
    for (std::size_t i = 0; i < items.size(); ++i) {
        const std::string where = "/" + list + "/" + std::to_string(i);
        const Id& id = items[i].id;
        if (!is_well_formed(id))
            return Error{"the id \"" + id.text + "\" is not one; right would be 1 to 64 of a-z, 0-9, - and _", where};
        if (!ids.insert(id.text).second)
            return Error{"the id \"" + id.text + "\" is used twice; every thing needs its own", where};
        if (Fault fault = fault_of_thing(items[i])) return Error{*fault, where};
    }
    return std::nullopt;
}

template <class AnyScale>
Fault fault_of_numbers(const AnyScale& scale) {
    if (!std::isfinite(scale.mm_per_unit) || scale.mm_per_unit <= 0.0) return "mm per unit must be above 0";
    if (!(scale.relative_uncertainty >= 0.0 && scale.relative_uncertainty <= 1.0))
        return "the scale's uncertainty must lie between 0 and 1";
    return std::nullopt;
}

Fault fault_of_scale(const Scale& scale) {
    for (const OtherScale& other : scale.overruled)
        if (Fault fault = fault_of_numbers(other)) return fault;
    return fault_of_numbers(scale);
}

Fault fault_of_stack(const Stack& stack) {
    if (stack.thickness_mm && !is_length(*stack.thickness_mm)) return "the board's thickness must be above 0 mm";
    if (stack.layers && (*stack.layers < 1 || *stack.layers > 64)) return "the board must have 1 to 64 layers";
    const auto above_zero = [](double value) { return std::isfinite(value) && value > 0.0; };
    if (stack.conductivity_w_per_m_k && !above_zero(*stack.conductivity_w_per_m_k))
        return "the conductivity must be above 0";
    if (stack.heat_capacity_j_per_m3_k && !above_zero(*stack.heat_capacity_j_per_m3_k))
        return "the heat capacity must be above 0";
    if (stack.emissivity && !(*stack.emissivity >= 0.0 && *stack.emissivity <= 1.0))
        return "the emissivity must lie between 0 and 1";
    return std::nullopt;
}

Fault fault_of_rules(const Rules& rules) {
    if (!is_length(rules.nozzle_bore_mm)) return "the nozzle bore must be above 0 mm";
    for (const double gap : {rules.nozzle_margin_mm, rules.body_gap_mm, rules.pad_gap_mm, rules.edge_gap_mm})
        if (!(gap >= 0.0 && gap <= kLargest_mm)) return "a gap of the rules must lie between 0 and 10,000 mm";
    return std::nullopt;
}

} // namespace

std::optional<std::string> fault_of(const Footprint& part) {
    if (!is_place(part.placement.at)) return "the part is not at a place within 10,000 mm";
    if (!std::isfinite(part.placement.turn.degrees())) return "the part's turn is not a number";
    if (!std::isfinite(part.orientation.bearing.degrees())) return "the mark's bearing is not a number";
    if (part.stated_pad_count && (*part.stated_pad_count < 0 || *part.stated_pad_count > 10'000))
        return "the pad count must lie between 0 and 10,000";
    for (std::size_t i = 0; i < part.pads.size(); ++i)
        if (Fault fault = fault_of_pad(part.pads[i], i)) return fault;
    if (part.body)
        if (Fault fault = fault_of_body(*part.body)) return fault;
    if (part.heat)
        if (Fault fault = fault_of_heat(*part.heat)) return fault;
    if (!part.orientation.evidence.crop_px.empty() && part.orientation.evidence.crop_px.size() != 4)
        return "the photo's crop must have 4 numbers: left, top, width, height";
    for (const double turn : part.harmless_turns_deg)
        if (!std::isfinite(turn)) return "a harmless turn is not a number";
    for (const double value : part.family_parameters)
        if (!std::isfinite(value)) return "a family parameter is not a number";
    return std::nullopt;
}

std::optional<Error> fault_of(const Chart& chart) {
    if (chart.scale)
        if (Fault fault = fault_of_scale(*chart.scale)) return Error{*fault, "/scale"};
    if (chart.board.outline)
        if (Fault fault = fault_of_polygon(*chart.board.outline, "the board's outline")) return Error{*fault, "/board"};
    if (Fault fault = fault_of_stack(chart.board.stack)) return Error{*fault, "/board/stack"};
    if (Fault fault = fault_of_rules(chart.rules)) return Error{*fault, "/rules"};
    std::unordered_set<std::string> ids;
    if (auto fault = fault_in(chart.parts, "parts", ids)) return fault;
    if (auto fault = fault_in(chart.keep_outs, "keep_outs", ids)) return fault;
    if (auto fault = fault_in(chart.shields, "shields", ids)) return fault;
    if (auto fault = fault_in(chart.notes, "notes", ids)) return fault;
    if (auto fault = fault_in(chart.readings, "readings", ids)) return fault;
    if (auto fault = fault_in(chart.heat_plans, "heat_plans", ids)) return fault;
    if (auto fault = fault_in(chart.photos, "photos", ids)) return fault;
    if (auto fault = fault_in(chart.copper_areas, "copper_areas", ids)) return fault;
    if (auto fault = fault_in(chart.stations, "stations", ids)) return fault;
    if (auto fault = fault_in(chart.ticks, "ticks", ids)) return fault;
    return fault_in(chart.revisions, "revisions", ids);
}

} // namespace padchart::document
