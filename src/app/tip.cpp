#include "app/tip.hpp"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include <imgui.h>
#include <imgui_internal.h>

#include "app/tip_place.hpp"
#include "app/widgets.hpp"

namespace padchart::app {

namespace {

using geometry::Box;

/// Of the frame that is being made, and of the whole one before.
struct KeptClear {
    int frame = 0;
    std::vector<Box> now, before;

    void turn_over() {
        if (std::exchange(frame, ImGui::GetFrameCount()) == ImGui::GetFrameCount()) return;
        std::swap(now, before);
        now.clear();
    }
};

KeptClear& kept_clear() {
    static KeptClear all; // one panel context in the program
    all.turn_over();
    return all;
}

Box box_of(ImVec2 min, ImVec2 max) {
    return {{static_cast<double>(min.x), static_cast<double>(min.y)},
            {static_cast<double>(max.x), static_cast<double>(max.y)}};
}

Box panel_box() {
    const ImGuiWindow* root = ImGui::GetCurrentWindowRead()->RootWindow;
    return box_of(root->Pos, {root->Pos.x + root->Size.x, root->Pos.y + root->Size.y});
}

/// What is pointed at: the last item, with the row it stands in; else the row alone.
std::optional<Box> pointed_at(std::span<const Box> buttons) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    std::optional<Box> item;
    if (ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled))
        item = box_of(ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
    for (const Box& button : buttons) {
        if (!button.contains({static_cast<double>(mouse.x), static_cast<double>(mouse.y)})) continue;
        if (!item) return button;
        item->min.y = std::min(item->min.y, button.min.y);
        item->max.y = std::max(item->max.y, button.max.y);
    }
    return item;
}

/// Something large has its hint at the pointer.
void stand_beside_item(const Ui& ui, const std::string& lines) {
    const std::vector<Box>& buttons = kept_clear().before;
    const std::optional<Box> item = pointed_at(buttons);
    if (!item || item->height() > static_cast<double>(ui.px(64))) return;
    const ImVec2 words = ImGui::CalcTextSize(lines.c_str()), screen = ImGui::GetIO().DisplaySize;
    const geometry::Vec2 size{static_cast<double>(words.x + 2 * ui.px(10)),
                              static_cast<double>(words.y + 2 * ui.px(6))};
    const double x = std::max(item->min.x, static_cast<double>(ImGui::GetMousePos().x) - size.x / 2);
    const TipRoom room{
        {static_cast<double>(screen.x), static_cast<double>(screen.y)}, panel_box(), static_cast<double>(ui.px(4))};
    const geometry::Vec2 at = tip_place(*item, size.x > item->width() ? item->min.x : x, size, room, buttons);
    ImGui::SetNextWindowPos({static_cast<float>(at.x), static_cast<float>(at.y)});
}

} // namespace

void keep_clear_here() {
    if (!ImGui::IsItemVisible()) return;
    kept_clear().now.push_back(box_of(ImGui::GetItemRectMin(), ImGui::GetItemRectMax()));
}

void tip(const Ui& ui, std::string_view text) {
    // A sentence at most so wide that an eye finds the next line.
    const float room = std::min(ui.px(410), ImGui::GetIO().DisplaySize.x - ui.px(28));
    const std::string lines = in_lines(ImGui::GetFont(), text, room);
    stand_beside_item(ui, lines);
    // A panel's margins would make a sheet of paper of it.
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(10), ui.px(6)});
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(room + ui.px(10));
    ImGui::TextUnformatted(lines.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    ImGui::PopStyleVar();
}

} // namespace padchart::app
