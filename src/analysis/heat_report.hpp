#pragma once
// From what four runs saw to what is told of them.

#include <array>

#include "analysis/heat.hpp"
#include "analysis/heat_run.hpp"

namespace padchart::analysis {

/// `runs`: low, nominal, high, high and spreading.
[[nodiscard]] HeatReport report_of(const document::Chart& chart, const HeatSetup& setup,
                                   const std::array<CaseRun, 4>& runs);

} // namespace padchart::analysis
