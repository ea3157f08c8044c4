#include "document/edits.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_set>
#include <utility>

#include "document/mark_spot.hpp"
#include "document/part_finder.hpp"
#include "document/value_text.hpp"

namespace padchart::document {
namespace {

using geometry::Affine;
using geometry::Vec2;

Error no_such(const Id& id) {
    return {"nothing in this chart bears the id \"" + id.text + "\"", {}};
}

/// The chart, unless something in it may not be.
Result<Chart> checked(Chart chart) {
    if (auto fault = fault_of(chart)) return *fault;
    return chart;
}

std::optional<Error> fault_of_new(const Chart& chart, const Id& id) {
    if (!is_well_formed(id))
        return Error{"the id \"" + id.text + "\" is not one; right would be 1 to 64 of a-z, 0-9, - and _", {}};
    if (is_taken(chart, id)) return Error{"the id \"" + id.text + "\" is taken", {}};
    return std::nullopt;
}

template <class Change>
Result<Chart> change_each(const Chart& chart, std::span<const Id> ids, const Change& change) {
    Chart next = chart;
    PartFinder finder(next);
    for (const Id& id : ids) {
        const auto at = finder.find(id);
        if (!at) return no_such(id);
        Footprint part = next.parts[*at];
        change(part);
        if (part.id != id) return Error{"a part keeps its id \"" + id.text + "\" as long as it lives", part.name};
        if (auto fault = fault_of(part)) return Error{*fault, part.name};
        next.parts.replace(*at, std::move(part));
    }
    return next;
}

template <class T>
std::optional<std::size_t> find(const Items<T>& items, const Id& id) {
    for (std::size_t i = 0; i < items.size(); ++i)
        if (items[i].id == id) return i;
    return std::nullopt;
}

template <class T>
Result<Chart> put_into(const Chart& chart, Items<T> Chart::*list, T thing) {
    Chart next = chart;
    if (const auto at = find(chart.*list, thing.id)) {
        (next.*list).replace(*at, std::move(thing));
    } else {
        if (auto fault = fault_of_new(chart, thing.id)) return *fault;
        (next.*list).add(std::move(thing));
    }
    return checked(std::move(next));
}

template <class T>
bool erase_from(Items<T>& items, const Id& id) {
    const auto at = find(items, id);
    if (at) items.erase(*at);
    return at.has_value();
}

/// What spoke of the part keeps its words and its place, but no longer names it; a heat plan without target is void.
void forget_part(Chart& chart, const Id& id) {
    for (std::size_t i = 0; i < chart.notes.size(); ++i) {
        if (chart.notes[i].target != id) continue;
        Note note = chart.notes[i];
        note.target = {};
        chart.notes.replace(i, std::move(note));
    }
    for (std::size_t i = 0; i < chart.readings.size(); ++i) {
        if (chart.readings[i].target != id) continue;
        Reading reading = chart.readings[i];
        reading.target = {};
        chart.readings.replace(i, std::move(reading));
    }
    for (std::size_t i = chart.ticks.size(); i-- > 0;)
        if (chart.ticks[i].target == id) chart.ticks.erase(i);
    for (std::size_t i = chart.heat_plans.size(); i-- > 0;)
        if (chart.heat_plans[i].target == id) chart.heat_plans.erase(i);
}

void forget_shield(Chart& chart, const Id& id) {
    for (std::size_t i = 0; i < chart.heat_plans.size(); ++i) {
        HeatPlan plan = chart.heat_plans[i];
        if (std::erase(plan.shields, id) > 0) chart.heat_plans.replace(i, std::move(plan));
    }
}

void forget_station(Chart& chart, const Id& id) {
    for (std::size_t i = 0; i < chart.heat_plans.size(); ++i) {
        if (chart.heat_plans[i].station != id) continue;
        HeatPlan plan = chart.heat_plans[i];
        plan.station = {};
        chart.heat_plans.replace(i, std::move(plan));
    }
}

/// The record stays; only the way to the picture goes.
void forget_photo(Chart& chart, const Id& id) {
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        if (chart.parts[i].orientation.evidence.photo != id) continue;
        Footprint part = chart.parts[i];
        part.orientation.evidence.photo = {};
        part.orientation.evidence.crop_px.clear();
        chart.parts.replace(i, std::move(part));
    }
}

bool remove_one(Chart& chart, const Id& id) {
    if (erase_from(chart.parts, id)) {
        forget_part(chart, id);
        return true;
    }
    if (erase_from(chart.shields, id)) {
        forget_shield(chart, id);
        return true;
    }
    if (erase_from(chart.stations, id)) {
        forget_station(chart, id);
        return true;
    }
    if (erase_from(chart.photos, id)) {
        forget_photo(chart, id);
        return true;
    }
    return erase_from(chart.keep_outs, id) || erase_from(chart.notes, id) || erase_from(chart.readings, id) ||
           erase_from(chart.heat_plans, id) || erase_from(chart.copper_areas, id) || erase_from(chart.ticks, id) ||
           erase_from(chart.revisions, id);
}

} // namespace

Result<Chart> add_part(const Chart& chart, Footprint part) {
    if (auto fault = fault_of_new(chart, part.id)) return *fault;
    if (auto fault = fault_of(part)) return Error{*fault, part.name};
    Chart next = chart;
    next.parts.add(std::move(part));
    return next;
}

Result<Chart> remove_parts(const Chart& chart, std::span<const Id> ids) {
    PartFinder finder(chart);
    for (const Id& id : ids)
        if (!finder.find(id)) return no_such(id);
    return remove(chart, ids);
}

Result<Chart> move_parts(const Chart& chart, std::span<const Id> ids, Vec2 by_mm) {
    // Without the noise of sums: 0.1 + 0.2 mm is 0.3 mm in the file too.
    constexpr double kPerMm = 1e9;
    const auto clean = [](double mm) { return std::abs(mm) < 1e5 ? std::round(mm * kPerMm) / kPerMm : mm; };
    return change_each(chart, ids, [&](Footprint& part) {
        const Vec2 at = part.placement.at + by_mm;
        part.placement.at = {clean(at.x), clean(at.y)};
    });
}

Result<Chart> turn_parts(const Chart& chart, std::span<const Id> ids, Angle by, Vec2 about, Side seen_from) {
    // Seen from the bottom a counter-clockwise turn runs clockwise in the board frame, which is seen from the top.
    const Angle on_board = seen_from == Side::Top ? by : -by;
    const Affine map = Affine::rotation_about(about, on_board);
    return change_each(chart, ids, [&](Footprint& part) {
        const Angle own = part.placement.side == Side::Top ? on_board : -on_board;
        part.placement.at = map(part.placement.at);
        part.placement.turn = (part.placement.turn + own).wrapped();
    });
}

Result<Chart> place_part(const Chart& chart, const Id& id, Placement placement) {
    placement.turn = placement.turn.wrapped();
    return change_each(chart, std::span(&id, 1), [&](Footprint& part) { part.placement = placement; });
}

Result<Chart> change_side(const Chart& chart, std::span<const Id> ids) {
    return change_each(chart, ids, [](Footprint& part) {
        Placement& placement = part.placement;
        placement.side = placement.side == Side::Top ? Side::Bottom : Side::Top;
    });
}

Result<Chart> rename_part(const Chart& chart, const Id& id, std::string name) {
    return change_part(chart, id, [&](Footprint& part) { part.name = std::move(name); });
}

Result<Chart> set_value(const Chart& chart, const Id& id, std::string value) {
    return change_part(chart, id, [&](Footprint& part) { part.value = value_as_printed(value); });
}

Result<Chart> set_stated_pad_count(const Chart& chart, const Id& id, std::optional<int> count) {
    return change_part(chart, id, [&](Footprint& part) { part.stated_pad_count = count; });
}

Result<Chart> replace_pattern(const Chart& chart, const Id& id, const Footprint& pattern) {
    // Another frame: whoever lays it down knows where the mark comes to lie.
    return change_each(chart, std::span(&id, 1), [&](Footprint& part) {
        part.family = pattern.family;
        part.family_parameters = pattern.family_parameters;
        part.pads = pattern.pads;
        part.body = pattern.body;
        part.stated_pad_count.reset();
    });
}

Result<Chart> set_orientation(const Chart& chart, const Id& id, Orientation orientation) {
    return change_part(chart, id, [&](Footprint& part) { part.orientation = std::move(orientation); });
}

Result<Chart> set_heat_sensitivity(const Chart& chart, const Id& id, std::optional<HeatSensitivity> heat) {
    return change_part(chart, id, [&](Footprint& part) { part.heat = std::move(heat); });
}

Result<Chart> set_condition(const Chart& chart, const Id& id, Condition condition) {
    return change_part(chart, id, [&](Footprint& part) { part.condition = std::move(condition); });
}

Result<Chart> set_pad_state(const Chart& chart, const Id& id, std::size_t pad, LandState land, JointState joint) {
    const auto at = find_part(chart, id);
    if (!at) return no_such(id);
    if (pad >= chart.parts[*at].pads.size())
        return Error{"the part has " + std::to_string(chart.parts[*at].pads.size()) + " pads; there is no pad #" +
                         std::to_string(pad + 1),
                     chart.parts[*at].name};
    return change_part(chart, id, [&](Footprint& part) {
        part.pads[pad].land = land;
        part.pads[pad].joint = joint;
    });
}

Result<Chart> set_harmless_turns(const Chart& chart, const Id& id, std::vector<double> turns_deg) {
    if (!turns_deg.empty()) {
        turns_deg.push_back(0.0);
        for (double& turn : turns_deg)
            turn = Angle::degrees(turn).wrapped().degrees();
        std::sort(turns_deg.begin(), turns_deg.end());
        turns_deg.erase(std::unique(turns_deg.begin(), turns_deg.end()), turns_deg.end());
    }
    return change_part(chart, id, [&](Footprint& part) { part.harmless_turns_deg = std::move(turns_deg); });
}

Result<Chart> set_locked(const Chart& chart, std::span<const Id> ids, bool locked) {
    return change_each(chart, ids, [&](Footprint& part) { part.locked = locked; });
}

namespace {

/// A mark's bearing is taken from the middle of the part: where that moves in the part, the mark does not. A part that
/// is given another frame as well is another matter: whoever does that knows where its mark comes to lie.
void change_round_mark(Footprint& part, const std::function<void(Footprint&)>& change) {
    constexpr double kSame_mm = 1e-9;
    const auto spot = mark_spot(part);
    const Vec2 centre = spot ? centre_in_part(part) : Vec2{};
    const Angle bearing = part.orientation.bearing;
    const Placement placement = part.placement;
    change(part);
    if (!spot || part.placement != placement || part.orientation.state != RecordState::Recorded ||
        part.orientation.bearing != bearing)
        return;
    if (geometry::distance(centre_in_part(part), centre) > kSame_mm) set_mark_spot(part, *spot);
}

} // namespace

Result<Chart> change_part(const Chart& chart, const Id& id, const std::function<void(Footprint&)>& change) {
    return change_parts(chart, std::span(&id, 1), change);
}

Result<Chart> change_parts(const Chart& chart, std::span<const Id> ids, const std::function<void(Footprint&)>& change) {
    return change_each(chart, ids, [&](Footprint& part) { change_round_mark(part, change); });
}

Result<Chart> set_title(const Chart& chart, Title title) {
    Chart next = chart;
    next.title = std::move(title);
    return next;
}

Result<Chart> set_scale(const Chart& chart, std::optional<Scale> scale) {
    Chart next = chart;
    next.scale = std::move(scale);
    return checked(std::move(next));
}

Result<Chart> set_outline(const Chart& chart, std::optional<geometry::Polygon> outline) {
    Chart next = chart;
    next.board.outline = std::move(outline);
    return checked(std::move(next));
}

Result<Chart> set_stack(const Chart& chart, Stack stack) {
    Chart next = chart;
    next.board.stack = std::move(stack);
    return checked(std::move(next));
}

Result<Chart> set_rules(const Chart& chart, Rules rules) {
    Chart next = chart;
    next.rules = std::move(rules);
    return checked(std::move(next));
}

Result<Chart> put(const Chart& chart, KeepOut thing) {
    return put_into(chart, &Chart::keep_outs, std::move(thing));
}
Result<Chart> put(const Chart& chart, Shield thing) {
    return put_into(chart, &Chart::shields, std::move(thing));
}
Result<Chart> put(const Chart& chart, Note thing) {
    return put_into(chart, &Chart::notes, std::move(thing));
}
Result<Chart> put(const Chart& chart, Reading thing) {
    return put_into(chart, &Chart::readings, std::move(thing));
}
Result<Chart> put(const Chart& chart, HeatPlan thing) {
    return put_into(chart, &Chart::heat_plans, std::move(thing));
}
Result<Chart> put(const Chart& chart, Photo thing) {
    return put_into(chart, &Chart::photos, std::move(thing));
}

Result<Chart> put(const Chart& chart, CopperArea thing) {
    return put_into(chart, &Chart::copper_areas, std::move(thing));
}
Result<Chart> put(const Chart& chart, Station thing) {
    return put_into(chart, &Chart::stations, std::move(thing));
}
Result<Chart> put(const Chart& chart, Tick thing) {
    return put_into(chart, &Chart::ticks, std::move(thing));
}
Result<Chart> put(const Chart& chart, RevisionNote thing) {
    return put_into(chart, &Chart::revisions, std::move(thing));
}

Result<Chart> settle_conflict(const Chart& chart, std::size_t index) {
    if (index >= chart.conflicts.size())
        return Error{"the chart has " + std::to_string(chart.conflicts.size()) + " conflicts; there is no conflict #" +
                         std::to_string(index + 1),
                     {}};
    Chart next = chart;
    next.conflicts.erase(next.conflicts.begin() + static_cast<std::ptrdiff_t>(index));
    return next;
}

Result<Chart> remove(const Chart& chart, std::span<const Id> ids) {
    Chart next = chart;
    for (const Id& id : ids)
        if (!remove_one(next, id)) return no_such(id);
    return next;
}

} // namespace padchart::document
