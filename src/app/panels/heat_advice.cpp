// Better plans on demand, and what a thermocouple says of the station.

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/heat_parts.hpp"
#include "app/panels/heat_widgets.hpp"

namespace padchart::app {
namespace {

using analysis::Advice;
using analysis::AdvisedPlan;

void advised(Ui& ui, Session& s, const AdvisedPlan& plan, const char* label, int number) {
    ImGui::PushID(number);
    wrapped(ui, with_degrees(plan.sentence));
    if (button(ui, label, ButtonKind::Plain, -1)) apply_advice(s, plan);
    gap(ui, 4);
    ImGui::PopID();
}

void answer(Ui& ui, Session& s, const Advice& advice) {
    // The first one is the answer; the others are those of the plans below.
    if (!advice.sentences.empty()) wrapped(ui, with_degrees(advice.sentences.front()));
    gap(ui, 2);
    int number = 0;
    for (const AdvisedPlan& plan : advice.plans)
        advised(ui, s, plan, "Apply", number++);
    if (!advice.exists && advice.nearest_miss) advised(ui, s, *advice.nearest_miss, "Apply the nearest miss", number++);
    if (!advice.what_ifs.empty()) title(ui, "Single changes");
    for (const analysis::WhatIf& what : advice.what_ifs) {
        ImGui::PushID(number++);
        wrapped(ui, with_degrees(what.sentence));
        if (button(ui, "Apply", ButtonKind::Plain, -1)) {
            AdvisedPlan plan;
            plan.plan = what.plan;
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

std::string calibration_summary(const Session& s) {
    if (s.heat.is_calibration_busy()) return "fitting ...";
    if (!s.heat.calibration) return "none";
    return s.heat.station.empty() ? "in use" : s.heat.station;
}

void refuse(Session& s, std::string why) {
    s.editor.tell(Severity::Warning, std::move(why));
}

void reading_fields(Ui& ui, Session& s) {
    HeatView& view = s.heat_view;
    const auto say = [&s](std::string why) { refuse(s, std::move(why)); };
    text_field(
        ui, "Station", s.heat.station, [&s](const std::string& text) { s.heat.station = text; }, "a nickname");
    const geometry::Vec2 at = view.reading_at.value_or(s.heat.plan().aim);
    number_field(
        ui, "Bead at x", at.x, "mm",
        [&view, at](auto x) {
            view.reading_at = {x.value_or(at.x), at.y};
        },
        say);
    number_field(
        ui, "Bead at y", at.y, "mm",
        [&view, at](auto y) {
            view.reading_at = {at.x, y.value_or(at.y)};
        },
        say);
    number_field(
        ui, "It read", view.reading_c, "°C", [&view](auto c) { view.reading_c = c; }, say);
    number_field(
        ui, "After", view.reading_after_s, "s", [&view](auto t) { view.reading_after_s = t; }, say);
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
        wrapped(ui, with_degrees(found->report.error().message));
}

void heat_calibration_section(Ui& ui, Session& s) {
    if (!section(ui, "Thermocouple", calibration_summary(s), s.heat_view.calibration)) return;
    muted(ui, "Tape a bead to a pad of a scrap board, run this plan, and note what it read. The fit holds for this "
              "nozzle, flow and height, until the window is closed.");
    reading_fields(ui, s);
    const HeatView& view = s.heat_view;
    const bool ready = view.reading_c && view.reading_after_s && *view.reading_after_s > 0;
    const float half = share_of_line(2);
    if (button(ui, "Fit the station", ButtonKind::Outlined, half, ready && !s.heat.is_calibration_busy(), ui.px(30))) {
        analysis::ThermocoupleReading reading;
        reading.at = view.reading_at.value_or(s.heat.plan().aim);
        reading.celsius = *view.reading_c;
        reading.after_s = *view.reading_after_s;
        s.heat.ask_calibration(s.editor.snapshot(), reading);
    }
    ImGui::SameLine();
    if (button(ui, "Forget the fit", ButtonKind::Plain, half, s.heat.calibration.has_value(), ui.px(30)))
        s.heat.calibration.reset();
    const CalibrationAnswer* fit = s.heat.calibration_answer();
    if (fit == nullptr) return;
    if (fit->report)
        wrapped(ui, with_degrees(fit->report->sentence));
    else
        verdict(ui, Tone::Danger, "This reading does not fit.", with_degrees(fit->report.error().message));
}

} // namespace padchart::app
