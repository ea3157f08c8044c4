// The strip of chrome.hpp that tells of long work under way.

#include <cmath>

#include <fmt/format.h>

#include "app/chrome.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"
#include "app/work_desk.hpp"

namespace padchart::app {
namespace {

// Sooner it would only flash.
constexpr double kWorthTelling_s = 0.3;
constexpr double kHeight = 56, kAbove = 14; ///< px at scale 1

/// The work with its time, and below it the step it is at: neither may push the other out of sight.
void what_is_done(const Ui& ui, const WorkDesk& work, float room) {
    const std::string time = fmt::format(" ...  {:.0f} s", std::floor(work.seconds()));
    const std::string first = fitted(work.title(), room - ImGui::CalcTextSize(time.c_str()).x) + time;
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, ui.px(4)});
    if (work.step().empty()) ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(first.c_str());
    if (!work.step().empty()) ImGui::TextColored(floats(ui.colours().muted), "%s", fitted(work.step(), room).c_str());
    ImGui::PopStyleVar();
}

} // namespace

float work_strip_height(const Ui& ui) {
    return ui.px(kAbove + kHeight);
}

void work_strip(Ui& ui, Session& s, const Layout& l) {
    WorkDesk& work = s.desks.get<WorkDesk>();
    if (!work.is_busy()) return;
    if (work.seconds() < kWorthTelling_s) return;
    const float width = std::min(ui.px(480), static_cast<float>(l.canvas.width()) - ui.px(40)), height = ui.px(kHeight);
    ImGui::SetNextWindowPos({std::round(static_cast<float>(l.canvas.centre().x) - width / 2),
                             static_cast<float>(l.canvas.min.y) + ui.px(kAbove)});
    ImGui::SetNextWindowSize({width, height});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, ui.px(8));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(14), ui.px(11)});
    ImGui::Begin("work", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoFocusOnAppearing | ImGuiWindowFlags_NoNav);
    const float give_up = work.can_be_given_up() ? ui.px(104) : 0.0F;
    const ImVec2 pen = ImGui::GetCursorPos();
    what_is_done(ui, work, ImGui::GetContentRegionAvail().x - give_up - ui.px(14));
    ImGui::SetCursorPos(pen);
    if (work.can_be_given_up()) {
        ImGui::SetCursorPosX(ImGui::GetContentRegionMax().x - give_up);
        if (button(ui, "Give it up", ButtonKind::Outlined, give_up, true, ui.px(32))) work.cancel(s);
        if (ImGui::IsItemHovered())
            tip(ui, work.holds_hands() ? "Escape" : "Escape, where nothing is selected, typed or open");
    }
    ImGui::End();
    ImGui::PopStyleVar(3);
}

} // namespace padchart::app
