// Layers and shapes of a trace, each with a small picture of what is drawn there.

#include "app/panels/import_parts.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "app/widgets.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

constexpr std::size_t kMostThumbPoints = 400;

/// The entry's shapes, as large as fits.
void thumb(const Ui& ui, const ImportDesk& desk, const FoundEntry& entry, ImVec2 at, ImVec2 size) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + size.x, at.y + size.y}, packed(ui.colours().panel), ui.px(4));
    list->AddRect(at, {at.x + size.x, at.y + size.y}, packed(ui.colours().rule), ui.px(4));
    const svg::Drawing& drawing = desk.drawing();
    const std::size_t step = entry.shapes.size() / 120 + 1; // a few of very many show as well what they are
    geometry::Box box;
    for (std::size_t i = 0; i < entry.shapes.size(); i += step)
        box.add(drawing.shapes[entry.shapes[i]].bbox);
    if (box.is_empty()) return;
    const float margin = ui.px(4);
    const auto room = [&](float side) { return static_cast<double>(side - 2 * margin); };
    const double k = std::min(room(size.x) / std::max(box.width(), 1e-9), room(size.y) / std::max(box.height(), 1e-9));
    const auto px = [&](Vec2 p) {
        const Vec2 off = (p - box.centre()) * k;
        return ImVec2{at.x + size.x / 2 + static_cast<float>(off.x), at.y + size.y / 2 + static_cast<float>(off.y)};
    };
    for (std::size_t i = 0; i < entry.shapes.size(); i += step)
        for (const svg::Subpath& subpath : drawing.subpaths_of(drawing.shapes[entry.shapes[i]])) {
            const auto points = drawing.points_of(subpath);
            const std::size_t skip = points.size() / kMostThumbPoints + 1;
            std::vector<ImVec2> line;
            for (std::size_t p = 0; p < points.size(); p += skip)
                line.push_back(px(points[p]));
            if (skip > 1 && !points.empty()) line.push_back(px(points.back()));
            const geometry::Box& extent = drawing.shapes[entry.shapes[i]].bbox;
            if (std::max(extent.width(), extent.height()) * k < 6.0) {
                // As an outline it would be a knot of lines.
                const ImVec2 from = px(extent.min), to = px(extent.max);
                const float least = ui.px(1); // less than a pixel would be nothing
                list->AddRectFilled(from, {std::max(to.x, from.x + least), std::max(to.y, from.y + least)},
                                    packed(ui.colours().ink));
                break;
            }
            list->AddPolyline(line.data(), static_cast<int>(line.size()), packed(ui.colours().ink), 0, ui.px(1.2));
        }
}

void fold_mark(const Ui& ui, ImVec2 at, bool open) {
    const float d = ui.px(4), h = ui.px(2);
    const ImVec2 down[] = {{at.x - d, at.y - h}, {at.x, at.y + h}, {at.x + d, at.y - h}};
    const ImVec2 right[] = {{at.x - h, at.y - d}, {at.x + h, at.y}, {at.x - h, at.y + d}};
    ImGui::GetWindowDrawList()->AddPolyline(open ? down : right, 3, packed(ui.colours().ink), 0, ui.px(1.6));
}

/// One line of the list. A press chooses it; a press of its fold mark opens it.
void entry_row(const Ui& ui, ImportDesk& desk, std::size_t index, float height) {
    const FoundEntry& entry = desk.entries()[index];
    ImGui::PushID(static_cast<int>(index));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const float left = at.x + ui.px(14) * static_cast<float>(std::min(entry.depth, 6));
    const float fold = entry.children.empty() ? 0.0F : ui.px(20);
    if (ImGui::Selectable("##entry", desk.chosen == index, 0, {width, height - ui.px(4)})) {
        const bool on_fold = !entry.children.empty() && ImGui::GetIO().MousePos.x < left + ui.px(20);
        if (on_fold || desk.chosen == index) desk.fold(index, !entry.open && !entry.children.empty());
        if (!on_fold) desk.chosen = index;
    }
    if (fold > 0) fold_mark(ui, {left + ui.px(8), at.y + height / 2 - ui.px(2)}, entry.open);
    const ImVec2 picture{left + ui.px(20), at.y + ui.px(2)};
    thumb(ui, desk, entry, picture, {ui.px(46), height - ui.px(8)});
    const float words = picture.x + ui.px(54), room = at.x + width - words - ui.px(4);
    ImDrawList* list = ImGui::GetWindowDrawList();
    ImGui::PushFont(ui.fonts().strong);
    list->AddText({words, at.y + ui.px(2)}, packed(ui.colours().ink), fitted(entry.name, room).c_str());
    ImGui::PopFont();
    const bool lost = entry.taken_for[static_cast<std::size_t>(svg::Role::None)] > 0;
    const bool is_said = entry.said != svg::ShapeMeaning{};
    const std::string taken = (entry.remembered ? "remembered: " : is_said ? "said: " : "") + taken_words(entry);
    list->AddText({words, at.y + ui.px(19)}, packed(lost ? ui.colours().unknown_text : ui.colours().muted),
                  fitted(taken, room).c_str());
    ImGui::PopID();
}

} // namespace

void entry_list(const Ui& ui, ImportDesk& desk, ImportPanelState& state, float tall) {
    ImGui::PushStyleColor(ImGuiCol_ChildBg, packed(ui.colours().paper));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(6), ui.px(6)});
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, ui.px(4)});
    const float height = ui.px(42);
    ImGui::BeginChild("entries", {0, tall}, true, ImGuiWindowFlags_AlwaysUseWindowPadding);
    state.list_has_keys = ImGui::IsWindowFocused();
    const std::vector<std::size_t> listed = desk.listed();
    if (desk.chosen && state.shown != desk.chosen) {
        const auto found = std::find(listed.begin(), listed.end(), *desk.chosen);
        const float y = height * static_cast<float>(found - listed.begin());
        if (y < ImGui::GetScrollY() || y + height > ImGui::GetScrollY() + tall - ui.px(20))
            ImGui::SetScrollY(y - ui.px(80));
    }
    state.shown = desk.chosen;
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(listed.size()), height);
    while (clipper.Step())
        for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i)
            entry_row(ui, desk, listed[static_cast<std::size_t>(i)], height);
    ImGui::EndChild();
    ImGui::PopStyleVar(2);
    ImGui::PopStyleColor();
}

} // namespace padchart::app
