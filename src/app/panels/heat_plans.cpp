// The no-aim map and the chart's plans.

#include <algorithm>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/heat_parts.hpp"
#include "app/panels/heat_widgets.hpp"
#include "document/edits.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::HeatPlan;

double share_computed(const analysis::NoAimMap& map) {
    if (map.is_computed.empty()) return 0.0;
    const auto done = std::count(map.is_computed.begin(), map.is_computed.end(), true);
    return static_cast<double>(done) / static_cast<double>(map.is_computed.size());
}

void map_words(Ui& ui, const Session& s) {
    const NoAimAnswer* map = s.heat.map();
    if (map == nullptr || s.heat.is_map_stale()) {
        muted(ui, map == nullptr ? "Working it out; until then the zones of the chart's rules are shown."
                                 : "Working it out anew; the pale zones are of the last plan.");
        return progress(ui, 0.0);
    }
    if (!map->report) return muted(ui, scene::with_degrees(map->report.error().message));
    if (map->is_quick) {
        muted(ui, "A rough map; its edges are being refined.");
        return progress(ui, share_computed(*map->report));
    }
    const analysis::NoAimMap& found = *map->report;
    muted(ui, fmt::format("No aim: {:.0f} % of the board; depends on the board: {:.0f} %. {}", 100 * found.share_no_aim,
                          100 * found.share_depends,
                          found.good.empty() ? analysis::no_aim_sentence(found)
                                             : "The green line holds aims that melt it surely and spare everything."));
}

bool small_button(const Ui& ui, const char* label, float width, bool enabled = true) {
    return button(ui, label, ButtonKind::Plain, width, enabled, ui.px(24));
}

void plan_row(Ui& ui, Session& s, const HeatPlan& plan) {
    ImGui::PushID(plan.id.text.c_str());
    const float button_width = ui.px(72), line = ImGui::GetContentRegionAvail().x;
    const bool in_hand = s.heat.has_plan() && s.heat.plan().id == plan.id;
    const bool compared = s.heat.compared == plan.id;
    const float room = line - 2 * (button_width + ui.px(6)) - ui.px(6);
    const std::string name = fitted(name_of(s.editor.chart(), plan), room - ui.px(20));
    const ImVec2 at = ImGui::GetCursorPos();
    bool open = ImGui::Selectable("##plan", in_hand, 0, {room, ui.px(24)});
    ImGui::SameLine();
    const ImVec2 after = ImGui::GetCursorPos();
    ImGui::SetCursorPos({at.x, at.y + ui.px(4)});
    dot(ui, in_hand ? Tone::Fine : Tone::Plain, in_hand);
    ImGui::SetCursorPos({at.x + ui.px(20), at.y + ui.px(4)});
    ImGui::TextUnformatted(name.c_str());
    ImGui::SetCursorPos({at.x + room + ui.px(6), after.y});
    const document::Id id = plan.id; // both may replace the plan
    if (small_button(ui, compared ? "Stop" : "Compare", button_width, !in_hand))
        s.heat.compared = compared ? document::Id{} : id;
    ImGui::SameLine(0, ui.px(6));
    if (small_button(ui, "Delete", button_width))
        s.editor.commit(document::remove(s.editor.chart(), std::array{id}), "Delete the heat plan");
    else if (open)
        s.heat.open(s.editor.chart(), id);
    ImGui::PopID();
}

std::string plans_summary(const Session& s) {
    const std::size_t count = s.editor.chart().heat_plans.size();
    if (s.heat.has_plan() && !s.heat.is_saved(s.editor.chart())) return "this one is not in the chart";
    return fmt::format("{} in the chart", count);
}

} // namespace

void heat_map(Ui& ui, Session& s) {
    bool shown = s.heat.wants_map;
    if (toggle(ui, "No-aim map", shown)) s.heat.wants_map = shown;
    if (!shown) return;
    ImGui::SameLine(0, ui.px(18));
    toggle(ui, "at the end of the dwell", s.heat.dwell_limited);
    map_words(ui, s);
}

void heat_plans(Ui& ui, Session& s) {
    if (s.heat.has_plan()) {
        gap(ui, 2);
        const Action& save = *find_action("heat-save");
        if (button(ui, "Save plan into the chart", ButtonKind::Filled, -1, save.enabled(s))) run(save, s);
    }
    bool open = s.heat_view.plans || !s.heat.has_plan();
    section(ui, "Plans", plans_summary(s), open);
    if (s.heat.has_plan()) s.heat_view.plans = open;
    if (!open) return;
    const document::Chart chart = s.editor.chart(); // deleting one must not pull the list from under the loop
    for (const HeatPlan& plan : chart.heat_plans)
        plan_row(ui, s, plan);
    if (chart.heat_plans.empty()) muted(ui, "None yet.");
    if (s.heat.has_plan()) {
        const Action& another = *find_action("heat-save-another");
        if (button(ui, "Begin another plan from this one", ButtonKind::Plain, -1, another.enabled(s))) run(another, s);
    }
}

} // namespace padchart::app
