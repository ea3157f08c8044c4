#include <algorithm>
#include <filesystem>
#include <optional>
#include <vector>

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/actions.hpp"
#include "app/dialogs/dialogs.hpp"
#include "app/import_flow.hpp"
#include "app/remembered.hpp"
#include "app/start_desk.hpp"
#include "app/tip.hpp"
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

/// An action, or a chart to be opened.
struct Row {
    const Action* action = nullptr;
    std::filesystem::path recent;
};

struct Found {
    std::vector<Row> rows;
    std::size_t possible = 0; ///< those come first
};

std::string words_of(const std::filesystem::path& recent) {
    return fmt::format("{} {}", kRecentWords, recent.filename().string());
}

/// What else a hand may look for it by: what other places of the window call it.
std::string_view other_words(const Action& action) {
    if (action.id == "photos" || action.id == "trace") return "trace over a photo";
    return "";
}

std::string searched_words(const Action& action) {
    return fmt::format("{} {} {} {}", action.label, action.group, keys_of(action), other_words(action));
}

Found found(Session& s, const std::string& filter) {
    std::vector<const Action*> all;
    for (const Action& action : actions())
        if (matches(searched_words(action), filter)) all.push_back(&action);
    const auto rest =
        std::stable_partition(all.begin(), all.end(), [&](const Action* action) { return action->enabled(s); });
    std::stable_sort(rest, all.end(), [&](const Action* a, const Action* b) {
        return a->enabled.missing(s) < b->enabled.missing(s); // what waits for the same stands together
    });
    Found found;
    for (auto at = all.begin(); at != rest; ++at)
        found.rows.push_back({*at, {}});
    if (!is_importing(s))
        for (const std::filesystem::path& recent : s.desks.get<StartDesk>().recent)
            if (matches(words_of(recent) + " " + recent.parent_path().string(), filter))
                found.rows.push_back({nullptr, recent});
    found.possible = found.rows.size();
    for (auto at = rest; at != all.end(); ++at)
        found.rows.push_back({*at, {}});
    return found;
}

std::string why_not(const Action& action, const Session& s) {
    return "Not possible just now: " + std::string(action.enabled.missing(s));
}

bool action_row(const Ui& ui, const Session& s, const Action& action, bool chosen) {
    ImGui::BeginDisabled(!action.enabled(s));
    const bool pressed = ImGui::Selectable(std::string(action.label).c_str(), chosen, 0, {0, ui.px(22)});
    keep_clear_here();
    const std::string keys = keys_of(action);
    ImGui::SameLine(ImGui::GetContentRegionMax().x - ImGui::CalcTextSize(keys.c_str()).x - ui.px(4));
    ImGui::TextColored(floats(ui.colours().muted), "%s", keys.c_str());
    ImGui::EndDisabled();
    return pressed;
}

bool recent_row(const Ui& ui, const std::filesystem::path& recent, bool chosen) {
    const bool pressed = ImGui::Selectable(words_of(recent).c_str(), chosen, 0, {0, ui.px(22)});
    keep_clear_here();
    const bool hovered = ImGui::IsItemHovered();
    ImGui::SameLine(0, ui.px(12));
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().muted));
    fitted_with_tip(ui, recent.parent_path().string(), hovered);
    ImGui::PopStyleColor();
    return pressed;
}

std::string heading_of(const Row& row, const Session& s, bool possible) {
    if (row.action == nullptr) return "Recent charts";
    return possible ? std::string(row.action->group) : why_not(*row.action, s);
}

bool list_row(const Ui& ui, const Session& s, const Row& row, bool chosen) {
    return row.action != nullptr ? action_row(ui, s, *row.action, chosen) : recent_row(ui, row.recent, chosen);
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
    if (dialog.wants_focus) s.desks.get<StartDesk>().recent = recent_charts();
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
    std::optional<std::size_t> wanted;
    ImGui::BeginChild("list", {0, -ui.px(2)}, false, ImGuiWindowFlags_NoNav);
    std::string group;
    for (std::size_t i = 0; i < list.size(); ++i) {
        const std::string heads = heading_of(list[i], s, i < possible);
        if (heads != group) {
            group = heads;
            muted(ui, group);
        }
        const bool chosen = static_cast<int>(i) == dialog.chosen;
        ImGui::PushID(static_cast<int>(i));
        if (list_row(ui, s, list[i], chosen)) wanted = i;
        ImGui::PopID();
        if (chosen && (stepped(ImGuiKey_DownArrow) || stepped(ImGuiKey_UpArrow))) ImGui::SetScrollHereY();
    }
    if (list.empty()) muted(ui, "Nothing is called so. Try fewer letters, or one word alone.");
    ImGui::EndChild();
    end_dialog();
    if (entered && !list.empty()) wanted = static_cast<std::size_t>(dialog.chosen);
    s.dialog = dialog;
    if (!wanted || *wanted >= possible) return;
    s.dialog = std::monostate{};
    const Row& row = list[*wanted];
    if (row.action != nullptr) return run(*row.action, s);
    open_recent(s, row.recent);
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
