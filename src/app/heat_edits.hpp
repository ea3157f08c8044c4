#pragma once
// What the heat stage does to the plan in hand and to the chart; no panels.

#include <functional>
#include <string>

#include "app/session.hpp"

namespace padchart::app {

/// "U4", "a spot on the board".
[[nodiscard]] std::string target_name(const document::Chart& chart, const document::HeatPlan& plan);

/// Saves the plan in hand, one step of history.
void save_heat_plan(Session& session);
/// A change of the plan in hand; `moving` while the hand holds on.
void change_plan(Session& session, const std::function<void(document::HeatPlan&)>& change, bool moving = false);
/// The advised plan in hand, with the shields it needs added to the chart in one step.
void apply_advice(Session& session, const analysis::AdvisedPlan& advised);

} // namespace padchart::app
