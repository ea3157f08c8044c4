#include <chrono>

#include "app/chrome.hpp"
#include "app/widgets.hpp"

namespace padchart::app {

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
}

} // namespace padchart::app
