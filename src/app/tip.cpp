#include "app/tip.hpp"

#include <imgui.h>

namespace padchart::app {

void tip(const Ui& ui, std::string_view text) {
    // A panel's margins would make a sheet of paper of it.
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(10), ui.px(6)});
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(ui.px(420)); // a sentence at most so wide that an eye finds the next line
    ImGui::TextUnformatted(text.data(), text.data() + text.size());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    ImGui::PopStyleVar();
}

} // namespace padchart::app
