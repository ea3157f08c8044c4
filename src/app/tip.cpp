#include "app/tip.hpp"

#include <algorithm>

#include <imgui.h>

#include "app/widgets.hpp"

namespace padchart::app {

namespace {

/// Below what is pointed at, above it at the lower edge: a hint must not cover the words it explains. Something large
/// has its hint at the pointer.
void stand_beside_item(const Ui& ui, const std::string& lines) {
    if (!ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax(), screen = ImGui::GetIO().DisplaySize;
    if (max.y - min.y > ui.px(64)) return;
    const ImVec2 words = ImGui::CalcTextSize(lines.c_str());
    const float wide = words.x + 2 * ui.px(10), high = words.y + 2 * ui.px(6), space = ui.px(4);
    const bool has_room_below = max.y + space + high <= screen.y;
    ImGui::SetNextWindowPos(
        {std::max(0.0F, std::min(std::max(min.x, ImGui::GetMousePos().x - wide / 2), screen.x - wide)),
         has_room_below ? max.y + space : min.y - space - high});
}

} // namespace

void tip(const Ui& ui, std::string_view text) {
    // A sentence at most so wide that an eye finds the next line.
    const std::string lines = in_lines(ImGui::GetFont(), text, ui.px(410));
    stand_beside_item(ui, lines);
    // A panel's margins would make a sheet of paper of it.
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(10), ui.px(6)});
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(ui.px(420));
    ImGui::TextUnformatted(lines.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    ImGui::PopStyleVar();
}

} // namespace padchart::app
