// Keep-outs and shields: what is said of them. Their outlines are drawn on the board.

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/survey_parts.hpp"
#include "app/panels/thing_edit.hpp"
#include "app/tip.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Id;
using document::KeepOut;
using document::Shield;

void keep_out_form(Ui& ui, Session& s, const KeepOut& keep_out) {
    const ThingEdit<KeepOut> edit(s, keep_out.id, document::find_keep_out);
    heading(ui, keep_out.name.empty() ? "Keep-out" : keep_out.name);
    muted(ui, fmt::format("Keep the heat out, {} side{}.", document::to_text(keep_out.side),
                          keep_out.through_board ? " and through the board" : ""));
    gap(ui, 4);
    edit.text(ui, keep_out, "Name", &KeepOut::name, "antenna foam");
    edit.word(ui, keep_out, "Reason", &KeepOut::reason);
    edit.word(ui, keep_out, "Measure taken", &KeepOut::measure);
    edit.number(ui, keep_out, "Limit", &KeepOut::limit_c, "°C");
    edit.number(ui, keep_out, "Height", &KeepOut::height_mm, "mm");
    edit.word(ui, keep_out, "Side", &KeepOut::side);
    bool through = keep_out.through_board;
    if (ImGui::Checkbox("holds through the board", &through))
        edit.change("Through the board", [&](KeepOut& changed) { changed.through_board = through; });
    edit.note(ui, keep_out, "Note", &KeepOut::note);
    if (keep_out.measure == document::Measure::None) muted(ui, "No measure yet: take it off, shield it, or watch it.");
    if (keep_out.reason == document::KeepOutReason::Cell && keep_out.measure == document::Measure::Shielded)
        verdict(ui, Tone::Danger, "A cell is taken out, never shielded only.", "It may vent or burn.");
}

void shield_form(Ui& ui, Session& s, const Shield& shield) {
    const ThingEdit<Shield> edit(s, shield.id, document::find_shield);
    heading(ui, shield.name.empty() ? "Shield" : shield.name);
    muted(ui, fmt::format("Laid on the board, {} side.", document::to_text(shield.side)));
    gap(ui, 4);
    edit.text(ui, shield, "Name", &Shield::name, "foil over J2");
    edit.word(ui, shield, "What it is", &Shield::kind);
    edit.word(ui, shield, "Side", &Shield::side);
    edit.note(ui, shield, "Note", &Shield::note);
}

bool line(const Ui& ui, const Session& s, const Id& id, const std::string& text) {
    ImGui::PushID(id.text.c_str());
    const std::string shown = fitted(text, ImGui::GetContentRegionAvail().x);
    const bool pressed = ImGui::Selectable(shown.c_str(), s.editor.is_selected(id));
    keep_clear_here();
    if (shown != text && ImGui::IsItemHovered()) tip(ui, text);
    ImGui::PopID();
    return pressed;
}

} // namespace

void area_rows(Ui& ui, Session& s) {
    std::optional<Id> pressed;
    for (const KeepOut& keep_out : s.editor.chart().keep_outs) {
        const std::string name = keep_out.name.empty() ? scene::plain_words(keep_out.reason) : keep_out.name;
        const std::string measure =
            keep_out.measure == document::Measure::None ? "no measure yet" : scene::plain_words(keep_out.measure);
        if (line(ui, s, keep_out.id, fmt::format("{}: {}", name, measure))) pressed = keep_out.id;
    }
    for (const Shield& shield : s.editor.chart().shields) {
        const std::string name = shield.name.empty() ? "shield" : shield.name;
        if (line(ui, s, shield.id, fmt::format("{}: {}", name, scene::plain_words(shield.kind)))) pressed = shield.id;
    }
    if (pressed) go_to_thing(s, *pressed);
}

void thing_form(Ui& ui, Session& s, const Id& id) {
    const document::Chart& chart = s.editor.chart();
    ImGui::PushID(id.text.c_str());
    // Copies: a change in the middle of the form replaces the chart.
    if (const KeepOut* keep_out = document::find_keep_out(chart, id))
        keep_out_form(ui, s, KeepOut(*keep_out));
    else if (const Shield* shield = document::find_shield(chart, id))
        shield_form(ui, s, Shield(*shield));
    else if (const auto* note = document::find_note(chart, id))
        note_form(ui, s, document::Note(*note));
    else if (const auto* reading = document::find_reading(chart, id))
        reading_form(ui, s, document::Reading(*reading));
    ImGui::PopID();
    rule(ui);
    const bool is_area =
        document::find_note(s.editor.chart(), id) == nullptr && document::find_reading(s.editor.chart(), id) == nullptr;
    if (is_area && button(ui, "Change its outline", ButtonKind::Outlined, -1)) run(*find_action("reshape"), s);
    const float half = share_of_line(2);
    if (button(ui, "Back", ButtonKind::Outlined, half)) s.editor.select({});
    ImGui::SameLine();
    const Action& remove = *find_action("delete");
    if (button(ui, "Delete", ButtonKind::Outlined, half, remove.enabled(s))) run(remove, s);
}

} // namespace padchart::app
