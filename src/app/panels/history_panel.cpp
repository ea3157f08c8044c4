// What was done, step after step: the one shown now is marked, so is the one that was saved. A click or the arrow keys
// go there; what lies behind is still there until something else is done.

#include <cfloat>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/documents.hpp"
#include "app/hidden_parts.hpp"
#include "app/panels/edit_panels.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"
#include "base/counted.hpp"

namespace padchart::app {
namespace {

struct HistoryDesk {
    std::size_t seen = static_cast<std::size_t>(-1); ///< the position that was scrolled to last
};

void step_row(const Ui& ui, Session& s, std::size_t i, std::optional<std::size_t> saved) {
    const document::History& history = s.editor.history();
    const bool is_current = i == history.position(), is_ahead = i > history.position();
    const float width = ImGui::GetContentRegionAvail().x, high = ui.px(28);
    ImGui::PushID(static_cast<int>(i));
    const ImVec2 at = ImGui::GetCursorPos();
    const bool clicked = ImGui::Selectable("##step", is_current, 0, {width, high});
    const bool hovered = ImGui::IsItemHovered();
    keep_clear_here();
    const ImVec2 after = ImGui::GetCursorPos();
    const float line = at.y + (high - ImGui::GetTextLineHeight()) / 2;
    ImGui::SetCursorPos({at.x + ui.px(4), line});
    dot(ui, is_ahead ? Tone::Plain : Tone::Fine, is_current);
    const std::string mark = saved == i ? "saved" : "";
    const float mark_width = mark.empty() ? 0.0F : ImGui::CalcTextSize(mark.c_str()).x + ui.px(10);
    ImGui::PushFont(is_current ? ui.fonts().strong : ui.fonts().regular);
    ImGui::SetCursorPos({at.x + ui.px(26), line});
    const std::string label = fitted(history.steps()[i].label, width - ui.px(32) - mark_width);
    ImGui::TextColored(floats(is_ahead ? ui.colours().muted : ui.colours().ink), "%s", label.c_str());
    ImGui::PopFont();
    if (hovered && label != history.steps()[i].label) tip(ui, history.steps()[i].label);
    if (!mark.empty()) {
        ImGui::SetCursorPos({at.x + width - mark_width + ui.px(4), line});
        ImGui::TextColored(floats(ui.colours().fine_text), "%s", mark.c_str());
    }
    ImGui::SetCursorPos(after);
    ImGui::PopID();
    if (clicked) go_to_step_shown(s, i);
}

std::string place_in_words(const document::History& history) {
    const std::size_t back = history.position(), ahead = history.steps().size() - 1 - back;
    std::string text = counted(back, "step") + " done";
    if (ahead > 0) text += fmt::format(", {} taken back", ahead);
    return text + ".";
}

} // namespace

void history_panel(Ui& ui, Session& s) {
    heading(ui, "What was done");
    muted(ui, place_in_words(s.editor.history()) + " Up and Down walk through the steps, Home and End go to the ends.");
    gap(ui, 4);
    const float third = share_of_line(3);
    if (button(ui, "Back", ButtonKind::Plain, third)) s.panel = Panel::Stage;
    for (const std::string_view id : {"undo", "redo"}) {
        ImGui::SameLine();
        const Action& action = *find_action(id);
        if (button(ui, std::string(action.label).c_str(), ButtonKind::Plain, third, action.enabled(s))) run(action, s);
    }
    rule(ui);
    HistoryDesk& desk = s.desks.get<HistoryDesk>();
    const auto saved = saved_step(s);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, 0});
    ImGui::BeginChild("steps", {0, 0}, false, ImGuiWindowFlags_NoNav);
    const float high = ui.px(28);
    const std::size_t now = s.editor.history().position();
    if (desk.seen != now) {
        desk.seen = now;
        ImGui::SetScrollFromPosY(ImGui::GetCursorStartPos().y + high * static_cast<float>(now) - ImGui::GetScrollY(),
                                 0.5F);
    }
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(s.editor.history().steps().size()), high);
    while (clipper.Step())
        for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i)
            step_row(ui, s, static_cast<std::size_t>(i), saved);
    ImGui::EndChild();
    ImGui::PopStyleVar();
}

bool history_key(Session& s, const Chord& chord) {
    if (chord.ctrl || chord.shift || chord.alt) return false;
    const std::size_t now = s.editor.history().position(), last = s.editor.history().steps().size() - 1;
    switch (chord.key) {
    case Key::Up:
        if (now > 0) go_to_step_shown(s, now - 1);
        return true;
    case Key::Down:
        if (now < last) go_to_step_shown(s, now + 1);
        return true;
    case Key::Home: go_to_step_shown(s, 0); return true;
    case Key::End: go_to_step_shown(s, last); return true;
    default: return false;
    }
}

} // namespace padchart::app
