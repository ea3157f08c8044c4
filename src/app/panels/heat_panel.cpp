#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "app/heat_risks.hpp"
#include "app/heat_standing.hpp"
#include "app/panels/heat_parts.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/panels/panels.hpp"
#include "base/counted.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using analysis::HeatReport;
using document::HeatPlan;

std::string subtitle(const Session& s, const HeatPlan& plan) {
    const document::Chart& chart = s.editor.chart();
    const auto at = document::find_part(chart, plan.target);
    std::string text = plan.alloy + " joints";
    if (plan.low_melt_fraction > 0) text += fmt::format(" with {:.0f} % low-melt", 100 * plan.low_melt_fraction);
    if (at) {
        const int pads = document::pad_count(chart.parts[*at]);
        text += ", " + counted(static_cast<std::size_t>(pads), "pad");
    }
    text += plan.side == document::Side::Top ? ", air from the top" : ", air from the bottom";
    return text;
}

Tone tone_of(const HeatReport& report) {
    const bool any_risk = std::any_of(report.neighbours.begin(), report.neighbours.end(), [](const auto& near) {
        return near.verdict != analysis::NeighbourVerdict::Safe;
    });
    if (report.target.verdict == analysis::MeltVerdict::WillNotMelt || any_risk ||
        report.laminate != analysis::NeighbourVerdict::Safe)
        return Tone::Danger;
    return report.target.verdict == analysis::MeltVerdict::Uncertain ? Tone::Unknown : Tone::Fine;
}

/// "Shield J2 before you start: it may reach ..." as a headline and its reason.
void report_verdict(const Ui& ui, const HeatReport& report, Standing standing) {
    if (report.sentences.empty()) return;
    const std::string text = with_signs(scene::with_degrees(report.sentences.front()), standing);
    const std::size_t colon = text.find(": ");
    std::string reason = colon == std::string::npos ? "" : text.substr(colon + 2);
    if (!reason.empty()) reason[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(reason[0])));
    const std::string headline = text.substr(0, colon);
    verdict(ui, standing == Standing::Older ? Tone::Plain : tone_of(report), headline,
            reason + also_at_risk(report, headline));
}

void start_verdict(Ui& ui, const Session& s) {
    if (s.editor.chart().parts.empty())
        return verdict(ui, Tone::Plain, "Nothing is charted yet.", "Survey comes first.");
    verdict(ui, Tone::Plain, "Which part is to come off?",
            "Click it on the board: a plan begins with the usual settings, aimed at its middle.");
}

void nothing_in_hand(Ui& ui, Session& s) {
    heading(ui, "Where may the air go?");
    gap(ui, 4);
    start_verdict(ui, s);
    gap(ui, 4);
    heat_plans(ui, s);
}

/// Another part is selected, or the air comes from the side that is not looked at.
void detours(Ui& ui, Session& s) {
    const document::Footprint* selected = s.editor.selected_part();
    if (selected != nullptr && selected->id != s.heat.plan().target) {
        const std::string label = "Plan for " + name_of(s.editor.chart(), s.editor.selection()) + " instead";
        if (button(ui, label.c_str(), ButtonKind::Outlined, -1, true, ui.px(30)))
            s.heat.begin(s.editor.chart(), document::Id(selected->id));
    }
    if (s.heat.plan().side != s.seen_from &&
        button(ui, "Look at the side the air comes from", ButtonKind::Outlined, -1, true, ui.px(30)))
        s.flip_side();
}

void answer(Ui& ui, Session& s) {
    const std::shared_ptr<const Estimate>& estimate = s.heat.estimate();
    if (!estimate) return verdict(ui, Tone::Plain, "Working it out ...", "The first estimate takes a moment.");
    if (!estimate->report)
        return verdict(ui, Tone::Danger, "No estimate.", scene::with_degrees(estimate->report.error().message));
    report_verdict(ui, *estimate->report, standing_of(s.heat, s.editor.snapshot()));
}

} // namespace

void heat_panel(Ui& ui, Session& s) {
    s.update_heat();
    if (!s.heat.has_plan()) return nothing_in_hand(ui, s);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(10), ui.px(5)});
    heading(ui, "Heat plan for " + target_name(s.editor.chart(), s.heat.plan()));
    muted(ui, subtitle(s, s.heat.plan()));
    gap(ui, 2);
    answer(ui, s);
    detours(ui, s);
    gap(ui, 1);
    heat_sliders(ui, s);
    heat_setup(ui, s);
    rule(ui);
    // Pressing something below may replace the answer; it must live until the end of the panel.
    const std::shared_ptr<const Estimate> estimate = s.heat.estimate();
    if (estimate && estimate->report) {
        heat_bands(ui, s, *estimate->report);
        heat_curve(ui, s, *estimate->report);
        heat_words(ui, s, *estimate->report);
    }
    heat_map(ui, s);
    heat_advice_section(ui, s);
    heat_calibration_section(ui, s);
    heat_plans(ui, s);
    ImGui::PopStyleVar();
}

} // namespace padchart::app
