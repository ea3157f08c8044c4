// The strip of chrome.hpp that tells of long work under way.

#include <cmath>

#include <fmt/format.h>

#include "app/chrome.hpp"
#include "app/widgets.hpp"
#include "app/work_desk.hpp"

namespace padchart::app {
namespace {

// Sooner it would only flash.
constexpr double kWorthTelling_s = 0.3;
constexpr double kHeight = 56, kAbove = 14; ///< px at scale 1

} // namespace

float work_strip_height(const Ui& ui) {
    return ui.px(kAbove + kHeight);
}

void work_strip(Ui& ui, Session& s, const Layout& l) {
    WorkDesk& work = s.desks.get<WorkDesk>();
    if (!work.is_busy()) return;
    if (work.seconds() < kWorthTelling_s) return;
    const std::string text = fmt::format("{}{}{} ...  {:.0f} s", work.title(), work.step().empty() ? "" : ": ",
                                         work.step(), std::floor(work.seconds()));
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
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(fitted(text, ImGui::GetContentRegionAvail().x - give_up - ui.px(14)).c_str());
    if (work.can_be_given_up()) {
        ImGui::SameLine(ImGui::GetContentRegionMax().x - give_up);
        if (button(ui, "Give it up", ButtonKind::Outlined, give_up, true, ui.px(32))) work.cancel(s);
    }
    ImGui::End();
    ImGui::PopStyleVar(3);
}

} // namespace padchart::app
