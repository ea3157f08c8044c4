#include "app/heat_edits.hpp"

#include <map>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "app/heat_plan_words.hpp"
#include "app/trace_log.hpp"
#include "document/edits.hpp"

namespace padchart::app {

using document::Chart;
using document::HeatPlan;

namespace {

HeatPlan with_name(const Chart& chart, HeatPlan plan) {
    if (plan.name.empty()) plan.name = "lift " + target_name(chart, plan);
    return plan;
}

using ApplyWay = bool (Editor::*)(Result<Chart>, std::string);

/// The plan goes into the chart as a step and is the one in hand; one that the chart refuses is in neither.
bool keep(Editor& editor, HeatDesk& heat, const Chart& chart, HeatPlan plan, std::string label,
          ApplyWay commit = &Editor::commit) {
    plan = with_name(chart, std::move(plan));
    if (!(editor.*commit)(document::put(chart, plan), std::move(label))) {
        heat.drop_change();
        return false;
    }
    heat.hold(std::move(plan));
    return true;
}

void keep_change(Editor& editor, HeatDesk& heat, ApplyWay commit) {
    heat.rest();
    if (!heat.is_changed()) return;
    const HeatPlan& plan = heat.plan();
    std::string label = fmt::format("Heat plan for {}: {}", target_name(editor.chart(), plan),
                                    what_differs(heat.plan_before_change(), plan));
    keep(editor, heat, editor.chart(), plan, std::move(label), commit);
}

void change_and_keep(Session& s, const PlanChange& change, ApplyWay commit) {
    s.heat.follow(s.editor.chart()); // undone a moment ago, perhaps
    if (!s.heat.has_plan()) return;
    HeatPlan plan = s.heat.plan();
    change(plan);
    s.heat.change(std::move(plan));
    keep_change(s.editor, s.heat, commit);
}

} // namespace

std::string target_name(const Chart& chart, const HeatPlan& plan) {
    const auto at = document::find_part(chart, plan.target);
    if (!at) return "a spot on the board";
    return chart.parts[*at].name.empty() ? "a part without a name" : chart.parts[*at].name;
}

void change_plan(Session& s, const PlanChange& change, bool moving) {
    if (!moving) return change_and_keep(s, change, &Editor::commit);
    if (!s.heat.has_plan()) return;
    HeatPlan plan = s.heat.plan();
    change(plan);
    s.heat.change(std::move(plan), true);
}

namespace {

constexpr double kUsualPreheat_c = 100.0;

/// How hot it was as it was switched off, by plan.
struct PreheatBefore {
    std::map<std::string, double> by_plan;
};

} // namespace

void switch_preheat(Session& s, bool on) {
    auto& before = s.desks.get<PreheatBefore>().by_plan;
    const HeatPlan& now = s.heat.plan();
    if (now.preheat_c) before[now.id.text] = *now.preheat_c;
    const auto kept = before.find(now.id.text);
    const double hot_c = kept == before.end() ? kUsualPreheat_c : kept->second;
    change_plan(s, [&](HeatPlan& plan) { plan.preheat_c = on ? std::optional(hot_c) : std::nullopt; });
}

void nudge_plan(Session& s, const PlanChange& change) {
    change_and_keep(s, change, &Editor::commit_repeated);
}

void rest_plan(Editor& editor, HeatDesk& heat) {
    keep_change(editor, heat, &Editor::commit);
}

void keep_with_last_step(Editor& editor, HeatDesk& heat) {
    keep(editor, heat, editor.chart(), heat.plan(), editor.history().current().label, &Editor::commit_repeated);
}

void save_heat_plan(Session& s) {
    if (!s.heat.has_plan()) return;
    const std::string name = target_name(s.editor.chart(), s.heat.plan());
    if (keep(s.editor, s.heat, s.editor.chart(), s.heat.plan(), "Save the heat plan for " + name))
        s.editor.tell(Severity::Note, "The plan \"" + s.heat.plan().name + "\" is in the chart.");
}

void begin_another_plan(Session& s) {
    if (!s.heat.has_plan()) return;
    const Chart& chart = s.editor.chart();
    HeatPlan plan = with_name(chart, s.heat.plan());
    if (s.heat.is_saved(chart)) plan.name += ", another way";
    plan.id = document::free_id(chart, "hp", plan.target.text);
    const std::string label = "Begin another heat plan for " + target_name(chart, plan);
    if (keep(s.editor, s.heat, chart, std::move(plan), label))
        s.editor.tell(Severity::Note, "The plan \"" + s.heat.plan().name + "\" is in the chart and in hand.");
}

void apply_advice(Session& s, const analysis::AdvisedPlan& advised) {
    HeatPlan plan = advised.plan;
    if (s.heat.has_plan()) {
        plan.id = s.heat.plan().id;
        plan.name = s.heat.plan().name;
        plan.note = s.heat.plan().note;
    }
    Result<Chart> chart = s.editor.chart();
    for (const document::Shield& shield : advised.new_shields)
        if (chart) chart = document::put(*chart, shield);
    if (!chart) return s.editor.tell(Severity::Fault, describe(chart.error()));
    const std::string name = target_name(*chart, plan);
    if (keep(s.editor, s.heat, *chart, std::move(plan), "Apply the advised heat plan for " + name))
        trace("heat-apply", name);
}

} // namespace padchart::app
