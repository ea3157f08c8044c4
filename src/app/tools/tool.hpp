#pragma once
// What the pointer does on the canvas. A tool gets places on the board, never pixels of a window; it changes the chart
// through the editor only, one gesture one step, and shows what it is about to do as an overlay scene.

#include <memory>
#include <string>

#include "app/editor.hpp"
#include "app/key.hpp"
#include "scene/chart_scene.hpp"
#include "scene/hit_test.hpp"

namespace padchart::app {

class HeatDesk;

struct Pointer {
    geometry::Vec2 scene; ///< scene mm: board mm, mirrored where the bottom is looked at
    double px_per_mm = 1.0;
    double ui_scale = 1.0;
    bool shift = false;
    bool ctrl = false;

    /// A length on the screen at scale 1 as mm of the board.
    [[nodiscard]] double mm(double design_px) const { return design_px * ui_scale / px_per_mm; }
};

struct ToolContext {
    Editor& editor;
    document::Side seen_from = document::Side::Top;
    const scene::Scene& scene;
    const scene::HitTest& hits;

    /// Where keys begin that move something: the pointer while it is on the board, else the middle of the view.
    Pointer from{};

    [[nodiscard]] geometry::Vec2 board(geometry::Vec2 scene_mm) const {
        return scene::scene_from_board(scene_mm, seen_from);
    }
    /// The part of the side looked at under the pointer, or an empty id.
    [[nodiscard]] document::Id part_at(const Pointer& pointer) const;
};

class Tool {
public:
    virtual ~Tool() = default;

    virtual void press(const ToolContext& context, const Pointer& pointer) = 0;
    virtual void move(const ToolContext& context, const Pointer& pointer) = 0;
    virtual void release(const ToolContext& context, const Pointer& pointer) = 0;
    /// True where the key meant something.
    virtual bool key(const ToolContext&, const Chord&) { return false; }
    /// The hand has moved the pointer, without a button.
    virtual void hover() {}
    /// Drops the gesture under way. True where there was one.
    virtual bool cancel(const ToolContext& context) = 0;
    virtual void overlay(const ToolContext&, const Pointer&, scene::Scene&) const {}
    /// One line for the status bar.
    [[nodiscard]] virtual std::string hint() const = 0;
    /// The tool has done its work; the selecting one takes over.
    [[nodiscard]] virtual bool is_done() const { return false; }
    [[nodiscard]] virtual bool is_selecting() const { return false; }
    /// What it ends with is a part more on the chart.
    [[nodiscard]] virtual bool brings_parts() const { return false; }
    /// What it is about to do is seen also while the pointer is elsewhere.
    [[nodiscard]] virtual bool is_led_by_keys() const { return false; }
    /// It asks for a click and then for something typed. Whoever types too early must not set off actions by letters.
    [[nodiscard]] virtual bool awaits_click() const { return false; }
};

/// Selects, moves, turns; meets what it usually meets (app/tools/part_tools.hpp).
[[nodiscard]] std::unique_ptr<Tool> make_select_tool();
/// As the selecting one, and moves the nozzle of the plan in hand where it is dragged; parts stay where they are.
/// Requires: the desk outlives the tool.
[[nodiscard]] std::unique_ptr<Tool> make_aim_tool(HeatDesk& desk);
/// A part drawn by hand: the body first, then pad after pad.
[[nodiscard]] std::unique_ptr<Tool> make_draw_tool();

// For overlays --------------------------------------------------------------------------------------------------------

[[nodiscard]] geometry::Ring box_ring(geometry::Vec2 a, geometry::Vec2 b);
void add_outline(scene::Scene& scene, scene::Role role, geometry::Ring ring, scene::Weight weight);
/// Pads and body of a part, as a preview.
void add_part_outline(scene::Scene& scene, scene::Role role, const document::Footprint& part, document::Side seen_from);

} // namespace padchart::app
