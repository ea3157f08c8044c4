#include "document/copies.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
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

Result<std::vector<Footprint>> parts_of(const Chart& chart, std::span<const Id> ids) {
    std::vector<Footprint> parts;
    for (const Id& id : ids) {
        const auto at = find_part(chart, id);
        if (!at) return Error{"nothing in this chart bears the id \"" + id.text + "\"", {}};
        parts.push_back(chart.parts[*at]);
    }
    if (parts.empty()) return Error{"there is nothing to copy; select a part first", {}};
    return parts;
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

Result<Copies> add_copies(const Chart& chart, std::span<const Footprint> parts) {
    if (const auto fault = too_many(parts.size())) return *fault;
    Copies made{chart, {}};
    Names taken = names_of(chart);
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
    }
    return made;
}

Result<Copies> duplicate(const Chart& chart, std::span<const Id> ids, Vec2 by_mm) {
    Result<std::vector<Footprint>> parts = parts_of(chart, ids);
    if (!parts) return parts.error();
    for (Footprint& part : *parts)
        part.placement.at = clean(part.placement.at + by_mm);
    return add_copies(chart, *parts);
}

Result<Copies> copy_to_grid(const Chart& chart, std::span<const Id> ids, const GridArray& grid) {
    const Result<std::vector<Footprint>> parts = parts_of(chart, ids);
    if (!parts) return parts.error();
    if (grid.columns < 1 || grid.rows < 1) return Error{"a grid has at least one column and one row", {}};
    const std::size_t places = static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows);
    if (places < 2) return Error{"a grid of one column and one row makes no copy", {}};
    // Two factors of which neither is large cannot overflow.
    for (const std::size_t copies : {places - 1, std::min(places - 1, kMostCopies + 1) * parts->size()})
        if (const auto fault = too_many(copies)) return *fault;
    if ((grid.columns > 1 && grid.column_step == Vec2{}) || (grid.rows > 1 && grid.row_step == Vec2{}))
        return Error{"the copies would lie on each other; the step must not be 0", {}};
    std::vector<Footprint> copies;
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column) {
            if (row == 0 && column == 0) continue;
            for (Footprint copy : *parts) {
                copy.placement.at = clean(copy.placement.at + grid.column_step * column + grid.row_step * row);
                copies.push_back(std::move(copy));
            }
        }
    return add_copies(chart, copies);
}

Result<Copies> copy_to_ring(const Chart& chart, std::span<const Id> ids, const RingArray& ring) {
    const Result<std::vector<Footprint>> parts = parts_of(chart, ids);
    if (!parts) return parts.error();
    if (ring.count < 2) return Error{"a ring has at least two places", {}};
    if (const auto fault = too_many(static_cast<std::size_t>(ring.count - 1) * parts->size())) return *fault;
    if (ring.step.wrapped() == Angle()) return Error{"the copies would lie on each other; the step must not be 0", {}};
    std::vector<Footprint> copies;
    for (int i = 1; i < ring.count; ++i) {
        const Angle by = ring.step * i;
        // Seen from the bottom counter-clockwise runs clockwise in the board frame, which is seen from the top.
        const Angle on_board = ring.seen_from == Side::Top ? by : -by;
        const auto map = geometry::Affine::rotation_about(ring.about, on_board);
        for (Footprint copy : *parts) {
            Placement& at = copy.placement;
            at.at = clean(map(at.at));
            if (ring.turns) at.turn = (at.turn + (at.side == Side::Top ? on_board : -on_board)).wrapped();
            copies.push_back(std::move(copy));
        }
    }
    return add_copies(chart, copies);
}

} // namespace padchart::document
