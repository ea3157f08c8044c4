#pragma once
// What the heat stage does to the plan in hand and to the chart; no panels. What the hand changes on a plan is in the
// chart as soon as the hand rests, a step of history as any other edit.

#include <functional>
#include <string>

#include "app/session.hpp"

namespace padchart::app {

/// "U4", "a spot on the board".
[[nodiscard]] std::string target_name(const document::Chart& chart, const document::HeatPlan& plan);

/// Puts the plan in hand into the chart as it is, one step of history.
void save_heat_plan(Session& session);
/// A second plan for the same target goes on from the one in hand, one step of history.
void begin_another_plan(Session& session);
using PlanChange = std::function<void(document::HeatPlan&)>;
/// A change of the plan in hand, one step of history; none yet while the hand holds on (`moving`).
void change_plan(Session& session, const PlanChange& change, bool moving = false);
/// The same for a small step that is pressed again and again: the same one after the other is one step of history.
void nudge_plan(Session& session, const PlanChange& change);
/// The preheater below the board on or off; on again it is as hot as it was when it was switched off in this session.
void switch_preheat(Session& session, bool on);
/// The hand has let go: what it changed is kept.
void rest_plan(Editor& editor, HeatDesk& heat);
/// What follows for the plan in hand from the last step becomes part of that step.
void keep_with_last_step(Editor& editor, HeatDesk& heat);
/// The advised plan in hand and, with the shields it needs, in the chart: one step of history.
void apply_advice(Session& session, const analysis::AdvisedPlan& advised);

} // namespace padchart::app
