#pragma once
// Who may come loose beside the target: what whoever reaches in with a tool must know of an estimate.

#include <vector>

#include "analysis/heat.hpp"

namespace padchart::analysis {

/// Parts whose own joints may melt, in the report's order.
[[nodiscard]] std::vector<document::Id> floating_parts(const HeatReport& report);

} // namespace padchart::analysis
