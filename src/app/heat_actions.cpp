#include "app/heat_actions.hpp"

#include <algorithm>

#include "app/heat_edits.hpp"
#include "app/heat_readings.hpp"

namespace padchart::app {
namespace {

using document::HeatPlan;
using geometry::Vec2;

constexpr std::string_view kGroup = "Heat plan";
constexpr double kStep_mm = 0.1, kStride_mm = 1.0;
constexpr double kScrub_s = 1.0;

const Need in_stage{[](const Session& s) { return s.stage == scene::Stage::Heat; }, "go to Heat"};
const Need has_plan = in_stage.and_then({[](const Session& s) { return s.heat.has_plan(); }, "begin a heat plan"});
const Need has_target =
    has_plan.and_then({[](const Session& s) { return !s.heat.plan().target.is_empty(); }, "give the plan a part"});
const Need is_unsaved = has_plan.and_then(
    {[](const Session& s) { return !s.heat.is_saved(s.editor.chart()); }, "the plan is in the chart as it is"});
const Need has_plans = in_stage.and_then(
    {[](const Session& s) { return !s.editor.chart().heat_plans.empty(); }, "save a plan into the chart"});
const Need has_selected_part =
    in_stage.and_then({[](const Session& s) { return s.editor.selected_part() != nullptr; }, "select one part"});

void add_aims(std::vector<Action>& list) {
    struct Way {
        std::string_view id, label, far_id, far_label;
        Key key;
        Vec2 on_screen;
    };
    static constexpr Way kWays[] = {
        {"aim-left", "Aim 0.1 mm to the left", "aim-far-left", "Aim 1 mm to the left", Key::Left, {-1, 0}},
        {"aim-right", "Aim 0.1 mm to the right", "aim-far-right", "Aim 1 mm to the right", Key::Right, {1, 0}},
        {"aim-up", "Aim 0.1 mm up", "aim-far-up", "Aim 1 mm up", Key::Up, {0, -1}},
        {"aim-down", "Aim 0.1 mm down", "aim-far-down", "Aim 1 mm down", Key::Down, {0, 1}}};
    const auto aim = [](Vec2 on_screen) {
        return [on_screen](Session& s) {
            const Vec2 by = scene::scene_from_board(on_screen, s.seen_from);
            nudge_plan(s, [&](HeatPlan& plan) { plan.aim = plan.aim + by; });
        };
    };
    for (const Way& way : kWays) {
        list.push_back({way.id, way.label, kGroup, {alt(way.key)}, has_plan, aim(way.on_screen * kStep_mm)});
        list.push_back(
            {way.far_id, way.far_label, kGroup, {alt_shift(way.key)}, has_plan, aim(way.on_screen * kStride_mm)});
    }
    list.push_back(
        {"aim-middle", "Aim at the middle of the part", kGroup, {alt(Key::Home)}, has_target, [](Session& s) {
             s.aim_at_target();
         }});
}

struct Setting {
    std::string_view more_id, more, less_id, less;
    double HeatPlan::*field;
    double step, least, most;
};

void add_settings(std::vector<Action>& list) {
    static constexpr Setting kSettings[] = {
        {"air-hotter", "Air 5 °C hotter", "air-cooler", "Air 5 °C cooler", &HeatPlan::set_point_c, 5, 50, 600},
        {"flow-more", "1 L/min more air", "flow-less", "1 L/min less air", &HeatPlan::flow_l_per_min, 1, 1, 300},
        {"bore-wider", "Nozzle 0.5 mm wider", "bore-finer", "Nozzle 0.5 mm finer", &HeatPlan::nozzle_bore_mm, 0.5, 0.5,
         50},
        {"nozzle-higher", "Nozzle 1 mm higher", "nozzle-lower", "Nozzle 1 mm lower", &HeatPlan::stand_off_mm, 1, 1,
         200},
        {"dwell-longer", "Dwell 1 s longer", "dwell-shorter", "Dwell 1 s shorter", &HeatPlan::dwell_s, 1, 1, 1800}};
    const auto step = [](const Setting& setting, double by) {
        return [&setting, by](Session& s) {
            nudge_plan(s, [&](HeatPlan& plan) {
                plan.*setting.field = std::clamp(plan.*setting.field + by, setting.least, setting.most);
            });
        };
    };
    for (const Setting& setting : kSettings) {
        list.push_back({setting.more_id, setting.more, kGroup, {}, has_plan, step(setting, setting.step)});
        list.push_back({setting.less_id, setting.less, kGroup, {}, has_plan, step(setting, -setting.step)});
    }
    list.push_back({"preheater", "Preheater on or off", kGroup, {}, has_plan, [](Session& s) {
                        switch_preheat(s, !s.heat.plan().preheat_c);
                    }});
}

/// To the chart's next plan after `from`, wrapping round; nothing when there is no other.
std::optional<document::Id> plan_after(const Session& s, const document::Id& from, const document::Id& skip) {
    const auto& plans = s.editor.chart().heat_plans;
    const auto at = std::find_if(plans.begin(), plans.end(), [&](const HeatPlan& plan) { return plan.id == from; });
    const auto start =
        at == plans.end() ? plans.size() - 1 : static_cast<std::size_t>(std::distance(plans.begin(), at));
    for (std::size_t k = 1; k <= plans.size(); ++k) {
        const document::Id& id = plans[(start + k) % plans.size()].id;
        if (id != skip) return id;
    }
    return std::nullopt;
}

void add_plans(std::vector<Action>& list) {
    list.push_back({"heat-save", "Save the plan into the chart", kGroup, {ctrl(Key::P)}, is_unsaved, save_heat_plan});
    list.push_back({"heat-save-another", "Begin another plan from this one", kGroup, {}, has_plan, begin_another_plan});
    list.push_back({"heat-target", "Plan for the selected part", kGroup, {}, has_selected_part, [](Session& s) {
                        s.heat.begin(s.editor.chart(), document::Id(s.editor.selected_part()->id));
                    }});
    list.push_back({"heat-next-plan", "Next plan of the chart", kGroup, {}, has_plans, [](Session& s) {
                        const document::Id now = s.heat.has_plan() ? s.heat.plan().id : document::Id{};
                        if (const auto next = plan_after(s, now, {})) s.heat.open(s.editor.chart(), *next);
                    }});
    list.push_back({"heat-compare", "Compare with the next plan of the chart", kGroup, {}, has_plans, [](Session& s) {
                        const document::Id now = s.heat.has_plan() ? s.heat.plan().id : document::Id{};
                        s.heat.compared = plan_after(s, s.heat.compared, now).value_or(document::Id{});
                    }});
    list.push_back(
        {"heat-compare-not", "Stop comparing", kGroup, {}, has_plan, [](Session& s) { s.heat.compared = {}; }});
}

void scrub(Session& s, double by_s) {
    const double end = s.heat.plan().dwell_s + analysis::HeatOptions{}.cool_s;
    s.heat.time_s = std::clamp(s.heat.time_s.value_or(s.heat.plan().dwell_s) + by_s, 0.0, end);
}

void add_views(std::vector<Action>& list) {
    list.push_back(
        {"heat-earlier", "Isotherms one second earlier", kGroup, {alt(Key::Comma)}, has_plan, [](Session& s) {
             scrub(s, -kScrub_s);
         }});
    list.push_back({"heat-later", "Isotherms one second later", kGroup, {alt(Key::Period)}, has_plan, [](Session& s) {
                        scrub(s, kScrub_s);
                    }});
    list.push_back(
        {"heat-peak", "Isotherms of the peak", kGroup, {}, has_plan, [](Session& s) { s.heat.time_s.reset(); }});
    list.push_back({"heat-map", "Show or hide the no-aim map", kGroup, {}, has_plan, [](Session& s) {
                        s.heat.wants_map = !s.heat.wants_map;
                    }});
    list.push_back(
        {"heat-map-dwell", "No-aim map: steady or at the end of the dwell", kGroup, {}, has_plan, [](Session& s) {
             s.heat.dwell_limited = !s.heat.dwell_limited;
         }});
    list.push_back({"heat-advise", "Find a plan that spares the rest", kGroup, {}, has_target, [](Session& s) {
                        s.heat_view.advice = true;
                        s.heat.ask_advice(s.editor.snapshot());
                    }});
    list.push_back({"heat-bead", "Show where the thermocouple bead is", kGroup, {}, has_plan, place_bead});
    list.push_back({"heat-reading-take", "Take the thermocouple reading down", kGroup, {}, has_plan, [](Session& s) {
                        take_reading(s);
                    }});
    list.push_back({"heat-fit", "Fit the thermocouple readings", kGroup, {}, has_plan, fit_readings});
    list.push_back({"heat-station-keep", "Keep the fitted station in the chart", kGroup, {}, has_plan, [](Session& s) {
                        keep_station(s);
                    }});
    struct Fold {
        std::string_view id, label;
        bool HeatView::*open;
    };
    static constexpr Fold kFolds[] = {{"heat-fold-setup", "Fold joints, shields and aim", &HeatView::setup},
                                      {"heat-fold-words", "Fold what else to mind", &HeatView::words},
                                      {"heat-fold-plans", "Fold the list of plans", &HeatView::plans},
                                      {"heat-fold-advice", "Fold the search for plans", &HeatView::advice},
                                      {"heat-fold-couple", "Fold the thermocouple form", &HeatView::calibration}};
    for (const Fold& fold : kFolds)
        list.push_back({fold.id, fold.label, kGroup, {}, has_plan, [open = fold.open](Session& s) {
                            s.heat_view.*open = !(s.heat_view.*open);
                        }});
}

} // namespace

void add_heat_actions(std::vector<Action>& list) {
    add_aims(list);
    add_settings(list);
    add_plans(list);
    add_views(list);
}

} // namespace padchart::app
