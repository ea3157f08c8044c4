#pragma once
// The whole picture of the window on any SFML target, and the way of every event through it. Knows no window, so that
// a snapshot and the real window are the same.

#include <chrono>
#include <map>
#include <optional>
#include <string>

#include <SFML/Graphics/RenderTarget.hpp>

#include "app/board_painter.hpp"
#include "app/canvas.hpp"
#include "app/chrome.hpp"
#include "app/frame_watch.hpp"
#include "app/input_queue.hpp"
#include "app/layout.hpp"
#include "app/photo_view.hpp"
#include "app/session.hpp"
#include "app/ui.hpp"
#include "paint/sfml_painter.hpp"

namespace padchart::app {

class Shell {
public:
    Shell() = default;
    Shell(const Shell&) = delete;
    Shell& operator=(const Shell&) = delete;
    ~Shell();

    /// Requires: a graphics context is active. Errors: no font, no usable graphics.
    [[nodiscard]] Result<void> set_up(const std::string& theme, double scale);

    [[nodiscard]] Session& session() { return session_; }
    void push(const InputEvent& event);
    /// Draws one frame and takes the events it can. Requires: the target is active.
    void frame(sf::RenderTarget& target, FrameWatch& watch);
    /// Something is still to be drawn or waited for.
    [[nodiscard]] bool wants_frame();
    void redraw() { frames_wanted_ = 2; }
    /// Goes on with what takes longer than a frame, for less than one. False where there is nothing of the kind.
    /// Requires: a graphics context is active.
    bool go_on();
    /// So many samples a pixel smooth the edges of what is not drawn on the window itself.
    void smooth(unsigned samples) { board_painter_.smooth(samples); }
    /// No picture is waited for, whatever that takes. For pictures.
    void draw_at_once() {
        canvas_.draw_at_once();
        is_patient_ = false;
    }
    /// Blocks until the photos on show have been read, and has the next frame show all of them. For pictures.
    void wait_for_photos();

private:
    /// One round of panels and events, without painting.
    void step(sf::Vector2u size);
    void use_theme();
    void take(const std::vector<InputEvent>& events);
    void take_key(const InputEvent& event);
    void panels();
    void paint(sf::RenderTarget& target);
    void age_notice();
    void fit_view();
    void leave_view();
    /// What shows the whole chart goes on showing it in a window of another size, and once its picture has come.
    void follow(const Layout& before);
    [[nodiscard]] bool is_over_board(geometry::Vec2 px) const;

    Session session_;
    Ui ui_;
    Canvas canvas_;
    InputQueue queue_;
    Layout layout_;
    paint::SfmlFonts fonts_;
    paint::SfmlPainter ground_painter_{fonts_}, overlay_painter_{fonts_}, key_painter_{fonts_};
    BoardPainter board_painter_{fonts_};
    PhotoView photos_{fonts_};
    std::map<std::string, Icon, std::less<>> icons_;
    std::string notice_text_;
    std::chrono::steady_clock::time_point notice_since_;
    std::chrono::steady_clock::time_point last_frame_ = std::chrono::steady_clock::now();
    double key_height_px_ = 0.0;
    bool had_dialog_ = false;
    bool typed_beside_ = false; ///< the letter of the last key is meant for a field that has no keys yet
    bool had_popup_ = false;    ///< before the panels took this frame's keys
    std::uint64_t seen_sitting_ = 0;
    std::optional<Camera> fitted_; ///< as the last fit left it
    int fits_wanted_ = 0;
    int frames_wanted_ = 3;
    bool has_panels_ = false;
    bool is_patient_ = true; ///< large pictures may take some frames
};

} // namespace padchart::app
