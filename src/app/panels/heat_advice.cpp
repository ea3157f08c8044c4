// Better plans on demand.

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/heat_parts.hpp"
#include "app/panels/heat_widgets.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using analysis::Advice;
using analysis::AdvisedPlan;

void advised(Ui& ui, Session& s, const AdvisedPlan& plan, const char* label, int number) {
    ImGui::PushID(number);
    wrapped(ui, scene::with_degrees(plan.sentence));
    if (button(ui, label, ButtonKind::Plain, -1)) apply_advice(s, plan);
    gap(ui, 4);
    ImGui::PopID();
}

void answer(Ui& ui, Session& s, const Advice& advice) {
    // The first one is the answer; the others are those of the plans below.
    if (!advice.sentences.empty()) wrapped(ui, scene::with_degrees(advice.sentences.front()));
    gap(ui, 2);
    int number = 0;
    for (const AdvisedPlan& plan : advice.plans)
        advised(ui, s, plan, "Apply", number++);
    if (!advice.exists && advice.nearest_miss) advised(ui, s, *advice.nearest_miss, "Apply the nearest miss", number++);
    if (!advice.what_ifs.empty()) title(ui, "Single changes");
    for (const analysis::WhatIf& what : advice.what_ifs) {
        ImGui::PushID(number++);
        wrapped(ui, scene::with_degrees(what.sentence));
        if (button(ui, "Apply", ButtonKind::Plain, -1)) {
            AdvisedPlan plan;
            plan.plan = what.plan;
            plan.new_shields = what.new_shields;
            apply_advice(s, plan);
        }
        ImGui::PopID();
    }
}

std::string advice_summary(const Session& s) {
    if (s.heat.is_advice_busy()) return "searching ...";
    const auto& answer = s.heat.advice();
    if (!answer || !answer->report) return "";
    if (!answer->report->exists) return "none works";
    return fmt::format("{} found", answer->report->plans.size());
}

} // namespace

void heat_advice_section(Ui& ui, Session& s) {
    if (!section(ui, "Find a plan", advice_summary(s), s.heat_view.advice)) return;
    const Action& find = *find_action("heat-advise");
    if (s.heat.is_advice_busy()) {
        muted(ui, "Computing other aims, temperatures, nozzles, shields and preheat. This takes a while.");
        if (button(ui, "Stop", ButtonKind::Outlined, -1, true, ui.px(30))) s.heat.stop_advice();
    } else if (button(ui, "Search for a plan that spares the rest", ButtonKind::Outlined, -1, find.enabled(s),
                      ui.px(30))) {
        run(find, s);
    }
    const std::shared_ptr<const AdviceAnswer> found = s.heat.advice();
    if (!found) return;
    if (found->report)
        answer(ui, s, *found->report);
    else
        wrapped(ui, scene::with_degrees(found->report.error().message));
}

} // namespace padchart::app
