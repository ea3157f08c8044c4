#include "app/panels/body.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/widgets.hpp"

namespace padchart::app {
namespace {

float footer_begins_at = 0; // one panel is drawn at a time
bool at_top = false;
bool footer_changed = false;

/// Left free below the footer, as side_panel does.
float margin_below(const Ui& ui) {
    return ui.px(10) + ImGui::GetStyle().ItemSpacing.y;
}

} // namespace

void begin_body_at_top() {
    at_top = true;
}

void begin_body(const Ui& ui, float footer_height) {
    const float room = ImGui::GetContentRegionAvail().y - footer_height - margin_below(ui);
    const ImVec2 margin{ImGui::GetStyle().WindowPadding.x, 0};
    // As wide as the panel with its margins, so that labels and fields stand as in any other panel.
    ImGui::SetCursorPosX(0);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, margin);
    ImGui::BeginChild("##body", {ImGui::GetWindowWidth(), std::max(room, ui.px(80))}, false,
                      ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NavFlattened);
    ImGui::PopStyleVar();
    if (std::exchange(at_top, false)) ImGui::SetScrollY(0.0F);
}

void begin_footer(const Ui& ui) {
    ImGui::EndChild();
    footer_begins_at = ImGui::GetCursorPosY();
    const ImVec2 at = ImGui::GetWindowPos();
    const float y = ImGui::GetCursorScreenPos().y;
    ImGui::GetWindowDrawList()->AddLine({at.x, y}, {at.x + ImGui::GetWindowWidth(), y}, packed(ui.colours().rule));
    gap(ui, 2);
}

void end_footer(Ui& ui, float& footer_height) {
    const float height = ImGui::GetCursorPosY() - footer_begins_at;
    if (std::abs(height - footer_height) < 0.5F) return;
    footer_height = height;
    ui.wants_frame = footer_changed = true;
}

bool take_footer_change() {
    return std::exchange(footer_changed, false);
}

} // namespace padchart::app
