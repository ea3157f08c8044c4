#include "app/heat_shields.hpp"

#include <algorithm>
#include <utility>

#include "app/heat_edits.hpp"
#include "app/more_words.hpp"

namespace padchart::app {
namespace {

using document::Id;
using document::Shield;

bool has(const document::Chart& chart, const Id& id) {
    return std::any_of(chart.shields.begin(), chart.shields.end(), [&](const Shield& one) { return one.id == id; });
}

} // namespace

void follow_shields(Session& s) {
    auto& seen = s.desks.get<ShieldsSeen>().chart;
    const std::shared_ptr<const document::Chart> now = s.editor.snapshot();
    const std::shared_ptr<const document::Chart> before = std::exchange(seen, now);
    if (s.editor.history().can_redo()) return; // undone: the plans are as they were then
    if (!before || before == now || before->shields == now->shields || !s.heat.has_plan()) return;
    document::HeatPlan plan = s.heat.plan();
    std::string come;
    for (const Shield& shield : now->shields) {
        const bool is_in = std::find(plan.shields.begin(), plan.shields.end(), shield.id) != plan.shields.end();
        if (has(*before, shield.id) || is_in || shield.side != plan.side) continue;
        plan.shields.push_back(shield.id);
        come = shield.name.empty() ? shield.id.text : shield.name;
    }
    const auto lost = std::erase_if(plan.shields, [&](const Id& id) { return has(*before, id) && !has(*now, id); });
    if (plan.shields == s.heat.plan().shields) return;
    const std::optional<Notice> told = s.editor.notice();
    s.heat.change(std::move(plan));
    keep_with_last_step(s.editor, s.heat);
    if (told) s.editor.tell(told->severity, told->text); // of the same step
    if (lost > 0) tell_more(s.editor, Severity::Warning, "The heat plan in hand has a shield less now.");
    if (!come.empty()) s.editor.tell(Severity::Note, "The shield \"" + come + "\" is in place for this plan.");
}

} // namespace padchart::app
