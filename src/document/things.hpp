#pragma once
// Whatever lies on a board and bears an id, for hands that pick and move without asking of what kind it is.

#include <optional>
#include <span>
#include <string>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::document {

enum class ThingKind { None, Part, KeepOut, Shield, Note, Reading, HeatPlan, Photo, Other };

[[nodiscard]] ThingKind kind_of(const Chart& chart, const Id& id);
[[nodiscard]] inline bool is_part(const Chart& chart, const Id& id) {
    return find_part(chart, id).has_value();
}
/// Null where no such thing bears the id.
[[nodiscard]] const KeepOut* find_keep_out(const Chart& chart, const Id& id);
[[nodiscard]] const Shield* find_shield(const Chart& chart, const Id& id);
[[nodiscard]] const Note* find_note(const Chart& chart, const Id& id);
[[nodiscard]] const Reading* find_reading(const Chart& chart, const Id& id);

/// What stands beside the sign of a note or a reading on the map: "N2", "M3". Empty for anything else.
[[nodiscard]] std::string pin_name(const Chart& chart, const Id& id);
/// What people call it: a part's or keep-out's name, "note N2", "reading M3" as they are numbered on the map.
[[nodiscard]] std::string spoken_name(const Chart& chart, const Id& id);
/// Where it lies, board mm; empty for what has no place, and for parts (those have their own bounds).
[[nodiscard]] geometry::Box place_of(const Chart& chart, const Id& id);

/// Parts, keep-outs, shields, notes and readings alike. Errors: an id that none of these bears.
[[nodiscard]] Result<Chart> move_things(const Chart& chart, std::span<const Id> ids, geometry::Vec2 by_mm);

} // namespace padchart::document
