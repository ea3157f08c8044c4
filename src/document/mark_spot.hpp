#pragma once
// Where on a part the mark on record lies. A record holds the mark's bearing from the middle of the part: where the
// part gets another middle the bearing has to follow, or the mark would wander to another pin.

#include <optional>

#include "document/footprint.hpp"

namespace padchart::document {

/// Where the bearing of the mark on record meets the edge of the extent, in the part's frame. Nothing without a record.
[[nodiscard]] std::optional<geometry::Vec2> mark_spot(const Footprint& part);
/// Gives the mark on record the bearing under which it lies at that spot. Requires: a record.
void set_mark_spot(Footprint& part, geometry::Vec2 spot);

} // namespace padchart::document
