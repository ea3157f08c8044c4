#include "app/panels/side_by_side.hpp"

#include <algorithm>
#include <cmath>

#include "app/room.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

float room_of(const Ui& ui, double width_px) {
    return static_cast<float>(width_px) + ui.px(24);
}

void under(const Ui& ui, const geometry::Box& box, const std::string& text, ImFont* font, paint::Colour colour,
           float below) {
    ImGui::PushFont(font);
    const std::string shown = fitted(text, room_of(ui, box.width()));
    const float x = static_cast<float>(box.centre().x) - ImGui::CalcTextSize(shown.c_str()).x / 2;
    ImGui::GetWindowDrawList()->AddText({std::round(x), static_cast<float>(box.max.y) + below}, packed(colour),
                                        shown.c_str());
    ImGui::PopFont();
}

/// A line too long for its pane is broken behind its first colon: its end says as much as its beginning.
std::vector<std::string> lines_of(const Pane& pane, float room) {
    std::vector<std::string> lines;
    for (const std::string& line : pane.lines) {
        const std::size_t colon = line.find(": ");
        const bool is_broken = colon != std::string::npos && ImGui::CalcTextSize(line.c_str()).x > room;
        if (is_broken) lines.push_back(line.substr(0, colon + 1));
        lines.push_back(is_broken ? line.substr(colon + 2) : line);
    }
    return lines;
}

struct Sizes {
    float height; ///< of the whole
    float words;  ///< of the captions below the drawings
};

void draw(const Ui& ui, const Pane& left, const Pane& right, const std::vector<std::string> (&said)[2], Sizes sizes) {
    const float width = ImGui::GetContentRegionAvail().x, height = sizes.height;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + width, at.y + height}, packed(ui.colours().panel), ui.px(8));
    list->AddRect(at, {at.x + width, at.y + height}, packed(ui.colours().rule), ui.px(8));
    list->AddLine({at.x + width / 2, at.y + ui.px(12)}, {at.x + width / 2, at.y + height - ui.px(12)},
                  packed(ui.colours().rule));
    const auto margin = static_cast<double>(ui.px(20));
    const auto above = std::min(margin, static_cast<double>(height) / 10);
    const Pane* panes[] = {&left, &right};
    for (int i = 0; i < 2; ++i) {
        const double x = static_cast<double>(at.x) + i * static_cast<double>(width / 2);
        const geometry::Box box{
            {x + margin, static_cast<double>(at.y) + above},
            {x + static_cast<double>(width / 2) - margin, static_cast<double>(at.y + height - sizes.words)}};
        Drawing how;
        how.ghost = panes[i]->ghost;
        if (panes[i]->part != nullptr) draw_part(ui, *panes[i]->part, box, how);
        under(ui, box, panes[i]->title, ui.fonts().strong, ui.colours().ink, ui.px(said[i].empty() ? 6 : 12));
        for (std::size_t k = 0; k < said[i].size(); ++k)
            under(ui, box, said[i][k], ui.fonts().regular, ui.colours().muted,
                  ui.px(32) + static_cast<float>(k) * ui.px(18));
    }
    ImGui::Dummy({width, height});
}

} // namespace

void side_by_side(const Ui& ui, const Pane& left, const Pane& right) {
    const float pane_width = ImGui::GetContentRegionAvail().x / 2 - 2 * ui.px(20);
    const std::vector<std::string> said[] = {lines_of(left, room_of(ui, static_cast<double>(pane_width))),
                                             lines_of(right, room_of(ui, static_cast<double>(pane_width)))};
    const auto lines = static_cast<float>(std::max({said[0].size(), said[1].size(), std::size_t{1}}));
    draw(ui, left, right, said, {ui.px(is_low(ui) ? 128 : 188) + lines * ui.px(18), ui.px(46) + lines * ui.px(18)});
}

void drawn_side_by_side(const Ui& ui, const Pane& left, const Pane& right, float height) {
    draw(ui, left, right, {}, {height, ui.px(28)});
}

} // namespace padchart::app
