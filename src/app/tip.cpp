#include "app/tip.hpp"

#include <imgui.h>

#include "app/widgets.hpp"

namespace padchart::app {

void tip(const Ui& ui, std::string_view text) {
    // A panel's margins would make a sheet of paper of it.
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(10), ui.px(6)});
    ImGui::BeginTooltip();
    // A sentence at most so wide that an eye finds the next line.
    const std::string lines = in_lines(ImGui::GetFont(), text, ui.px(410));
    ImGui::PushTextWrapPos(ui.px(420));
    ImGui::TextUnformatted(lines.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    ImGui::PopStyleVar();
}

} // namespace padchart::app
