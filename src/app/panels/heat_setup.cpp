// What the hand sets on the bench, and what is set once for a job.

#include <fmt/format.h>

#include "app/panels/heat_parts.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/refused_field.hpp"
#include "base/counted.hpp"
#include "document/edits.hpp"
#include "patterns/alloy.hpp"

namespace padchart::app {
namespace {

using document::HeatPlan;

constexpr double kLeastFactor = 0.02, kLargestFactor = 50.0;

SliderAnswer answer_for(Session& s, double HeatPlan::*field) {
    return {[&s, field](double value, bool moving) {
                change_plan(
                    s, [&](HeatPlan& plan) { plan.*field = value; }, moving);
            },
            [&s] { rest_plan(s.editor, s.heat); },
            [&s](std::string why) { s.editor.tell(Severity::Warning, std::move(why)); }};
}

void preheat(Ui& ui, Session& s) {
    SliderAnswer answer = answer_for(s, nullptr);
    answer.change = [&s](double value, bool moving) {
        change_plan(
            s, [&](HeatPlan& plan) { plan.preheat_c = value; }, moving);
    };
    optional_slider_field(ui, "Preheat, underside", s.heat.plan().preheat_c, {50, 200, 5, 0, "°C"}, answer,
                          [&s](bool on) { switch_preheat(s, on); });
}

void joints(Ui& ui, Session& s) {
    std::vector<std::string> words;
    std::size_t chosen = 0;
    for (const patterns::Alloy& alloy : patterns::alloys()) {
        if (alloy.key == s.heat.plan().alloy) chosen = words.size();
        words.push_back(fmt::format("{}, {:.0f} °C", alloy.key, alloy.liquidus_c));
    }
    choice_field(ui, "Alloy", words, chosen, [&s](std::size_t i) {
        change_plan(s, [&](HeatPlan& plan) { plan.alloy = std::string(patterns::alloys()[i].key); });
    });
    SliderAnswer answer = answer_for(s, nullptr);
    answer.change = [&s](double value, bool moving) {
        change_plan(
            s, [&](HeatPlan& plan) { plan.low_melt_fraction = value / 100.0; }, moving);
    };
    slider_field(ui, "Low-melt alloy worked in", s.heat.plan().low_melt_fraction * 100.0, {0, 100, 5, 0, "%"}, answer);
}

void shields(Ui& ui, Session& s) {
    for (const document::Shield& shield : s.editor.chart().shields) {
        const std::vector<document::Id>& ids = s.heat.plan().shields;
        bool on = std::find(ids.begin(), ids.end(), shield.id) != ids.end();
        const std::string name = shield.name.empty() ? "shield" : shield.name;
        const std::string label =
            fmt::format("{} ({}), in place##{}", name, spoken(document::to_text(shield.kind)), shield.id.text);
        if (!toggle(ui, label.c_str(), on)) continue;
        const document::Id id = shield.id;
        change_plan(s, [&](HeatPlan& plan) {
            std::erase(plan.shields, id);
            if (on) plan.shields.push_back(id);
        });
    }
    if (s.editor.chart().shields.empty()) muted(ui, "No shield is on the chart.");
}

/// Drawn copper: how much better or worse than the stack the board spreads heat there.
void copper_areas(Ui& ui, Session& s) {
    const document::Chart chart = s.editor.chart(); // a new factor replaces it
    for (const document::CopperArea& area : chart.copper_areas) {
        const std::string name = area.name.empty() ? "copper area" : area.name;
        const std::string label = fmt::format("{}: spreads heat##{}", name, area.id.text);
        number_field(
            ui, label.c_str(), area.conductivity_factor, "times",
            [&s, area, name](std::optional<double> factor) {
                if (!factor || !(*factor >= kLeastFactor && *factor <= kLargestFactor)) {
                    keep_pen();
                    return s.editor.tell(Severity::Warning,
                                         fmt::format("How much better than the stack says: from {:g} to "
                                                     "{:g} times.",
                                                     kLeastFactor, kLargestFactor));
                }
                document::CopperArea changed = area;
                changed.conductivity_factor = *factor;
                s.editor.commit(document::put(s.editor.chart(), std::move(changed)),
                                "Set how " + name + " spreads heat");
            },
            [&s](std::string why) { s.editor.tell(Severity::Warning, std::move(why)); });
    }
}

void aim_field(Ui& ui, Session& s, const char* label, double geometry::Vec2::*axis) {
    number_field(
        ui, label, s.heat.plan().aim.*axis, "mm",
        [&s, axis](std::optional<double> value) {
            if (value) change_plan(s, [&](HeatPlan& plan) { plan.aim.*axis = *value; });
        },
        [&s](std::string why) { s.editor.tell(Severity::Warning, std::move(why)); });
}

std::string setup_summary(const HeatPlan& plan) {
    std::string text = fmt::format("{:.1f}, {:.1f} mm", plan.aim.x, plan.aim.y);
    if (!plan.shields.empty()) text += "; " + counted(plan.shields.size(), "shield");
    return text;
}

} // namespace

void heat_sliders(Ui& ui, Session& s) {
    const HeatPlan plan = s.heat.plan(); // each slider may replace it
    slider_field(ui, "Air at nozzle", plan.set_point_c, {100, 480, 5, 0, "°C"}, answer_for(s, &HeatPlan::set_point_c));
    slider_field(ui, "Air flow", plan.flow_l_per_min, {5, 120, 1, 0, "L/min"},
                 answer_for(s, &HeatPlan::flow_l_per_min));
    slider_field(ui, "Nozzle bore", plan.nozzle_bore_mm, {1, 15, 0.5, 1, "mm"},
                 answer_for(s, &HeatPlan::nozzle_bore_mm));
    slider_field(ui, "Stand-off", plan.stand_off_mm, {2, 40, 1, 0, "mm"}, answer_for(s, &HeatPlan::stand_off_mm));
    preheat(ui, s);
    slider_field(ui, "Dwell", s.heat.plan().dwell_s, {5, 180, 1, 0, "s"}, answer_for(s, &HeatPlan::dwell_s));
}

void heat_setup(Ui& ui, Session& s) {
    if (!section(ui, "Joints, shields and aim", setup_summary(s.heat.plan()), s.heat_view.setup)) return;
    joints(ui, s);
    shields(ui, s);
    copper_areas(ui, s);
    aim_field(ui, s, "Aim x", &geometry::Vec2::x);
    aim_field(ui, s, "Aim y", &geometry::Vec2::y);
    if (button(ui, "Aim at the middle of the part", ButtonKind::Plain, -1, !s.heat.plan().target.is_empty()))
        s.aim_at_target();
    text_field(ui, "Name of the plan", s.heat.plan().name,
               [&s](const std::string& text) { change_plan(s, [&](HeatPlan& plan) { plan.name = text; }); });
    note_field(ui, "Note", s.heat.plan().note,
               [&s](const std::string& text) { change_plan(s, [&](HeatPlan& plan) { plan.note = text; }); });
}

} // namespace padchart::app
