#pragma once
// The plan that `heat` and `noaim` compute: the chart's own plan for the target where it has one, else a usual one
// aimed at the target's centre, with whatever the command line says on top.

#include <vector>

#include "base/result.hpp"
#include "cli/command.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

[[nodiscard]] std::vector<Option> heat_plan_options();
/// Of a nozzle that goes round; not kept in a plan.
[[nodiscard]] Option circle_option();

/// The chart's first plan for that part, else a usual one aimed at its centre. Requires: the part is on the chart.
[[nodiscard]] document::HeatPlan plan_for(const document::Chart& chart, const document::Id& target);

/// Errors: a target or shield nobody knows, an aim that is not "X,Y".
[[nodiscard]] Result<document::HeatPlan> heat_plan_of(const document::Chart& chart, const Arguments& arguments);

/// An error of heat() with the file it is about, and with the plan where one of the chart's own numbers is refused.
[[nodiscard]] Error of_plan(Error error, const document::Chart& chart, const document::HeatPlan& plan,
                            const std::string& path);
/// The same for a plan that the command line has changed: a number from there is named by its option.
[[nodiscard]] Error of_command(Error error, const document::Chart& chart, const document::HeatPlan& plan,
                               const Arguments& arguments);

} // namespace padchart::cli
