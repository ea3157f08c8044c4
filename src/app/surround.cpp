// Rulers, grid, scale bar and status bar of chrome.hpp.

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/caution.hpp"
#include "app/chrome.hpp"
#include "app/layers_desk.hpp"
#include "app/photo_desk.hpp"
#include "app/widgets.hpp"
#include "app/zoom_text.hpp"
#include "base/counted.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;

ImVec2 vec(Vec2 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

std::string ruler_number(double mm, double step) {
    const double clean = std::abs(mm) < step / 1000 ? 0.0 : mm; // no "-0"
    return step >= 1     ? fmt::format("{:.0f}", clean)
           : step >= 0.1 ? fmt::format("{:.1f}", clean)
                         : fmt::format("{:.2f}", clean);
}

void text_at(const Ui& ui, ImVec2 at, paint::Colour colour, const std::string& text) {
    ImFont* font = ui.fonts().small;
    ImGui::GetBackgroundDrawList()->AddText(font, font->FontSize * 10.0F / 11.0F, at, packed(colour), text.c_str());
}

void top_ruler(const Ui& ui, const Session& s, const Layout& l, double step) {
    ImDrawList* list = ImGui::GetBackgroundDrawList();
    const Box seen = s.camera.visible();
    const double mirror = s.seen_from == document::Side::Bottom ? -1.0 : 1.0;
    for (double k = std::ceil(seen.min.x / step); k * step <= seen.max.x; k += 1) {
        const float x = std::round(vec(s.camera.screen_from_scene({k * step, 0})).x);
        const float bottom = static_cast<float>(l.ruler_top.max.y);
        list->AddLine({x, bottom - ui.px(8)}, {x, bottom}, packed(ui.colours().muted));
        const std::string number = ruler_number(mirror * k * step, step);
        if (x + ui.px(26) < static_cast<float>(l.ruler_top.max.x))
            text_at(ui, {x + ui.px(4), static_cast<float>(l.ruler_top.min.y) + ui.px(1)}, ui.colours().muted, number);
    }
}

void left_ruler(const Ui& ui, const Session& s, const Layout& l, double step) {
    ImDrawList* list = ImGui::GetBackgroundDrawList();
    const Box seen = s.camera.visible();
    for (double k = std::ceil(seen.min.y / step); k * step <= seen.max.y; k += 1) {
        const float y = std::round(vec(s.camera.screen_from_scene({0, k * step})).y);
        const float right = static_cast<float>(l.ruler_left.max.x);
        list->AddLine({right - ui.px(8), y}, {right, y}, packed(ui.colours().muted));
        if (y - ui.px(13) > static_cast<float>(l.ruler_left.min.y))
            text_at(ui, {static_cast<float>(l.ruler_left.min.x) + ui.px(3), y - ui.px(13)}, ui.colours().muted,
                    ruler_number(k * step, step));
    }
}

std::string position_text(const Session& s, const Canvas& canvas) {
    std::string text;
    const char* unit = s.editor.shown().scale ? "mm" : "units";
    if (const auto at = canvas.pointer_scene(s)) {
        const Vec2 board = scene::scene_from_board(*at, s.seen_from);
        text = fmt::format("x {:.2f}   y {:.2f} {}", board.x, board.y, unit);
    }
    return text;
}

/// What most needs to be seen first.
std::vector<std::string> counts(const Session& s) {
    std::size_t missing = 0, unchecked = 0, unrecorded = 0, risky = 0;
    for (const document::Footprint& part : s.editor.shown().parts) {
        const document::Presence p = part.condition.presence;
        if (p == document::Presence::NotChecked) ++unchecked;
        if (p == document::Presence::Missing || p == document::Presence::Removed || p == document::Presence::Lost)
            ++missing;
    }
    if (s.computed() != nullptr && s.panel != Panel::Import) // it speaks of the chart behind a trace
        for (const analysis::PartFit& fit : s.computed()->fit.parts) {
            if (fit.needs_record) ++risky;
            if (fit.needs_record && !fit.has_record) ++unrecorded;
        }
    const bool orients = s.stage == scene::Stage::Orient;
    std::vector<std::string> words;
    if (const std::size_t photos = doubtful_photos(s); photos > 0)
        words.push_back(counted(photos, "photo") + " in doubt");
    const auto add = [&](std::size_t count, const char* what) {
        if (count > 0) words.push_back(fmt::format("{} {}", count, what));
    };
    if (const LayersDesk* layers = s.desks.find<LayersDesk>()) add(layers->parts().size(), "hidden");
    add(unrecorded, "not recorded");
    if (!orients) add(unchecked, "not checked");
    add(missing, "missing");
    words.push_back(counted(s.editor.shown().parts.size(), "part"));
    if (orients) add(risky, "can go back wrong");
    return words;
}

} // namespace

void rulers(const Ui& ui, const Session& s, const Layout& l) {
    ImDrawList* list = ImGui::GetBackgroundDrawList();
    const ImU32 paper = packed(ui.colours().panel);
    list->AddRectFilled(vec(l.ruler_top.min), vec(l.ruler_top.max), paper);
    list->AddRectFilled(vec(l.ruler_left.min), vec(l.ruler_left.max), paper);
    const double step = round_step_mm(s.camera.px_per_mm(), static_cast<double>(ui.px(46)));
    list->PushClipRect(vec({l.ruler_left.max.x, l.ruler_top.min.y}), vec(l.ruler_top.max));
    top_ruler(ui, s, l, step);
    list->PopClipRect();
    list->PushClipRect(vec(l.ruler_left.min), vec(l.ruler_left.max));
    left_ruler(ui, s, l, step);
    list->PopClipRect();
    const ImU32 rule = packed(ui.colours().rule);
    list->AddLine(vec({l.ruler_left.max.x, l.ruler_top.max.y}), vec(l.ruler_top.max), rule);
    list->AddLine(vec({l.ruler_left.max.x, l.ruler_top.max.y}), vec(l.ruler_left.max), rule);
    text_at(ui, vec({l.ruler_top.min.x + 2, l.ruler_top.min.y + 2}), ui.colours().muted,
            s.editor.shown().scale ? "mm" : "?");
}

namespace {

/// "Do this, that does something else; Esc leaves" without its last clauses, until it finds room.
std::string clauses_within(std::string text, const std::function<bool(const std::string&)>& finds_room) {
    while (!finds_room(text)) {
        const std::size_t last = text.find_last_of(",;");
        if (last == std::string::npos) break;
        text.resize(last);
    }
    return text;
}

float width_of(ImFont* font, float size, const std::string& text) {
    return font->CalcTextSizeA(size, 1e6F, 0, text.c_str()).x;
}

/// Position, counts and zoom. What finds no room is left out whole: half a number is a wrong number.
void where_and_what(const Ui& ui, const Session& s, const Canvas& canvas, ImVec2 at, float size, float end) {
    ImFont* font = ui.fonts().regular;
    const auto say = [&](const std::string& text) {
        const float w = width_of(font, size, text);
        if (text.empty() || at.x + w > end) return;
        ImGui::GetBackgroundDrawList()->AddText(font, size, at, packed(ui.colours().muted), text.c_str());
        at.x = std::round(at.x + w + ui.px(22));
    };
    say(position_text(s, canvas));
    say(joined_within(counts(s), end - at.x));
    say(zoom_text(s.camera.px_per_mm(), s.editor.shown().scale.has_value()));
}

/// The hint of the tool in hand, else the caution, in the lines it has. What it leaves of the first line ends there.
float caution_or_hint(const Ui& ui, const Session& s, const Layout& l, ImVec2 from, float size, float right) {
    ImFont* font = ui.fonts().strong;
    const float room = right - from.x;
    const int lines = std::max(l.caution_lines, 1);
    const auto finds_room = [&](const std::string& text) {
        const std::string broken = in_lines(font, text, room);
        return std::count(broken.begin(), broken.end(), '\n') < lines && width_of(font, font->FontSize, broken) <= room;
    };
    const std::string hint = s.tool->hint();
    const Caution caution = hint.empty() ? caution_of(s) : Caution{clauses_within(hint, finds_room), false};
    const std::string text = in_lines(font, caution.text, room);
    const paint::Palette& c = ui.colours();
    const paint::Colour colour = !hint.empty() ? c.selection_text : caution.strong ? c.danger_text : c.unknown_text;
    const float left = l.caution_lines > 0 ? from.x : std::max(right - width_of(font, size, text), from.x);
    const auto used = static_cast<float>(1 + std::count(text.begin(), text.end(), '\n'));
    float y = std::round(from.y + (static_cast<float>(lines) - used) * ui.px(kStatusLine) / 2);
    for (std::size_t begin = 0; begin <= text.size();) {
        const std::size_t end = std::min(text.find('\n', begin), text.size());
        ImGui::GetBackgroundDrawList()->AddText(font, size, {std::round(left), y}, packed(colour), text.data() + begin,
                                                text.data() + end);
        begin = end + 1;
        y += ui.px(kStatusLine);
    }
    return left;
}

} // namespace

void status_bar(const Ui& ui, const Session& s, const Layout& l, const Canvas& canvas) {
    ImDrawList* list = ImGui::GetBackgroundDrawList();
    list->AddRectFilled(vec(l.status.min), vec(l.status.max), packed(ui.colours().panel));
    list->AddLine(vec(l.status.min), vec({l.status.max.x, l.status.min.y}), packed(ui.colours().rule));
    const float size = ui.fonts().regular->FontSize * 12.5F / 13.0F;
    const float below = static_cast<float>(l.caution_lines) * ui.px(kStatusLine);
    const float top =
        std::round(static_cast<float>(l.status.min.y) + (static_cast<float>(l.status.height()) - below - size) / 2);
    const float right = static_cast<float>(l.status.max.x) - ui.px(kStatusMargin);
    const float left = static_cast<float>(l.status.min.x) + ui.px(l.caution_lines > 0 ? kStatusMargin : 20);
    list->PushClipRect(vec(l.status.min), vec(l.status.max));
    const float caution_left = caution_or_hint(ui, s, l, {left, top}, size, right);
    const float end = l.caution_lines > 0 ? right : caution_left - ui.px(20);
    where_and_what(ui, s, canvas, {left, top + below}, size, end);
    list->PopClipRect();
}

scene::Scene grid_scene(const Session& s) {
    scene::Scene grid;
    const Box seen = s.camera.visible().grown(s.camera.visible().width() / 4);
    const double step = round_step_mm(s.camera.px_per_mm(), 46 * s.ui_scale);
    for (double k = std::ceil(seen.min.x / step); k * step <= seen.max.x; k += 1)
        grid.add(scene::Role::GridLine,
                 scene::Line{{{k * step, seen.min.y}, {k * step, seen.max.y}}, false, scene::Weight::Hair});
    for (double k = std::ceil(seen.min.y / step); k * step <= seen.max.y; k += 1)
        grid.add(scene::Role::GridLine,
                 scene::Line{{{seen.min.x, k * step}, {seen.max.x, k * step}}, false, scene::Weight::Hair});
    return grid;
}

} // namespace padchart::app
