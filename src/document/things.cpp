#include "document/things.hpp"

#include <algorithm>
#include <vector>

#include "document/edits.hpp"
#include "document/part_finder.hpp"
#include "geometry/affine.hpp"

namespace padchart::document {
namespace {

template <class T>
const T* find_in(const Items<T>& items, const Id& id) {
    for (const T& item : items)
        if (item.id == id) return &item;
    return nullptr;
}

template <class T>
std::size_t number_of(const Items<T>& items, const Id& id) {
    std::size_t number = 0;
    for (const T& item : items) {
        ++number;
        if (item.id == id) return number;
    }
    return 0;
}

std::string or_kind(const std::string& name, const char* kind) {
    return name.empty() ? std::string(kind) : name;
}

template <class T>
Result<Chart> with_outline_moved(const Chart& chart, T thing, geometry::Vec2 by) {
    thing.outline = geometry::transformed(thing.outline, geometry::Affine::translation(by));
    return put(chart, std::move(thing));
}

template <class T>
Result<Chart> with_place_moved(const Chart& chart, T thing, geometry::Vec2 by) {
    thing.at = thing.at + by;
    return put(chart, std::move(thing));
}

Result<Chart> move_other(const Chart& chart, const Id& id, geometry::Vec2 by) {
    if (const KeepOut* thing = find_keep_out(chart, id)) return with_outline_moved(chart, *thing, by);
    if (const Shield* thing = find_shield(chart, id)) return with_outline_moved(chart, *thing, by);
    if (const Note* thing = find_note(chart, id)) return with_place_moved(chart, *thing, by);
    if (const Reading* thing = find_reading(chart, id)) return with_place_moved(chart, *thing, by);
    return Error{"Nothing that can be moved bears the id " + id.text + ".", ""};
}

} // namespace

ThingKind kind_of(const Chart& chart, const Id& id) {
    if (find_part(chart, id)) return ThingKind::Part;
    if (find_keep_out(chart, id) != nullptr) return ThingKind::KeepOut;
    if (find_shield(chart, id) != nullptr) return ThingKind::Shield;
    if (find_note(chart, id) != nullptr) return ThingKind::Note;
    if (find_reading(chart, id) != nullptr) return ThingKind::Reading;
    if (find_in(chart.heat_plans, id) != nullptr) return ThingKind::HeatPlan;
    if (find_in(chart.photos, id) != nullptr) return ThingKind::Photo;
    return is_taken(chart, id) ? ThingKind::Other : ThingKind::None;
}

const KeepOut* find_keep_out(const Chart& chart, const Id& id) {
    return find_in(chart.keep_outs, id);
}
const Shield* find_shield(const Chart& chart, const Id& id) {
    return find_in(chart.shields, id);
}
const Note* find_note(const Chart& chart, const Id& id) {
    return find_in(chart.notes, id);
}
const Reading* find_reading(const Chart& chart, const Id& id) {
    return find_in(chart.readings, id);
}

std::string pin_name(const Chart& chart, const Id& id) {
    if (find_note(chart, id) != nullptr) return "N" + std::to_string(number_of(chart.notes, id));
    if (find_reading(chart, id) != nullptr) return "M" + std::to_string(number_of(chart.readings, id));
    return {};
}

std::string spoken_name(const Chart& chart, const Id& id) {
    if (const auto at = find_part(chart, id)) return or_kind(chart.parts[*at].name, "a part without a name");
    if (const KeepOut* thing = find_keep_out(chart, id)) return or_kind(thing->name, "a keep-out");
    if (const Shield* thing = find_shield(chart, id)) return or_kind(thing->name, "a shield");
    if (find_note(chart, id) != nullptr) return "note " + pin_name(chart, id);
    if (find_reading(chart, id) != nullptr) return "reading " + pin_name(chart, id);
    return "something";
}

geometry::Box place_of(const Chart& chart, const Id& id) {
    if (const KeepOut* thing = find_keep_out(chart, id)) return geometry::bounds(thing->outline);
    if (const Shield* thing = find_shield(chart, id)) return geometry::bounds(thing->outline);
    if (const Note* thing = find_note(chart, id)) return {thing->at, thing->at};
    if (const Reading* thing = find_reading(chart, id)) return {thing->at, thing->at};
    return {};
}

Result<Chart> move_things(const Chart& chart, std::span<const Id> ids, geometry::Vec2 by_mm) {
    std::vector<Id> parts, others;
    PartFinder finder(chart);
    for (const Id& id : ids)
        (finder.find(id) ? parts : others).push_back(id);
    Result<Chart> moved = parts.empty() ? Result<Chart>(chart) : move_parts(chart, parts, by_mm);
    for (const Id& id : others) {
        if (!moved) break;
        moved = move_other(*moved, id, by_mm);
    }
    return moved;
}

} // namespace padchart::document
