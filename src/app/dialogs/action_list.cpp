#include <algorithm>
#include <vector>

#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/actions.hpp"
#include "app/dialogs/dialogs.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

std::string keys_of(const Action& action) {
    std::string text;
    for (const Chord& chord : action.keys) {
        const std::string key = to_text(chord);
        if (text.find(key) == std::string::npos) text += (text.empty() ? "" : ", ") + key;
    }
    return text;
}

struct Found {
    std::vector<const Action*> actions;
    std::size_t possible = 0; ///< those come first
};

Found found(const Session& s, const std::string& filter) {
    Found found;
    for (const Action& action : actions())
        if (matches(std::string(action.label) + " " + std::string(action.group) + " " + keys_of(action), filter))
            found.actions.push_back(&action);
    const auto rest = std::stable_partition(found.actions.begin(), found.actions.end(),
                                            [&](const Action* action) { return action->enabled(s); });
    found.possible = static_cast<std::size_t>(rest - found.actions.begin());
    std::stable_sort(rest, found.actions.end(), [&](const Action* a, const Action* b) {
        return a->enabled.missing(s) < b->enabled.missing(s); // what waits for the same stands together
    });
    return found;
}

std::string why_not(const Action& action, const Session& s) {
    return "Not possible just now: " + std::string(action.enabled.missing(s));
}

bool action_row(const Ui& ui, const Session& s, const Action& action, bool chosen) {
    ImGui::BeginDisabled(!action.enabled(s));
    const bool pressed = ImGui::Selectable(std::string(action.label).c_str(), chosen, 0, {0, ui.px(22)});
    const std::string keys = keys_of(action);
    ImGui::SameLine(ImGui::GetContentRegionMax().x - ImGui::CalcTextSize(keys.c_str()).x - ui.px(4));
    ImGui::TextColored(floats(ui.colours().muted), "%s", keys.c_str());
    ImGui::EndDisabled();
    return pressed;
}

bool stepped(ImGuiKey key) {
    return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key));
}

void scroll_by_keys() {
    const float line = ImGui::GetTextLineHeightWithSpacing(), page = ImGui::GetWindowHeight() - line;
    float to = ImGui::GetScrollY();
    if (stepped(ImGuiKey_DownArrow)) to += line;
    if (stepped(ImGuiKey_UpArrow)) to -= line;
    if (stepped(ImGuiKey_PageDown)) to += page;
    if (stepped(ImGuiKey_PageUp)) to -= page;
    if (stepped(ImGuiKey_Home)) to = 0.0F;
    if (stepped(ImGuiKey_End)) to = ImGui::GetScrollMaxY();
    to = std::clamp(to, 0.0F, ImGui::GetScrollMaxY());
    if (to != ImGui::GetScrollY()) ImGui::SetScrollY(to);
}

} // namespace

void actions_dialog(Ui& ui, Session& s, ActionsDialog dialog) {
    begin_dialog(ui, "actions", 520, 520);
    heading(ui, "What do you want to do?");
    gap(ui, 2);
    ImGui::SetNextItemWidth(-1);
    if (dialog.wants_focus || is_clicked_beside()) {
        ImGui::SetKeyboardFocusHere();
        dialog.wants_focus = false;
        ui.await_focus();
    }
    const std::string before = dialog.filter;
    const bool entered = ImGui::InputTextWithHint("##filter", "type a few letters", &dialog.filter,
                                                  ImGuiInputTextFlags_EnterReturnsTrue);
    const auto [list, possible] = found(s, dialog.filter);
    if (dialog.filter != before) dialog.chosen = 0;
    if (stepped(ImGuiKey_DownArrow)) ++dialog.chosen;
    if (stepped(ImGuiKey_UpArrow)) --dialog.chosen;
    dialog.chosen = std::clamp(dialog.chosen, 0, std::max(static_cast<int>(list.size()) - 1, 0));
    const Action* wanted = nullptr;
    ImGui::BeginChild("list", {0, -ui.px(2)}, false, ImGuiWindowFlags_NoNav);
    std::string group;
    for (std::size_t i = 0; i < list.size(); ++i) {
        const std::string heads = i < possible ? std::string(list[i]->group) : why_not(*list[i], s);
        if (heads != group) {
            group = heads;
            muted(ui, group);
        }
        const bool chosen = static_cast<int>(i) == dialog.chosen;
        if (action_row(ui, s, *list[i], chosen)) wanted = list[i];
        if (chosen && (stepped(ImGuiKey_DownArrow) || stepped(ImGuiKey_UpArrow))) ImGui::SetScrollHereY();
    }
    if (list.empty()) muted(ui, "Nothing is called so. Try fewer letters, or one word alone.");
    ImGui::EndChild();
    end_dialog();
    if (entered && !list.empty()) wanted = list[static_cast<std::size_t>(dialog.chosen)];
    s.dialog = dialog;
    if (wanted == nullptr || !wanted->enabled(s)) return;
    s.dialog = std::monostate{};
    run(*wanted, s);
}

void help_dialog(Ui& ui, Session& s) {
    begin_dialog(ui, "help", 620, 600);
    ImGui::BeginChild("keys", {0, -ui.px(52)}, false, ImGuiWindowFlags_NoNav);
    scroll_by_keys();
    heading(ui, "With the hand on the mouse");
    gap(ui, 2);
    fact(ui, "Select a part", "click; Shift or Ctrl adds");
    fact(ui, "Select several", "drag over empty board");
    fact(ui, "Move", "drag it; Ctrl lets nothing be met, Esc drops the move");
    fact(ui, "Turn freely", "drag the round handle; Shift by 15°");
    fact(ui, "Pan", "middle or right button, or Space and drag");
    fact(ui, "Zoom", "wheel, at the pointer");
    rule(ui);
    heading(ui, "With the keys");
    for (const Action& action : actions())
        if (!action.keys.empty()) fact(ui, std::string(action.label).c_str(), keys_of(action));
    ImGui::EndChild();
    if (button(ui, "Close", ButtonKind::Filled, share_of_line(3))) s.dialog = std::monostate{};
    end_dialog();
}

} // namespace padchart::app
