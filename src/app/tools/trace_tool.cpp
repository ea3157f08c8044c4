// Outlines by hand over a photo or over nothing: points are clicked, a rectangle may be dragged. What a point was
// snapped to is shown while the pointer moves. Ctrl holds snapping off, Shift keeps to steps of 45 degrees.

#include "app/tools/trace_tool.hpp"

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/snaps_shown.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

constexpr double kDragStart_px = 6.0;
constexpr double kLevel_px = 400.0; ///< centres farther off are no company

class TraceTool final : public Tool {
public:
    explicit TraceTool(TraceDesk& desk) : desk_(desk) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        const Snap snap = clicked(context, pointer);
        pressed_at_ = pointer.scene;
        if (closes(snap.at, pointer)) return finish(context);
        if (!points_.empty() && points_.back() == snap.at) return;
        add(context, snap);
    }

    void move(const ToolContext&, const Pointer&) override {}

    /// A rectangle dragged from corner to corner.
    void release(const ToolContext& context, const Pointer& pointer) override {
        const bool dragged = geometry::distance(pressed_at_, pointer.scene) > pointer.mm(kDragStart_px);
        if (dragged && desk_.how == TraceHow::Rectangle && points_.size() == 1) add(context, clicked(context, pointer));
    }

    bool key(const ToolContext& context, const Chord& chord) override {
        if (chord.ctrl || chord.alt) return false;
        if (chord.key == Key::Enter && desk_.how == TraceHow::Polygon) {
            finish(context);
            return true;
        }
        if (chord.key == Key::Backspace && !points_.empty()) {
            points_.pop_back();
            return true;
        }
        return choose(chord.key);
    }

    bool cancel(const ToolContext&) override {
        if (points_.empty())
            done_ = true;
        else
            points_.clear();
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        const Snap snap = place(snaps_.now(context), context, pointer);
        std::vector<Vec2> points = points_;
        points.push_back(snap.at);
        show_points(context, points, pointer, out);
        if (points.size() >= points_needed(desk_.how) && points_.size() < points.size()) {
            if (const auto shape = traced_shape(desk_.how, points)) {
                add_outline(out, scene::Role::Preview, seen(context, shape->ring), scene::Weight::Normal);
                add_size(context, *shape, pointer, out);
            }
        }
        add_snap(out, snap, context.seen_from, pointer);
    }

    /// Keep-outs and shields belong to other stages as well.
    [[nodiscard]] bool brings_parts() const override {
        return desk_.what != TraceWhat::KeepOut && desk_.what != TraceWhat::Shield && desk_.what != TraceWhat::Hole;
    }
    [[nodiscard]] std::string hint() const override {
        const std::string what = fmt::format("{}, {}", to_text(desk_.what), way());
        if (points_.empty()) return what + "; 1 to 7 choose what, P R T O how, Ctrl holds snapping off, Esc leaves";
        if (desk_.how == TraceHow::Polygon && points_.size() >= 3)
            return what + "; Enter or the first point closes it, Backspace takes a point back";
        return what + "; Backspace takes the point back, Esc drops it";
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    [[nodiscard]] const char* way() const {
        switch (desk_.how) {
        case TraceHow::Rectangle: return points_.empty() ? "first corner" : "the corner across";
        case TraceHow::Turned:
            return points_.empty()       ? "first end of one side"
                   : points_.size() == 1 ? "other end of that side"
                                         : "a point of the side across";
        case TraceHow::Round: return "three points of the edge";
        case TraceHow::Polygon: break;
        }
        return points_.empty() ? "first corner" : "next corner";
    }

    bool choose(Key key) {
        if (key >= Key::Digit1 && key <= Key::Digit7) {
            desk_.what = static_cast<TraceWhat>(static_cast<int>(key) - static_cast<int>(Key::Digit1));
            trace("trace what", to_text(desk_.what));
            return true;
        }
        const auto how = key == Key::P   ? std::optional(TraceHow::Polygon)
                         : key == Key::R ? std::optional(TraceHow::Rectangle)
                         : key == Key::T ? std::optional(TraceHow::Turned)
                         : key == Key::O ? std::optional(TraceHow::Round)
                                         : std::nullopt;
        if (!how) return false;
        if (desk_.how != *how) points_.clear();
        desk_.how = *how;
        return true;
    }

    /// Where a click puts a point.
    [[nodiscard]] Snap clicked(const ToolContext& context, const Pointer& pointer) const {
        return place(snaps_.all(context), context, pointer);
    }

    [[nodiscard]] Snap place(const SnapField& field, const ToolContext& context, const Pointer& pointer) const {
        const Vec2 at = context.board(pointer.scene);
        if (pointer.ctrl) return {at, SnapKind::None, "", {}};
        SnapOptions options{.reach = pointer.mm(kSnapReach_px), .grid = desk_.grid};
        options.bodies = desk_.what != TraceWhat::Pad;
        if (!desk_.snaps) options.points = options.edges = false;
        if (desk_.snaps) options.level_within = pointer.mm(kLevel_px);
        if (pointer.shift && !points_.empty()) return straight(at, options.grid);
        Snap snap = field.snap(at, options);
        if (points_.size() >= 3 && desk_.how == TraceHow::Polygon &&
            geometry::distance(points_.front(), at) <= options.reach)
            snap = {points_.front(), SnapKind::Corner, "first point: closes it", {}};
        return snap;
    }

    /// In a direction of 45 degrees from the last point.
    [[nodiscard]] Snap straight(Vec2 at, double grid) const {
        const Vec2 way = at - points_.back();
        const double eighth = std::round(geometry::bearing(way).degrees() / 45.0) * 45.0;
        const Vec2 along = geometry::direction(Angle::degrees(eighth));
        double length = geometry::dot(way, along);
        if (grid > 0.0) length = std::round(length / grid) * grid;
        return {points_.back() + along * length, SnapKind::Grid, "", {}};
    }

    [[nodiscard]] bool closes(Vec2 at, const Pointer& pointer) const {
        return desk_.how == TraceHow::Polygon && points_.size() >= 3 &&
               (geometry::distance(at, points_.front()) <= pointer.mm(1.0) ||
                geometry::distance(at, points_.back()) <= pointer.mm(1.0));
    }

    void add(const ToolContext& context, const Snap& snap) {
        if (points_.empty()) snapped_to_.clear();
        points_.push_back(snap.at);
        if (snap.kind == SnapKind::Grid && desk_.grid > 0.0) snapped_to_ = "a step of the grid";
        if (!snap.words.empty()) snapped_to_ = snap.words;
        trace("trace point", fmt::format("{:.3f} {:.3f}", snap.at.x, snap.at.y));
        if (desk_.how != TraceHow::Polygon && points_.size() == points_needed(desk_.how)) finish(context);
    }

    void finish(const ToolContext& context) {
        Editor& editor = context.editor;
        if (points_.size() < points_needed(desk_.how))
            return editor.tell(Severity::Warning, "An area needs at least three corners.");
        const Result<TracedShape> shape = traced_shape(desk_.how, points_);
        if (!shape) return refuse(editor, with_snap(shape.error()));
        document::Id part;
        if (desk_.what == TraceWhat::Pad && editor.selected_part() != nullptr &&
            editor.selected_part()->placement.side == context.seen_from)
            part = editor.selected_part()->id;
        Result<Traced> made = with_traced(editor.chart(), desk_.what, *shape, context.seen_from, part);
        if (!made) return refuse(editor, made.error());
        points_.clear();
        if (!editor.commit(std::move(made->chart), made->label)) return;
        // The pads to come belong to the body just drawn.
        if (desk_.what == TraceWhat::Body) editor.select({made->thing});
    }

    /// What went wrong may not be the hand's doing.
    [[nodiscard]] Error with_snap(Error error) const {
        if (snapped_to_.empty()) return error;
        error.message += fmt::format(" A point was snapped ({}); hold Ctrl to place it freely.", snapped_to_);
        return error;
    }

    /// A polygon may be mended by taking points back; what is done with its last point is begun anew.
    void refuse(Editor& editor, const Error& error) {
        editor.tell(Severity::Warning, padchart::describe(error));
        trace("refused", padchart::describe(error));
        if (desk_.how != TraceHow::Polygon) points_.clear();
    }

    static geometry::Ring seen(const ToolContext& context, const geometry::Ring& ring) {
        return geometry::transformed(ring, scene::scene_from_board(context.seen_from));
    }

    void show_points(const ToolContext& context, const std::vector<Vec2>& points, const Pointer& pointer,
                     scene::Scene& out) const {
        const bool is_line = desk_.how == TraceHow::Polygon || points.size() < points_needed(desk_.how);
        if (is_line && points.size() > 1)
            out.add(scene::Role::Preview, scene::Line{seen(context, points), false, scene::Weight::Normal});
        for (const Vec2 point : points_)
            out.add(scene::Role::SelectionHandle,
                    scene::Line{geometry::transformed(geometry::rectangle(pointer.mm(7), pointer.mm(7)),
                                                      geometry::Affine::translation(context.board(point))),
                                true, scene::Weight::Thin});
    }

    static void add_size(const ToolContext& context, const TracedShape& shape, const Pointer& pointer,
                         scene::Scene& out) {
        const bool in_mm = context.editor.chart().scale.has_value();
        const geometry::Box box = geometry::bounds(seen(context, shape.ring));
        std::string words = shape.kind == document::ShapeKind::Round ? fmt::format("diameter {:.2f}", shape.width)
                            : shape.kind == document::ShapeKind::Rectangle
                                ? fmt::format("{:.2f} x {:.2f}", shape.width, shape.height)
                                : "";
        if (words.empty()) return;
        out.add(scene::Role::LabelMeasure, scene::Text{.at = {box.centre().x, box.min.y - pointer.mm(12)},
                                                       .text = words + (in_mm ? " mm" : " units"),
                                                       .height_px = 12,
                                                       .halo = true});
    }

    TraceDesk& desk_;
    std::vector<Vec2> points_; ///< board
    std::string snapped_to_;   ///< where the last snap of these points led
    Vec2 pressed_at_;
    mutable SnapsShown snaps_;
    bool done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_trace_tool(TraceDesk& desk) {
    return std::make_unique<TraceTool>(desk);
}

} // namespace padchart::app
