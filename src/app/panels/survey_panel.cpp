#include <fmt/format.h>

#include "analysis/check.hpp"
#include "app/actions.hpp"
#include "app/panels/edit_panels.hpp"
#include "app/panels/panels.hpp"
#include "app/widgets.hpp"
#include "cli/frozen.hpp"
#include "patterns/labels.hpp"

namespace padchart::app {
namespace {

using document::Footprint;

void run_button(Ui& ui, Session& s, std::string_view id, ButtonKind kind, float width) {
    const Action& action = *find_action(id);
    if (button(ui, std::string(action.label).c_str(), kind, width, action.enabled(s))) run(action, s);
}

void survey_verdict(Ui& ui, const Session& s) {
    std::size_t unchecked = 0, untold = 0;
    for (const Footprint& part : s.editor.chart().parts) {
        if (part.condition.presence == document::Presence::NotChecked) ++unchecked;
        if (part.part_class == document::PartClass::Unknown) ++untold;
    }
    const std::size_t all = s.editor.chart().parts.size();
    if (all == 0)
        return verdict(ui, Tone::Plain, "Nothing is charted yet.",
                       "Import a trace, add parts from a family, or draw one over its pads.");
    if (unchecked + untold == 0)
        return verdict(ui, Tone::Fine, "Every part has been looked at.",
                       fmt::format("{} parts are on the chart.", all));
    verdict(ui, Tone::Unknown, fmt::format("{} of {} parts not looked at yet.", unchecked, all),
            untold == 0
                ? "Say of each whether it is there."
                : fmt::format("Of {} nobody has said what they are. Unknown is an answer; it stays on show.", untold));
}

void show_attention(Session& s) {
    if (s.computed() == nullptr) return;
    s.findings = analysis::check(s.editor.chart(), s.computed()->clearance, s.computed()->fit);
    const Diagnostics before = cli::before_findings(s.editor.chart(), s.editor.path());
    s.findings.insert(s.findings.begin(), before.begin(), before.end());
    s.findings_title.clear();
    s.panel = Panel::Findings;
}

void nothing_selected(Ui& ui, Session& s) {
    heading(ui, "What is here?");
    gap(ui, 4);
    survey_verdict(ui, s);
    gap(ui, 4);
    if (!s.editor.chart().conflicts.empty()) run_button(ui, s, "conflicts", ButtonKind::Filled, -1);
    const float half = share_of_line(2);
    run_button(ui, s, "add-part", ButtonKind::Outlined, half);
    ImGui::SameLine();
    run_button(ui, s, "draw-part", ButtonKind::Outlined, half);
    run_button(ui, s, "import", ButtonKind::Outlined, half);
    ImGui::SameLine();
    if (button(ui, "What needs attention", ButtonKind::Outlined, half, !s.editor.chart().parts.empty()))
        show_attention(s);
    run_button(ui, s, "trace", ButtonKind::Outlined, half);
    ImGui::SameLine();
    run_button(ui, s, "scale", ButtonKind::Outlined, half);
    rule(ui);
    part_list(ui, s);
}

void several_selected(Ui& ui, Session& s) {
    heading(ui, fmt::format("{} parts", s.editor.selection().size()));
    muted(ui, "What you do now is done to all of them, in one step.");
    gap(ui, 4);
    for (const std::string_view id :
         {"present", "missing", "removed", "not-checked", "quarter-left", "quarter-right", "other-side", "delete"})
        run_button(ui, s, id, ButtonKind::Outlined, -1);
    rule(ui);
    arrange_section(ui, s);
    rule(ui);
    part_list(ui, s);
}

std::string subtitle_of(const Footprint& part) {
    const int pads = document::pad_count(part);
    std::string text(patterns::label_of(part.part_class));
    if (part.part_class == document::PartClass::Unknown) text = "not told what it is";
    return fmt::format("{}, {} pad{}, {} side", text, pads, pads == 1 ? "" : "s",
                       document::to_text(part.placement.side));
}

void one_selected(Ui& ui, Session& s, const Footprint& part) {
    heading(ui, part.name.empty() ? "Part without a name" : part.name);
    muted(ui, subtitle_of(part));
    gap(ui, 4);
    part_form(ui, s, part);
    rule(ui);
    arrange_section(ui, s);
    rule(ui);
    const float third = share_of_line(3);
    if (button(ui, "All parts", ButtonKind::Plain, third)) s.editor.select({});
    ImGui::SameLine();
    // Its own words are too long for a third of the line.
    if (button(ui, "Other side", ButtonKind::Plain, third)) run(*find_action("other-side"), s);
    ImGui::SameLine();
    run_button(ui, s, "delete", ButtonKind::Plain, third);
}

} // namespace

void survey_panel(Ui& ui, Session& s) {
    if (const Footprint* part = s.editor.selected_part()) {
        const Footprint shown = *part; // an edit in the middle of the panel replaces the chart
        one_selected(ui, s, shown);
    } else if (s.editor.selection().size() > 1) {
        several_selected(ui, s);
    } else {
        nothing_selected(ui, s);
    }
}

} // namespace padchart::app
