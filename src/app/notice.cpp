#include <chrono>

#include "app/chrome.hpp"
#include "app/tip.hpp"
#include "app/trace_log.hpp"
#include "app/widgets.hpp"

namespace padchart::app {

namespace {

/// A click on the words closes them and reaches nothing below.
bool is_clicked(Ui& ui, ImVec2 at, ImVec2 size) {
    constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                        ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBackground |
                                        ImGuiWindowFlags_NoFocusOnAppearing | ImGuiWindowFlags_NoNav |
                                        ImGuiWindowFlags_NoBringToFrontOnFocus;
    ImGui::SetNextWindowPos(at);
    ImGui::SetNextWindowSize(size);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
    ImGui::Begin("notice", nullptr, kFlags);
    const bool clicked = ImGui::InvisibleButton("##close", size);
    if (ImGui::IsItemHovered()) tip(ui, "Click to close");
    ImGui::End();
    ImGui::PopStyleVar();
    return clicked;
}

} // namespace

void notice(Ui& ui, Session& s, const Layout& layout) {
    const std::optional<Notice>& now = s.editor.notice();
    if (!now) return;
    const paint::Palette& c = ui.colours();
    const bool bad = now->severity != Severity::Note;
    ImFont* font = ui.fonts().strong;
    const float wrap = static_cast<float>(layout.canvas.width()) - ui.px(80);
    const std::string words = in_lines(font, now->text, wrap);
    const ImVec2 text = font->CalcTextSizeA(font->FontSize, 1e6F, wrap, words.c_str());
    const ImVec2 size{text.x + ui.px(28), text.y + ui.px(16)};
    const ImVec2 at{static_cast<float>(layout.canvas.centre().x) - size.x / 2,
                    static_cast<float>(layout.canvas.min.y) + ui.px(14)};
    ImDrawList* list = ImGui::GetBackgroundDrawList();
    const ImVec2 end{at.x + size.x, at.y + size.y};
    list->AddRectFilled(at, end, packed(bad ? c.danger_panel : c.panel), ui.px(8));
    list->AddRect(at, end, packed(bad ? c.danger : c.rule), ui.px(8));
    list->AddText(font, font->FontSize, {at.x + ui.px(14), at.y + ui.px(8)}, packed(bad ? c.danger_text : c.ink),
                  words.c_str(), nullptr, wrap);
    if (is_clicked(ui, at, size)) {
        trace("notice", "closed");
        s.editor.clear_notice();
    }
}

} // namespace padchart::app
