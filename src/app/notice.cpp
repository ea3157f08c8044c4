#include <chrono>
#include <cstdint>

#include "app/chrome.hpp"
#include "app/photo_place.hpp"
#include "app/tip.hpp"
#include "app/trace_log.hpp"
#include "app/widgets.hpp"
#include "app/work_desk.hpp"
#include "scene/labels.hpp"

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

/// Where the words on show stand. They stay there while they are read, whatever moves below them.
struct NoticePlace {
    std::string words;
    geometry::Box canvas;
    bool below_strip = false;
    geometry::Vec2 at;
};

/// What of the picture's words and signs a box of the window would hide.
std::size_t hidden_by(const geometry::Box& box, const Session& s, const scene::Scene& shown) {
    const double px = s.camera.px_per_mm() / s.ui_scale;
    const geometry::Box on_board{s.camera.scene_from_screen(box.min), s.camera.scene_from_screen(box.max)};
    std::size_t hidden = 0;
    for (const scene::Text& text : shown.texts)
        hidden += on_board.overlaps(scene::box_of(text, px)) ? std::size_t{1} : std::size_t{0};
    for (const scene::Symbol& symbol : shown.symbols)
        hidden += on_board.overlaps(geometry::Box{symbol.at, symbol.at}.grown(symbol.radius_px / px)) ? std::size_t{1}
                                                                                                      : std::size_t{0};
    return hidden;
}

/// At the top where that hides no name, else at another edge, else where it hides the fewest.
geometry::Vec2 place_of(const Ui& ui, ImVec2 size, const Session& s, const geometry::Box& canvas, double key_height_px,
                        const scene::Scene& shown) {
    scene::Scene of_photos; // they lie over the picture
    add_photo_words(s, of_photos);
    const double in = static_cast<double>(ui.px(14));
    const double left = canvas.min.x + in, right = canvas.max.x - in - static_cast<double>(size.x);
    const double middle = canvas.centre().x - static_cast<double>(size.x) / 2;
    const double top = canvas.min.y + in, bottom = canvas.max.y - key_height_px - in - static_cast<double>(size.y);
    geometry::Vec2 best{middle, top};
    std::size_t least = SIZE_MAX;
    for (const geometry::Vec2 at : {geometry::Vec2{middle, top}, geometry::Vec2{right, top}, geometry::Vec2{left, top},
                                    geometry::Vec2{middle, bottom}, geometry::Vec2{right, bottom}}) {
        const geometry::Box box{at, at + geometry::Vec2{static_cast<double>(size.x), static_cast<double>(size.y)}};
        const std::size_t hidden = hidden_by(box, s, shown) + hidden_by(box, s, of_photos);
        if (hidden >= least) continue;
        least = hidden;
        best = at;
    }
    return best;
}

} // namespace

void notice(Ui& ui, Session& s, const Layout& layout, const NoticeGround& ground) {
    const std::optional<Notice>& now = s.editor.notice();
    if (!now) {
        s.desks.get<NoticePlace>().words.clear();
        return;
    }
    const paint::Palette& c = ui.colours();
    const bool bad = now->severity != Severity::Note;
    ImFont* font = ui.fonts().strong;
    const float wrap = static_cast<float>(layout.canvas.width()) - ui.px(80);
    const std::string words = in_lines(font, now->text, wrap);
    const ImVec2 text = font->CalcTextSizeA(font->FontSize, 1e6F, wrap, words.c_str());
    const ImVec2 size{text.x + ui.px(28), text.y + ui.px(16)};
    NoticePlace& place = s.desks.get<NoticePlace>();
    // The strip of work under way comes a moment after the work has begun, and lies over these words.
    const bool below_strip = s.desks.get<WorkDesk>().is_busy();
    geometry::Box free = layout.canvas;
    if (below_strip) free.min.y += static_cast<double>(work_strip_height(ui));
    const bool is_new = place.words != words || place.below_strip != below_strip ||
                        place.canvas.min != layout.canvas.min || place.canvas.max != layout.canvas.max;
    if (is_new || !ground.view_rests)
        place = {words, layout.canvas, below_strip, place_of(ui, size, s, free, ground.key_height_px, ground.shown)};
    const ImVec2 at{static_cast<float>(place.at.x), static_cast<float>(place.at.y)};
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
