#pragma once
// The board in the middle of the window: panning, zooming, and handing the pointer to the tool.

#include <chrono>
#include <memory>

#include "app/input_queue.hpp"
#include "app/latest_job.hpp"
#include "app/part_boxes.hpp"
#include "app/picture.hpp"
#include "app/session.hpp"

namespace padchart::app {

/// Round the whole view, px of scale 1: less on a narrow canvas.
[[nodiscard]] double view_margin_px(const Session& session);

/// Of the board in the window.
[[nodiscard]] paint::View view_of(const Session& session);

class Canvas {
public:
    Canvas();
    /// Has the picture drawn anew where chart, selection, reports or options have changed: a small chart's at once, a
    /// large one's behind the window, while the last one stays. True where another is on show.
    bool refresh(Session& session);
    /// Large charts too are drawn at once. For pictures and tests.
    void draw_at_once() { at_once_ = true; }
    /// The theme the board is seen in, and that large pictures are on show only when show() says so: someone paints
    /// them over several frames.
    void paint_for(const paint::Theme& theme) { theme_ = &theme; }
    /// A picture that has come to be painted; null: none, or a newer one is on show already.
    [[nodiscard]] std::shared_ptr<const Picture> next() const { return may_show(next_) ? next_ : nullptr; }
    [[nodiscard]] bool may_show(const std::shared_ptr<const Picture>& picture) const;
    /// Requires: may_show(picture).
    void show(std::shared_ptr<const Picture> picture);
    /// A picture has come that the next refresh() will take.
    [[nodiscard]] bool has_news() const { return job_.has_answer(); }
    /// Of the picture on show: Editor::sitting().
    [[nodiscard]] std::uint64_t sitting() const { return picture_->order.sitting; }
    /// The picture on show is of a moment ago.
    [[nodiscard]] bool is_behind() const { return picture_->order.number != number_; }

    [[nodiscard]] const std::shared_ptr<const scene::Scene>& scene() const { return picture_->shown; }
    [[nodiscard]] const std::shared_ptr<const paint::PreparedScene>& paints() const { return picture_->paints; }
    /// What the picture does not show yet, what the tool is about to do, and the part under the pointer.
    [[nodiscard]] std::shared_ptr<const scene::Scene> overlay(Session& session) const;

    /// `is_over`: the pointer is on the board and no panel lies above it.
    void handle(const InputEvent& event, Session& session, bool is_over);
    /// True where the key meant something to the tool.
    bool key(const Chord& chord, Session& session);
    /// What the whole view must hold: the board, and what is written beside it.
    [[nodiscard]] geometry::Box whole(const Session& session) const;
    /// What legend and scale bar take at the bottom, px: no words of access stand there.
    void keep_free_below(double px) { key_height_px_ = px; }
    void set_space(bool held) { space_ = held; }
    void leave() { inside_ = false; }

    [[nodiscard]] bool is_dragging() const { return tool_drag_ || panning_; }
    /// Scene mm; nothing while the pointer is elsewhere.
    [[nodiscard]] std::optional<geometry::Vec2> pointer_scene(const Session& session) const;

private:
    [[nodiscard]] Pointer pointer(const Session& session) const;
    [[nodiscard]] ToolContext context(Session& session) const;
    void press(const InputEvent& event, Session& session);
    void release(const InputEvent& event, Session& session);
    void move(const InputEvent& event, Session& session);
    void finish_tool(Session& session);

    struct Wanted {
        std::shared_ptr<const document::Chart> chart;
        std::vector<document::Id> selection, in_hand;
        std::shared_ptr<const Computed> computed;
        scene::Stage stage{};
        document::Side side{};
        bool zones = false, pad_numbers = false, imports = false;
        double px_per_mm = 0.0, reach_px = 0.0;
        std::uint64_t heat = 0, access = 0, layers = 0, inspect = 0;
        std::optional<geometry::Box> view; ///< where the rose of access may say something
        bool operator==(const Wanted&) const = default;
    };
    [[nodiscard]] Wanted wanted_of(Session& session) const;
    [[nodiscard]] PictureOrder order_of(Session& session, const Wanted& wanted) const;
    bool collect();
    /// Another side or another chart than what is to be seen.
    [[nodiscard]] bool misleads(const Session& session) const;
    void show_nothing(const PictureOrder& instead_of);
    void add_what_is_missing(const Session& session, scene::Scene& overlay) const;
    /// The board again where parts of the picture on show are no longer, or not like that.
    void cover_what_has_gone(const Session& session, scene::Scene& overlay) const;

    std::shared_ptr<const Picture> picture_ = no_picture();
    std::shared_ptr<const Picture> next_;
    mutable PartBoxes boxes_; ///< of the chart on show
    const paint::Theme* theme_ = nullptr;
    std::optional<Wanted> wanted_;
    std::uint64_t number_ = 0;   ///< of the order for what is wanted
    std::uint64_t earliest_ = 0; ///< of the orders whose picture may still be shown
    std::chrono::steady_clock::time_point asked_at_;
    bool at_once_ = false;
    double key_height_px_ = 0.0;
    LatestJob<PictureOrder, std::shared_ptr<const Picture>> job_;
    geometry::Vec2 at_px_;
    MouseButton drag_button_ = MouseButton::Left;
    bool inside_ = false, space_ = false, panning_ = false, tool_drag_ = false;
    bool shift_ = false, ctrl_ = false;
};

} // namespace padchart::app
