#include "app/panels/side_by_side.hpp"

#include <algorithm>
#include <cmath>

#include "app/room.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

void under(const Ui& ui, const geometry::Box& box, const std::string& text, ImFont* font, paint::Colour colour,
           float below) {
    ImGui::PushFont(font);
    const std::string shown = fitted(text, static_cast<float>(box.width()) + ui.px(24));
    const float x = static_cast<float>(box.centre().x) - ImGui::CalcTextSize(shown.c_str()).x / 2;
    ImGui::GetWindowDrawList()->AddText({std::round(x), static_cast<float>(box.max.y) + below}, packed(colour),
                                        shown.c_str());
    ImGui::PopFont();
}

} // namespace

void side_by_side(const Ui& ui, const Pane& left, const Pane& right) {
    const auto lines = static_cast<float>(std::max({left.lines.size(), right.lines.size(), std::size_t{1}}));
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(is_low(ui) ? 128 : 188) + lines * ui.px(18);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + width, at.y + height}, packed(ui.colours().panel), ui.px(8));
    list->AddRect(at, {at.x + width, at.y + height}, packed(ui.colours().rule), ui.px(8));
    list->AddLine({at.x + width / 2, at.y + ui.px(12)}, {at.x + width / 2, at.y + height - ui.px(12)},
                  packed(ui.colours().rule));
    const auto margin = static_cast<double>(ui.px(20));
    const Pane* panes[] = {&left, &right};
    for (int i = 0; i < 2; ++i) {
        const double x = static_cast<double>(at.x) + i * static_cast<double>(width / 2);
        const geometry::Box box{{x + margin, static_cast<double>(at.y) + margin},
                                {x + static_cast<double>(width / 2) - margin,
                                 static_cast<double>(at.y + height - ui.px(46) - lines * ui.px(18))}};
        Drawing how;
        how.ghost = panes[i]->ghost;
        if (panes[i]->part != nullptr) draw_part(ui, *panes[i]->part, box, how);
        under(ui, box, panes[i]->title, ui.fonts().strong, ui.colours().ink, ui.px(12));
        for (std::size_t k = 0; k < panes[i]->lines.size(); ++k)
            under(ui, box, panes[i]->lines[k], ui.fonts().regular, ui.colours().muted,
                  ui.px(32) + static_cast<float>(k) * ui.px(18));
    }
    ImGui::Dummy({width, height});
}

} // namespace padchart::app
