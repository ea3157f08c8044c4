#include "app/heat_edits.hpp"

#include <utility>

#include "app/trace_log.hpp"
#include "document/edits.hpp"

namespace padchart::app {

using document::HeatPlan;

std::string target_name(const document::Chart& chart, const HeatPlan& plan) {
    const auto at = document::find_part(chart, plan.target);
    if (!at) return "a spot on the board";
    return chart.parts[*at].name.empty() ? "a part without a name" : chart.parts[*at].name;
}

void change_plan(Session& s, const std::function<void(HeatPlan&)>& change, bool moving) {
    if (!s.heat.has_plan()) return;
    HeatPlan plan = s.heat.plan();
    change(plan);
    s.heat.change(std::move(plan), moving);
}

void save_heat_plan(Session& s) {
    if (!s.heat.has_plan()) return;
    HeatPlan plan = s.heat.plan();
    const std::string name = target_name(s.editor.chart(), plan);
    if (plan.name.empty()) plan.name = "lift " + name;
    if (s.editor.commit(document::put(s.editor.chart(), plan), "Save the heat plan for " + name)) {
        s.heat.change(plan);
        s.editor.tell(Severity::Note, "The plan \"" + plan.name + "\" is in the chart.");
    }
}

void apply_advice(Session& s, const analysis::AdvisedPlan& advised) {
    HeatPlan plan = advised.plan;
    if (s.heat.has_plan()) {
        plan.id = s.heat.plan().id;
        plan.name = s.heat.plan().name;
        plan.note = s.heat.plan().note;
    }
    Result<document::Chart> chart = s.editor.chart();
    for (const document::Shield& shield : advised.new_shields)
        if (chart) chart = document::put(*chart, shield);
    if (!advised.new_shields.empty() && !s.editor.commit(std::move(chart), "Add the advised shield")) return;
    s.heat.change(std::move(plan));
    trace("heat-apply", target_name(s.editor.chart(), s.heat.plan()));
}

} // namespace padchart::app
