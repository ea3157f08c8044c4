#pragma once
// Round what heat would hurt: where the nozzle's axis may not go. For the clearance files alone.

#include <optional>
#include <vector>

#include "analysis/clearance.hpp"

namespace padchart::analysis {

/// Nozzle radius + margin, mm.
[[nodiscard]] double nozzle_reach(const document::Rules& rules);

/// Fills zones, top_zones, bottom_zones and adds to the findings. `board`: the proper area inside the board's outer
/// edge, or nothing.
void add_zones(const document::Chart& chart, const std::optional<geometry::Region>& board, ClearanceReport& report);

} // namespace padchart::analysis
