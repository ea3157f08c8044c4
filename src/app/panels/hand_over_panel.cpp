#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/body.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/panels/inspect_parts.hpp"
#include "app/panels/panels.hpp"
#include "app/widgets.hpp"
#include "base/counted.hpp"
#include "document/edits.hpp"
#include "scene/cautions.hpp"
#include "scene/sheet.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Title;

std::size_t unrecorded(const Session& s) {
    std::size_t count = 0;
    if (s.computed() != nullptr)
        for (const analysis::PartFit& fit : s.computed()->fit.parts)
            if (fit.needs_record && !fit.has_record) ++count;
    return count;
}

void readiness(Ui& ui, const Session& s) {
    const document::Chart& chart = s.editor.chart();
    if (chart.parts.empty())
        return verdict(ui, Tone::Plain, "There is nothing to hand over yet.", "Chart at least one part first.");
    if (!chart.scale)
        return verdict(ui, Tone::Danger, "This chart has no scale.",
                       "The sheet would show shapes, but no length on it could be trusted.");
    if (const std::size_t open = unrecorded(s); open > 0)
        return verdict(ui, Tone::Unknown, counted(open, "part") + " could go back wrong.",
                       "The sheet says so, but a mark on record is worth more: see Orient.");
    verdict(ui, Tone::Fine, "A colleague can work from this.", "Say below what the chart leaves out.");
}

/// Puts a line of the title block on the chart.
Commit into_title(Session& s, const char* label, std::string Title::*field) {
    return [&s, field, label](const std::string& text) {
        Title title = s.editor.chart().title;
        title.*field = text;
        s.editor.commit(document::set_title(s.editor.chart(), std::move(title)), label);
    };
}

void title_field(Ui& ui, Session& s, const char* label, std::string Title::*field, const char* hint = "") {
    text_field(ui, label, s.editor.chart().title.*field, into_title(s, label, field), hint);
}

void title_fields(Ui& ui, Session& s) {
    title_field(ui, s, "Board", &Title::board);
    title_field(ui, s, "Region", &Title::title);
    title_field(ui, s, "Board revision", &Title::revision);
    title_field(ui, s, "Serial", &Title::serial);
    title_field(ui, s, "Job", &Title::job);
    title_field(ui, s, "Charted by", &Title::author);
    title_field(ui, s, "Date", &Title::date, "e.g. 2025-03-14");
    title_field(ui, s, "Chart revision", &Title::chart_revision);
    title_field(ui, s, "Edge that is up", &Title::up_edge);
    note_field(ui, "Left out", s.editor.chart().title.not_mapped, into_title(s, "Left out", &Title::not_mapped),
               "what is not on the chart");
}

std::string scale_in_words(const document::Chart& chart) {
    if (!chart.scale) return "none";
    if (chart.scale->relative_uncertainty == 0.0) return scene::in_words(chart.scale->source);
    return fmt::format("{}, within {:g} %", scene::in_words(chart.scale->source),
                       chart.scale->relative_uncertainty * 100);
}

void facts(Ui& ui, const Session& s) {
    const document::Chart& chart = s.editor.chart();
    std::size_t bottom = 0, absent = 0;
    for (const document::Footprint& part : chart.parts) {
        if (part.placement.side == document::Side::Bottom) ++bottom;
        if (scene::is_absent(part)) ++absent;
    }
    fact(ui, "Parts", fmt::format("{} top, {} bottom", chart.parts.size() - bottom, bottom));
    fact(ui, "Not on the board", fmt::format("{}", absent));
    fact(ui, "Not recorded", fmt::format("{}", unrecorded(s)));
    fact(ui, "Scale", scale_in_words(chart));
    fact(ui, "Cautions", fmt::format("{}", scene::cautions_for(chart).size()));
}

void write_button(Ui& ui, Session& s, std::string_view id, ButtonKind kind, float width) {
    const Action& action = *find_action(id);
    if (button(ui, std::string(action.label).c_str(), kind, width, action.enabled(s))) run(action, s);
}

/// Photos make a page too heavy for some mail, so they are asked for.
void photos_switch(const Ui& ui, Session& s) {
    if (s.editor.chart().photos.empty() || s.editor.path().empty()) return;
    toggle(ui, "with the whole photos in the page", s.page_has_photos);
}

/// What the sheet says of the comparison with before: only with what the chart itself was frozen as.
void compared(Ui& ui, Session& s) {
    update_inspection(s);
    const InspectDesk& desk = s.desks.get<InspectDesk>();
    // Pressing a line may replace the answer.
    const std::shared_ptr<const Inspection> answer = desk.answer();
    if (!s.editor.chart().frozen_before || desk.has_chosen() || !answer) return;
    gap(ui, 4);
    if (answer->trouble) return verdict(ui, Tone::Danger, "Not compared with before.", describe(*answer->trouble));
    if (!answer->before) return;
    inspect_outcome(ui, s, *answer);
    inspect_reason(ui, s, *answer);
    inspect_changes(ui, s, *answer);
}

struct HandOverDesk {
    float footer_height = 0; ///< of the panel, px, as it was last drawn
};

} // namespace

void hand_over_panel(Ui& ui, Session& s) {
    auto& desk = s.desks.get<HandOverDesk>();
    begin_body(ui, desk.footer_height);
    heading(ui, "The sheet to hand over");
    gap(ui, 4);
    readiness(ui, s);
    compared(ui, s);
    gap(ui, 4);
    facts(ui, s);
    rule(ui);
    title(ui, "Title block");
    title_fields(ui, s);
    gap(ui, 2);
    muted(ui, scene::kAidNotApproval);
    begin_footer(ui);
    write_button(ui, s, "write-sheet", ButtonKind::Filled, -1);
    write_button(ui, s, "write-page", ButtonKind::Outlined, -1);
    photos_switch(ui, s);
    const float half = share_of_line(2);
    write_button(ui, s, "write-svg", ButtonKind::Outlined, half);
    ImGui::SameLine();
    write_button(ui, s, "write-png", ButtonKind::Outlined, half);
    end_footer(ui, desk.footer_height);
}

} // namespace padchart::app
