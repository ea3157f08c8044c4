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
    const float wide = ImGui::GetItemRectSize().x + ui.px(12) + ImGui::CalcTextSize(remark.c_str()).x;
    if (!is_low(ui) || wide > ImGui::GetContentRegionAvail().x) return muted(ui, remark);
    const ImVec2 pen = ImGui::GetCursorPos();
    ImGui::SameLine(0, ui.px(12));
    ImGui::SetCursorPosY(pen.y - ImGui::GetStyle().ItemSpacing.y - ImGui::GetTextLineHeight() - ui.px(1));
    muted(ui, remark);
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
