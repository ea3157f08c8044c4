#include "document/copies.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <unordered_map>
#include <unordered_set>

#include "document/edits.hpp"

namespace padchart::document {
namespace {

using geometry::Vec2;

constexpr double kPerMm = 1e6;

Vec2 clean(Vec2 mm) {
    return {std::round(mm.x * kPerMm) / kPerMm, std::round(mm.y * kPerMm) / kPerMm};
}

struct Numbered {
    std::string stem;
    long number = 1;
};

Numbered numbered(const std::string& name) {
    std::size_t digits = name.size();
    while (digits > 0 && name[digits - 1] >= '0' && name[digits - 1] <= '9')
        --digits;
    Numbered parts{name.substr(0, digits), 1};
    // A number that is too long is no count; the copy's own number goes behind it.
    if (name.size() - digits > 9) return {name, 1};
    std::from_chars(name.data() + digits, name.data() + name.size(), parts.number);
    return parts;
}

using Names = std::unordered_set<std::string>;

Names names_of(const Chart& chart) {
    Names names;
    for (const Footprint& part : chart.parts)
        names.insert(part.name);
    return names;
}

std::string free_after(const Names& taken, const std::string& name) {
    if (name.empty()) return name;
    const Numbered parts = numbered(name);
    for (long number = parts.number + 1;; ++number) {
        std::string next = parts.stem + std::to_string(number);
        if (!taken.contains(next)) return next;
    }
}

Result<Fragment> things_of(const Chart& chart, std::span<const Id> ids) {
    Result<Fragment> things = fragment_of(chart, ids);
    if (things && things->empty()) return Error{"there is nothing to copy; select a part or an area first", {}};
    return things;
}

void append(Fragment& to, const Fragment& more) {
    to.parts.insert(to.parts.end(), more.parts.begin(), more.parts.end());
    to.keep_outs.insert(to.keep_outs.end(), more.keep_outs.begin(), more.keep_outs.end());
    to.shields.insert(to.shields.end(), more.shields.begin(), more.shields.end());
    to.notes.insert(to.notes.end(), more.notes.begin(), more.notes.end());
}

std::optional<Error> too_many(std::size_t copies) {
    if (copies <= kMostCopies) return std::nullopt;
    return Error{std::to_string(copies) + " copies are too many; at most " + std::to_string(kMostCopies) +
                     " can be made at once",
                 {}};
}

} // namespace

Footprint unseen(const Footprint& part) {
    Footprint copy = part;
    copy.condition = {};
    copy.trace_key.clear();
    copy.locked = false;
    copy.orientation.state = RecordState::NotRecorded;
    copy.orientation.evidence = {};
    for (Pad& pad : copy.pads) {
        pad.land = LandState::NotChecked;
        pad.joint = JointState::NotChecked;
    }
    return copy;
}

std::string next_name(const Chart& chart, const std::string& name) {
    return free_after(names_of(chart), name);
}

namespace {

using Renamed = std::unordered_map<std::string, Id>; // id of the first one to the copy's

std::optional<Error> add_parts(Copies& made, const std::vector<Footprint>& parts, Renamed& renamed) {
    Names taken = names_of(made.chart);
    for (const Footprint& part : parts) {
        Footprint copy = unseen(part);
        if (taken.contains(copy.name)) copy.name = free_after(taken, copy.name);
        if (!copy.name.empty()) taken.insert(copy.name);
        copy.id = free_id(made.chart, "part", copy.name.empty() ? "copy of " + part.id.text : copy.name);
        const Id id = copy.id;
        Result<Chart> next = add_part(made.chart, std::move(copy));
        if (!next) return next.error();
        made.chart = std::move(next).value();
        made.ids.push_back(id);
        renamed[part.id.text] = id;
    }
    return std::nullopt;
}

template <class T>
std::optional<Error> add_thing(Copies& made, T copy, std::string_view prefix) {
    copy.id = free_id(made.chart, prefix, "copy of " + copy.id.text);
    const Id id = copy.id;
    Result<Chart> next = put(made.chart, std::move(copy));
    if (!next) return next.error();
    made.chart = std::move(next).value();
    made.ids.push_back(id);
    return std::nullopt;
}

std::optional<Error> add_areas(Copies& made, const Fragment& things) {
    for (KeepOut copy : things.keep_outs) {
        copy.trace_key.clear();
        if (auto fault = add_thing(made, std::move(copy), "keep-out")) return fault;
    }
    for (const Shield& shield : things.shields)
        if (auto fault = add_thing(made, shield, "shield")) return fault;
    return std::nullopt;
}

std::optional<Error> add_notes(Copies& made, const Fragment& things, const Renamed& renamed) {
    for (Note copy : things.notes) {
        const auto at = renamed.find(copy.target.text);
        if (at != renamed.end())
            copy.target = at->second;
        else if (!copy.target.is_empty() && !is_taken(made.chart, copy.target))
            copy.target = {};
        if (auto fault = add_thing(made, std::move(copy), "note")) return fault;
    }
    return std::nullopt;
}

} // namespace

Result<Copies> add_copies(const Chart& chart, const Fragment& things) {
    if (const auto fault = too_many(things.size())) return *fault;
    Copies made{chart, {}};
    Renamed renamed;
    if (const auto fault = add_parts(made, things.parts, renamed)) return *fault;
    if (const auto fault = add_areas(made, things)) return *fault;
    if (const auto fault = add_notes(made, things, renamed)) return *fault;
    return made;
}

Result<Copies> add_copies(const Chart& chart, std::span<const Footprint> parts) {
    Fragment things;
    things.parts.assign(parts.begin(), parts.end());
    return add_copies(chart, things);
}

Result<Copies> duplicate(const Chart& chart, std::span<const Id> ids, Vec2 by_mm) {
    Result<Fragment> things = things_of(chart, ids);
    if (!things) return things.error();
    return add_copies(chart, moved(std::move(*things), by_mm));
}

Result<Copies> copy_to_grid(const Chart& chart, std::span<const Id> ids, const GridArray& grid) {
    const Result<Fragment> things = things_of(chart, ids);
    if (!things) return things.error();
    if (grid.columns < 1 || grid.rows < 1) return Error{"a grid has at least one column and one row", {}};
    const std::size_t places = static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows);
    if (places < 2) return Error{"a grid of one column and one row makes no copy", {}};
    // Two factors of which neither is large cannot overflow.
    for (const std::size_t copies : {places - 1, std::min(places - 1, kMostCopies + 1) * things->size()})
        if (const auto fault = too_many(copies)) return *fault;
    if ((grid.columns > 1 && grid.column_step == Vec2{}) || (grid.rows > 1 && grid.row_step == Vec2{}))
        return Error{"the copies would lie on each other; the step must not be 0", {}};
    Fragment copies;
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column)
            if (row > 0 || column > 0) append(copies, moved(*things, grid.column_step * column + grid.row_step * row));
    return add_copies(chart, copies);
}

namespace {

/// `by`: what the map turns by, counter-clockwise as seen from the top.
Fragment turned(Fragment things, const geometry::Affine& map, Angle by, bool parts_turn) {
    for (Footprint& part : things.parts) {
        Placement& at = part.placement;
        at.at = clean(map(at.at));
        if (parts_turn) at.turn = (at.turn + (at.side == Side::Top ? by : -by)).wrapped();
    }
    for (KeepOut& thing : things.keep_outs)
        thing.outline = geometry::transformed(thing.outline, map);
    for (Shield& thing : things.shields)
        thing.outline = geometry::transformed(thing.outline, map);
    for (Note& thing : things.notes)
        thing.at = clean(map(thing.at));
    return things;
}

} // namespace

Result<Copies> copy_to_ring(const Chart& chart, std::span<const Id> ids, const RingArray& ring) {
    const Result<Fragment> things = things_of(chart, ids);
    if (!things) return things.error();
    if (ring.count < 2) return Error{"a ring has at least two places", {}};
    if (const auto fault = too_many(static_cast<std::size_t>(ring.count - 1) * things->size())) return *fault;
    if (ring.step.wrapped() == Angle()) return Error{"the copies would lie on each other; the step must not be 0", {}};
    Fragment copies;
    for (int i = 1; i < ring.count; ++i) {
        const Angle by = ring.step * i;
        // Seen from the bottom counter-clockwise runs clockwise in the board frame, which is seen from the top.
        const Angle on_board = ring.seen_from == Side::Top ? by : -by;
        const auto map = geometry::Affine::rotation_about(ring.about, on_board);
        append(copies, turned(*things, map, on_board, ring.turns));
    }
    return add_copies(chart, copies);
}

} // namespace padchart::document
