#include "app/bar_plan.hpp"

#include <algorithm>

namespace padchart::app {
namespace {

/// What the buttons leave of the bar is for the words.
BarPlan plan_with(const BarNeeds& needs, std::vector<float> buttons, bool is_stacked, float gap) {
    float taken = 0.0F;
    for (const float width : buttons)
        if (width > 0.0F) taken += width + gap;
    return {is_stacked, std::move(buttons), gap, needs.room - taken - needs.apart};
}

bool holds_stacked(const BarNeeds& needs, const BarPlan& plan) {
    return plan.words >= std::max(needs.state, std::min(needs.title, needs.least_title));
}

} // namespace

BarPlan bar_plan(const BarNeeds& needs) {
    std::vector<float> usual;
    for (const float label : needs.labels)
        usual.push_back(std::max(needs.usual_button, label));
    BarPlan plan = plan_with(needs, usual, false, needs.gap);
    if (plan.words >= needs.title + needs.apart + needs.state) return plan;
    plan.is_stacked = true;
    if (holds_stacked(needs, plan)) return plan;
    plan = plan_with(needs, needs.labels, true, needs.gap);
    if (holds_stacked(needs, plan)) return plan;
    for (float& width : plan.buttons)
        width -= needs.spare;
    plan = plan_with(needs, plan.buttons, true, needs.least_gap);
    for (const std::size_t dropped : needs.drop_order) {
        if (holds_stacked(needs, plan)) break;
        plan.buttons[dropped] = 0.0F;
        plan = plan_with(needs, plan.buttons, true, needs.least_gap);
    }
    return plan;
}

} // namespace padchart::app
