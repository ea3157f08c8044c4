#include <fmt/format.h>

#include "analysis/coverage.hpp"
#include "app/actions.hpp"
#include "app/panels/body.hpp"
#include "app/panels/edit_panels.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/panels/proposals_panel.hpp"
#include "app/panels/survey_parts.hpp"
#include "app/room.hpp"
#include "app/selected_thing.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"
#include "base/counted.hpp"
#include "patterns/labels.hpp"

namespace padchart::app {
namespace {

using document::Footprint;

/// Which lists are folded out, and what the panel is as high as.
struct SurveyView {
    bool notes = false, readings = false, areas = false;
    float footer_height = 0;
    std::shared_ptr<const document::Chart> chart; ///< that `found` counts
    analysis::Coverage found;
    std::size_t untold = 0;
};

void run_button(Ui& ui, Session& s, std::string_view id, ButtonKind kind, float width) {
    const Action& action = *find_action(id);
    if (button(ui, std::string(action.label).c_str(), kind, width, action.enabled(s))) run(action, s);
    if (!action.keys.empty() && ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled))
        tip(ui, to_text(action.keys.front()));
}

const SurveyView& counted(Session& s) {
    auto& view = s.desks.get<SurveyView>();
    if (view.chart == s.editor.snapshot()) return view;
    view.chart = s.editor.snapshot();
    view.found = analysis::coverage(*view.chart);
    view.untold = 0;
    for (const Footprint& part : view.chart->parts)
        if (part.part_class == document::PartClass::Unknown) ++view.untold;
    return view;
}

std::string what_is_open(const SurveyView& view) {
    std::string text;
    if (view.untold > 0)
        text = fmt::format("Of {} nobody has said what they are. Unknown is an answer; it stays on show.", view.untold);
    else
        text = "Say of each whether it is there.";
    if (!view.found.not_mentioned.empty())
        text += fmt::format(" {} {} never mentioned at all.", view.found.not_mentioned.size(),
                            view.found.not_mentioned.size() == 1 ? "is" : "are");
    return text;
}

void survey_verdict(Ui& ui, const SurveyView& view) {
    const std::size_t all = view.found.parts;
    if (all == 0)
        return verdict(ui, Tone::Plain, "Nothing is charted yet.",
                       "Import a trace, add parts from a family, or draw one over its pads.");
    if (view.found.not_checked.empty() && view.untold == 0)
        return verdict(ui, Tone::Fine, fmt::format("{}: every part has been looked at.", in_words(view.found)), "");
    verdict(ui, Tone::Unknown, in_words(view.found) + ".", what_is_open(view));
}

/// Notes, readings, keep-outs and shields, folded.
void other_lists(Ui& ui, Session& s) {
    auto& view = s.desks.get<SurveyView>();
    const document::Chart& chart = s.editor.chart();
    if (section(ui, "Notes", fmt::format("{}", chart.notes.size()), view.notes)) {
        note_rows(ui, s);
        run_button(ui, s, "pin-note", ButtonKind::Outlined, -1);
    }
    if (section(ui, "Readings", fmt::format("{}", chart.readings.size()), view.readings)) {
        reading_rows(ui, s);
        run_button(ui, s, "pin-reading", ButtonKind::Outlined, -1);
    }
    const std::size_t areas = chart.keep_outs.size() + chart.shields.size();
    if (areas > 0 && section(ui, "Keep-outs and shields", fmt::format("{}", areas), view.areas)) area_rows(ui, s);
}

void nothing_selected(Ui& ui, Session& s) {
    heading(ui, "What is here?");
    gap(ui, 4);
    const SurveyView& view = counted(s);
    survey_verdict(ui, view);
    gap(ui, 4);
    proposals_told(ui, s);
    if (!s.editor.chart().conflicts.empty()) run_button(ui, s, "conflicts", ButtonKind::Filled, -1);
    if (!view.found.not_checked.empty()) run_button(ui, s, "good-next", ButtonKind::Filled, -1);
    const float half = share_of_line(2);
    run_button(ui, s, "add-part", ButtonKind::Outlined, half);
    ImGui::SameLine();
    run_button(ui, s, "draw-part", ButtonKind::Outlined, half);
    run_button(ui, s, "import", ButtonKind::Outlined, half);
    ImGui::SameLine();
    run_button(ui, s, "attention", ButtonKind::Outlined, half);
    run_button(ui, s, "trace", ButtonKind::Outlined, half);
    ImGui::SameLine();
    run_button(ui, s, "scale", ButtonKind::Outlined, half);
    rule(ui);
    other_lists(ui, s);
    rule(ui);
    part_list(ui, s);
}

void several_selected(Ui& ui, Session& s) {
    heading(ui, name_of(s.editor.chart(), s.editor.selection()));
    muted(ui, "Changes go to all of them in one step.");
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
    return fmt::format("{}, {}, {} side", text, padchart::counted(static_cast<std::size_t>(pads), "pad"),
                       document::to_text(part.placement.side));
}

void walk_footer(Ui& ui, Session& s) {
    begin_footer(ui);
    title(ui, in_words(counted(s).found));
    const float step = ui.px(is_low(ui) ? 32 : 44), space = ImGui::GetStyle().ItemSpacing.x;
    const float middle = ImGui::GetContentRegionAvail().x - 2 * (step + space);
    const auto step_button = [&](const char* label, std::string_view id) {
        const Action& action = *find_action(id);
        if (button(ui, label, ButtonKind::Outlined, step)) run(action, s);
        if (!action.keys.empty() && ImGui::IsItemHovered()) tip(ui, to_text(action.keys.front()));
    };
    step_button("←", "part-before");
    ImGui::SameLine();
    run_button(ui, s, "good-next", ButtonKind::Filled, middle);
    ImGui::SameLine();
    step_button("→", "part-after");
    end_footer(ui, s.desks.get<SurveyView>().footer_height);
}

void one_selected(Ui& ui, Session& s, const Footprint& part) {
    begin_body(ui, s.desks.get<SurveyView>().footer_height);
    heading_with(ui, part.name.empty() ? "Part without a name" : part.name, subtitle_of(part));
    if (part.locked) title(ui, "Locked in its place");
    if (is_low(ui))
        usual_answers(ui, s, part);
    else
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
    walk_footer(ui, s);
}

} // namespace

void survey_panel(Ui& ui, Session& s) {
    if (pin_form(ui, s)) return;
    waiting_pin(ui, s);
    if (const Footprint* part = s.editor.selected_part()) {
        const Footprint shown = *part; // an edit in the middle of the panel replaces the chart
        one_selected(ui, s, shown);
    } else if (const auto thing = selected_thing(s.editor)) {
        thing_form(ui, s, *thing);
    } else if (s.editor.selection().size() > 1) {
        several_selected(ui, s);
    } else {
        nothing_selected(ui, s);
    }
}

} // namespace padchart::app
