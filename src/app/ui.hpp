#pragma once
// The look of panels and what they remember between frames: fonts, sizes at the user's scale, and the text under the
// pen. One Ui lives as long as the window.

#include <functional>
#include <string>

#include <imgui.h>

#include "base/result.hpp"
#include "paint/sfml_text.hpp"
#include "paint/theme.hpp"

namespace padchart::app {

struct Fonts {
    ImFont* small = nullptr;   ///< 11 px
    ImFont* regular = nullptr; ///< 13 px
    ImFont* strong = nullptr;  ///< 13 px, semi-bold
    ImFont* title = nullptr;   ///< 14 px, bold
    ImFont* heading = nullptr; ///< 17 px, bold
};

class Ui {
public:
    /// Requires: a panel context exists. Errors: no usable font.
    [[nodiscard]] Result<void> set_up(const paint::Theme& theme, double scale, const paint::SfmlFonts& fonts);
    void set_theme(const paint::Theme& theme);

    [[nodiscard]] const paint::Palette& colours() const { return theme_->palette; }
    [[nodiscard]] const paint::Theme& theme() const { return *theme_; }
    [[nodiscard]] const Fonts& fonts() const { return fonts_; }
    /// Sizes of the design to pixels of the screen, whole ones.
    [[nodiscard]] float px(double design) const;
    [[nodiscard]] double scale() const { return scale_; }

    // Text under the pen. What is typed belongs to the field, and to the thing the field showed when typing began; it
    // is committed when the pen leaves, also when the field vanishes because something else was selected.
    void begin_draft(ImGuiID field, std::string text, std::function<void(const std::string&)> commit);
    /// Null where another field, or none, has the pen.
    [[nodiscard]] std::string* draft(ImGuiID field);
    void commit_draft();
    /// Commits the draft of a field that was not shown in this frame.
    void end_frame();
    [[nodiscard]] bool has_draft() const { return draft_field_ != 0; }

    /// Called beside SetKeyboardFocusHere(): what is typed waits until the field has the pen, a few frames at most.
    void await_focus();
    [[nodiscard]] bool holds_input();

    /// Set by a widget that wants the next frame without waiting for an event.
    bool wants_frame = false;

private:
    const paint::Theme* theme_ = nullptr;
    double scale_ = 1.0;
    Fonts fonts_;
    int frames_to_focus_ = 0;
    ImGuiID draft_field_ = 0;
    bool draft_seen_ = false;
    std::string draft_;
    std::function<void(const std::string&)> draft_commit_;
};

[[nodiscard]] inline ImU32 packed(paint::Colour c) {
    return IM_COL32(c.r, c.g, c.b, c.a);
}
[[nodiscard]] inline ImVec4 floats(paint::Colour c) {
    return ImGui::ColorConvertU32ToFloat4(packed(c));
}
[[nodiscard]] inline paint::Colour with_alpha(paint::Colour c, std::uint8_t alpha) {
    return {c.r, c.g, c.b, alpha};
}

} // namespace padchart::app
