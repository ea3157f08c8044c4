#pragma once
// The plan that `heat` and `noaim` compute: the chart's own plan for the target where it has one, else a usual one
// aimed at the target's centre, with whatever the command line says on top.

#include <vector>

#include "base/result.hpp"
#include "cli/command.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

[[nodiscard]] std::vector<Option> heat_plan_options();

/// The chart's first plan for that part, else a usual one aimed at its centre. Requires: the part is on the chart.
[[nodiscard]] document::HeatPlan plan_for(const document::Chart& chart, const document::Id& target);

/// Errors: a target or shield nobody knows, an aim that is not "X,Y".
[[nodiscard]] Result<document::HeatPlan> heat_plan_of(const document::Chart& chart, const Arguments& arguments);

/// An error of the chart itself names the file it is about.
[[nodiscard]] Error of_file(Error error, const std::string& path);

} // namespace padchart::cli
