#include "app/room.hpp"

namespace padchart::app {
namespace {

constexpr double kLow = 600.0; // design px

} // namespace

bool is_low(const Ui& ui, double height_px) {
    return height_px < kLow * ui.scale();
}

void begin_low(const Ui& ui) {
    if (!is_low(ui)) return;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(14), ui.px(8)});
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(8), ui.px(4)});
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.px(8), ui.px(4)});
}

void end_low(const Ui& ui) {
    if (is_low(ui)) ImGui::PopStyleVar(3);
}

void heading_with(const Ui& ui, const std::string& text, const std::string& remark) {
    heading(ui, text);
    if (!is_low(ui)) return muted(ui, remark);
    const ImVec2 pen = ImGui::GetCursorPos();
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    const float left = max.x - min.x + ui.px(12);
    ImGui::SameLine(0, ui.px(12));
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().muted));
    ImGui::SetCursorPosY(pen.y - ImGui::GetStyle().ItemSpacing.y - ImGui::GetTextLineHeight() - ui.px(1));
    const bool hovered = ImGui::IsMouseHoveringRect(min, {min.x + left + ImGui::GetContentRegionAvail().x, max.y});
    fitted_with_tip(ui, remark, hovered);
    ImGui::PopStyleColor();
    ImGui::SetCursorPos(pen);
}

void verdict_first(const Ui& ui, Tone tone, const std::string& sentence, const std::string& reason) {
    if (!is_low(ui)) return verdict(ui, tone, sentence, reason);
    dot(ui, tone, tone != Tone::Plain);
    ImGui::SameLine(0, ui.px(6));
    ImGui::PushFont(ui.fonts().strong);
    wrapped(ui, sentence);
    ImGui::PopFont();
}

void verdict_reason(const Ui& ui, const std::string& reason) {
    if (is_low(ui) && !reason.empty()) muted(ui, reason);
}

} // namespace padchart::app
