// Where is the mark: the part as it sits, large, with eight places round it, and the wrong turns beside it.

#include <algorithm>
#include <cmath>
#include <sstream>

#include <fmt/format.h>

#include "app/orientation.hpp"
#include "app/panels/orient_parts.hpp"
#include "app/room.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using geometry::Box;
using geometry::Vec2;

ImVec2 vec(Vec2 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

void caption(const Ui& ui, const Box& box, const std::string& text, paint::Colour colour) {
    ImFont* font = ui.fonts().small;
    float y = static_cast<float>(box.max.y) + ui.px(3);
    std::istringstream lines(in_lines(font, text, static_cast<float>(box.width())));
    for (std::string line; std::getline(lines, line); y += font->FontSize) {
        const float wide = font->CalcTextSizeA(font->FontSize, 1e6F, 0, line.c_str()).x;
        const float x = static_cast<float>(box.centre().x) - wide / 2;
        ImGui::GetWindowDrawList()->AddText(font, font->FontSize, {std::round(x), y}, packed(colour), line.c_str());
    }
}

/// Body and lands as the part sits, mm.
Vec2 size_as_it_sits(const Footprint& part) {
    const geometry::Affine turn = geometry::Affine::rotation(part.placement.turn);
    Box box = geometry::bounds(geometry::transformed(document::extent_in_part(part), turn));
    for (const document::Pad& pad : part.pads)
        box.add(geometry::bounds(geometry::transformed(document::outline_in_part(pad), turn)));
    return box.is_empty() ? Vec2{1, 1} : Vec2{std::max(box.width(), 1e-6), std::max(box.height(), 1e-6)};
}

/// The turns that seat as well, one below the other.
void ghosts(const Ui& ui, const Footprint& part, const analysis::PartFit& fit, const Box& room) {
    const std::size_t count = std::min<std::size_t>(fit.risky_turns.size(), 3);
    const double each = room.height() / static_cast<double>(count);
    const char* words = count > 1                  ? "turned {:g}°"
                        : fit.unsure_turns.empty() ? "turned {:g}°, seats too"
                                                   : "turned {:g}°, may seat too";
    ImFont* font = ui.fonts().small;
    const std::string one = in_lines(font, fmt::format(fmt::runtime(words), 270.0), static_cast<float>(room.width()));
    const auto lines = static_cast<float>(1 + std::count(one.begin(), one.end(), '\n'));
    const auto line = static_cast<double>(lines * font->FontSize + ui.px(6));
    for (std::size_t i = 0; i < count; ++i) {
        const double top = room.min.y + each * static_cast<double>(i);
        const Box box{{room.min.x, top + static_cast<double>(ui.px(4))}, {room.max.x, top + each - line}};
        Drawing how;
        how.ghost = true;
        how.turn = Angle::degrees(fit.risky_turns[i]);
        draw_part(ui, part, box, how);
        caption(ui, box, fmt::format(fmt::runtime(words), fit.risky_turns[i]), ui.colours().unknown_text);
    }
}

/// One of the eight. True when it is pressed.
bool place_button(const Ui& ui, Vec2 at, float r, int number, bool chosen) {
    const paint::Palette& c = ui.colours();
    ImGui::PushID(number);
    ImGui::SetCursorScreenPos({vec(at).x - r, vec(at).y - r});
    const bool pressed = ImGui::InvisibleButton("##place", {2 * r, 2 * r});
    const bool hovered = ImGui::IsItemHovered() || (ImGui::GetIO().NavVisible && ImGui::IsItemFocused());
    ImGui::PopID();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddCircleFilled(vec(at), r, packed(hovered ? paint::over(with_alpha(c.selection, 40), c.panel) : c.panel));
    list->AddCircle(vec(at), r, packed(c.ink), 0, ui.px(1.4));
    if (chosen) list->AddCircleFilled(vec(at), r - ui.px(4), packed(c.selection));
    return pressed;
}

/// The places round the drawing. True where the pointer is on one of them.
bool places(const Ui& ui, Session& s, const Footprint& part, const Box& drawn, float r) {
    const std::vector<MarkPlace> all = mark_places(part);
    const OrientDraft& draft = orient_draft(s, part);
    const auto chosen = draft.has_place ? nearest_place(all, draft.orientation.bearing) : std::nullopt;
    const auto away = static_cast<double>(r + ui.px(3));
    // A long thin part still needs room for three places on its short side.
    const auto least = static_cast<double>(2 * r + ui.px(4));
    const Vec2 half{std::max(drawn.width() / 2 + away, least), std::max(drawn.height() / 2 + away, least)};
    bool is_over = false;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Vec2 spot = drawn.centre() + Vec2{all[i].x * half.x, all[i].y * half.y};
        if (place_button(ui, spot, r, static_cast<int>(i), chosen == i)) draft_place(s, part, i);
        is_over = is_over || ImGui::IsItemHovered();
    }
    return is_over;
}

/// A click between the places: the bearing itself, to a whole degree.
void take_bearing(Session& s, const Footprint& part, const Box& area, Vec2 centre) {
    const ImVec2 mouse = ImGui::GetMousePos();
    const Vec2 at{static_cast<double>(mouse.x), static_cast<double>(mouse.y)};
    if (!ImGui::IsMouseClicked(ImGuiMouseButton_Left) || !ImGui::IsWindowHovered() || !area.contains(at)) return;
    if (geometry::distance(at, centre) < 4.0) return;
    OrientDraft& draft = orient_draft(s, part);
    const double seen = std::round(geometry::bearing(at - centre).degrees());
    draft.orientation.bearing = (Angle::degrees(seen) - part.placement.turn).wrapped();
    draft.has_place = true;
}

} // namespace

void place_picker(Ui& ui, Session& s, const Footprint& part, const analysis::PartFit& fit) {
    title(ui, "Where is the mark on this board?");
    if (mark_places(part).empty()) return muted(ui, "Draw its pads or body first.");
    const bool has_ghosts = !fit.risky_turns.empty();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(is_low(ui) ? 148 : 196), r = ui.px(12);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + width, at.y + height}, packed(ui.colours().panel), ui.px(8));
    list->AddRect(at, {at.x + width, at.y + height}, packed(ui.colours().rule), ui.px(8));
    const auto left = static_cast<double>(at.x), top = static_cast<double>(at.y);
    const double split = static_cast<double>(width) * (has_ghosts ? 0.66 : 1.0);
    const Box area{{left, top}, {left + split, top + static_cast<double>(height)}};
    const auto margin = static_cast<double>(2 * r + ui.px(12));
    const Box room = area.grown(-margin);
    const Vec2 size = size_as_it_sits(part);
    const double k = std::min(room.width() / size.x, room.height() / size.y);
    const Vec2 centre{std::round(room.centre().x), std::round(room.centre().y)};
    const Box drawn{centre - size * (k / 2), centre + size * (k / 2)};
    const Footprint shown = as_drafted(s, part);
    Drawing how;
    how.show_numbers = true;
    draw_part(ui, shown, drawn, how);
    if (!places(ui, s, part, drawn, r)) take_bearing(s, part, area, centre);
    if (has_ghosts) {
        const auto line_x = static_cast<float>(area.max.x);
        list->AddLine({line_x, at.y + ui.px(12)}, {line_x, at.y + height - ui.px(12)}, packed(ui.colours().rule));
        const auto inset = static_cast<double>(ui.px(10));
        ghosts(ui, shown, fit,
               {{area.max.x + inset, top + inset}, {left + static_cast<double>(width) - inset, area.max.y - inset}});
    }
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy({width, height});
}

} // namespace padchart::app
