#pragma once
// The board in the middle of the window: panning, zooming, and handing the pointer to the tool.

#include <memory>

#include "app/input_queue.hpp"
#include "app/session.hpp"

namespace padchart::app {

class Canvas {
public:
    /// Makes the scene anew where chart, selection, reports or options have changed. True where it did.
    bool refresh(Session& session);

    [[nodiscard]] const std::shared_ptr<const scene::Scene>& scene() const { return scene_; }
    /// What the tool is about to do, and the part under the pointer.
    [[nodiscard]] std::shared_ptr<const scene::Scene> overlay(Session& session) const;

    /// `is_over`: the pointer is on the board and no panel lies above it.
    void handle(const InputEvent& event, Session& session, bool is_over);
    /// True where the key meant something to the tool.
    bool key(const Chord& chord, Session& session);
    /// What the whole view must hold: the board, and what is written beside it.
    [[nodiscard]] geometry::Box whole(const Session& session) const;
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

    struct SceneKey {
        std::uint64_t version = 0;
        const Computed* computed = nullptr;
        scene::Stage stage{};
        document::Side side{};
        bool zones = false, pad_numbers = false;
        double px_per_mm = 0.0;
        std::uint64_t heat = 0, access = 0, layers = 0, inspect = 0;
        bool operator==(const SceneKey&) const = default;
    };

    std::shared_ptr<const scene::Scene> scene_ = std::make_shared<scene::Scene>();
    std::shared_ptr<const scene::Scene> hit_scene_ = scene_; ///< the chart's own, whatever is shown
    std::shared_ptr<const scene::HitTest> hits_ = std::make_shared<scene::HitTest>(*hit_scene_);
    std::optional<SceneKey> built_;
    geometry::Vec2 at_px_;
    MouseButton drag_button_ = MouseButton::Left;
    bool inside_ = false, space_ = false, panning_ = false, tool_drag_ = false;
    bool shift_ = false, ctrl_ = false;
};

} // namespace padchart::app
