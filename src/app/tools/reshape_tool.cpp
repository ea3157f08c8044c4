// An outline is chosen by a click; then its corners are dragged, its sides moved, corners added at the middles of its
// sides and taken away with Delete.

#include "app/tools/reshape_tool.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/snap.hpp"
#include "app/tools/trace_tool.hpp"
#include "app/trace_log.hpp"
#include "geometry/segment.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::ShapeKind;
using geometry::Ring;
using geometry::Vec2;

constexpr double kHandleReach_px = 9.0, kEdgeReach_px = 6.0, kDragStart_px = 3.0;
constexpr std::size_t kMostHandles = 400; // a flattened curve of more would be all handles

class ReshapeTool final : public Tool {
public:
    ReshapeTool(ReshapeDesk& desk, const TraceDesk& how) : desk_(desk), how_(how) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        pressed_at_ = context.board(pointer.scene);
        pressed_scene_ = pointer.scene;
        moved_ = false;
        grip_ = grip_at(context, pointer);
        vertex_ = grip_ && grip_->kind == Grip::Vertex ? std::optional(grip_->index) : std::nullopt;
        if (grip_) return;
        desk_.chosen = outline_at(context.editor.chart(), pressed_at_, context.seen_from, pointer.mm(kEdgeReach_px));
        if (desk_.chosen) trace("reshape", words_of(context.editor.chart(), *desk_.chosen));
    }

    void move(const ToolContext& context, const Pointer& pointer) override {
        if (!grip_) return;
        moved_ = moved_ || geometry::distance(pressed_scene_, pointer.scene) > pointer.mm(kDragStart_px);
        if (!moved_) return;
        snap_ = place(context, pointer);
        context.editor.preview(changed(context.editor.chart(), snap_.at));
    }

    void release(const ToolContext& context, const Pointer& pointer) override {
        move(context, pointer);
        if (grip_ && moved_ && desk_.chosen) {
            const std::string words = words_of(context.editor.chart(), *desk_.chosen);
            const bool adds = grip_->kind == Grip::Middle;
            if (context.editor.commit_preview((adds ? "Add a corner to " : "Reshape ") + words) && adds)
                vertex_ = grip_->index + 1;
        }
        grip_.reset();
        moved_ = false;
    }

    bool key(const ToolContext& context, const Chord& chord) override {
        if (chord.ctrl || chord.alt || grip_ || !desk_.chosen) return false;
        if (chord.key != Key::Delete && chord.key != Key::Backspace) return false;
        if (vertex_)
            take_vertex(context.editor);
        else if (chord.key == Key::Delete)
            take_outline(context.editor);
        return true;
    }

    bool cancel(const ToolContext& context) override {
        if (grip_ || context.editor.has_preview()) {
            context.editor.drop_preview();
            grip_.reset();
            moved_ = false;
        } else if (vertex_) {
            vertex_.reset();
        } else if (desk_.chosen) {
            desk_.chosen.reset();
        } else {
            done_ = true;
        }
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        const Chart& chart = context.editor.shown();
        if (!grip_) show_hover(context, pointer, out);
        if (!desk_.chosen) return;
        const auto view = view_of(chart, *desk_.chosen);
        if (!view) return;
        const auto seen = [&](Vec2 p) { return context.board(p); };
        Ring ring;
        for (const Vec2 p : view->ring)
            ring.push_back(seen(p));
        out.add(scene::Role::Selection, scene::Line{ring, true, scene::Weight::Bold});
        if (has_vertices(*view)) show_handles(ring, pointer, out);
        if (grip_ && moved_) add_snap(out, snap_, context.seen_from, pointer);
    }

    [[nodiscard]] std::string hint() const override {
        if (grip_ && moved_) return "Let go to keep it, Esc drops it";
        if (!desk_.chosen) return "Click an outline: board, body, pad, keep-out, shield; Esc leaves";
        if (vertex_) return "Delete takes this corner away; drag it to move it";
        return "Drag a corner or a side; a side's middle adds a corner to a polygon, with Ctrl to any; Delete removes "
               "all";
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    struct Grip {
        enum Kind { Vertex, Edge, Middle } kind = Vertex;
        std::size_t index = 0;
    };

    static bool has_vertices(const OutlineView& view) {
        return (view.kind == ShapeKind::Rectangle || view.kind == ShapeKind::Polygon) &&
               view.ring.size() <= kMostHandles;
    }

    /// What of the chosen outline lies under the pointer.
    [[nodiscard]] std::optional<Grip> grip_at(const ToolContext& context, const Pointer& pointer) const {
        if (!desk_.chosen) return std::nullopt;
        const auto view = view_of(context.editor.chart(), *desk_.chosen);
        if (!view) return std::nullopt;
        const Vec2 at = context.board(pointer.scene);
        const Ring& ring = view->ring;
        std::optional<Grip> best;
        double least = pointer.mm(kHandleReach_px);
        const auto offer = [&](Vec2 p, Grip grip, double reach) {
            const double away = geometry::distance(at, p);
            if (away > std::min(least, reach)) return;
            least = away;
            best = grip;
        };
        if (has_vertices(*view))
            for (std::size_t i = 0; i < ring.size(); ++i)
                offer(ring[i], {Grip::Vertex, i}, least);
        if (best) return best;
        const bool adds = has_vertices(*view) && (view->kind == ShapeKind::Polygon || pointer.ctrl);
        for (std::size_t i = 0; i < ring.size() && adds; ++i)
            offer(geometry::lerp(ring[i], ring[(i + 1) % ring.size()], 0.5), {Grip::Middle, i}, least);
        if (best) return best;
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const Vec2 next = ring[(i + 1) % ring.size()];
            if (next == ring[i]) continue;
            offer(geometry::nearest_on_segment(at, ring[i], next),
                  {adds && pointer.ctrl ? Grip::Middle : Grip::Edge, i}, pointer.mm(kEdgeReach_px));
        }
        return best;
    }

    [[nodiscard]] Result<Chart> changed(const Chart& chart, Vec2 to) const {
        switch (grip_->kind) {
        case Grip::Vertex: return move_vertex(chart, *desk_.chosen, grip_->index, to);
        case Grip::Middle: return add_vertex(chart, *desk_.chosen, grip_->index, to);
        case Grip::Edge: break;
        }
        return move_edge(chart, *desk_.chosen, grip_->index, pressed_at_, to);
    }

    /// Everything drawn but the outline that is changed.
    [[nodiscard]] Snap place(const ToolContext& context, const Pointer& pointer) const {
        const Vec2 at = context.board(pointer.scene);
        if (pointer.ctrl && grip_->kind != Grip::Middle) return {at, SnapKind::None, "", {}};
        if (!field_ || built_ != context.editor.history().position() || field_of_ != desk_.chosen) {
            const Chart& chart = context.editor.chart();
            std::vector<SnapOutline> outlines = snap_outlines(chart, {.side = context.seen_from});
            if (const auto own = view_of(chart, *desk_.chosen)) {
                const geometry::Box box = geometry::bounds(own->ring);
                const auto same = [&](const SnapOutline& outline) {
                    const geometry::Box other = geometry::bounds(outline.ring);
                    return geometry::distance(box.min, other.min) + geometry::distance(box.max, other.max) < 1e-6;
                };
                std::erase_if(outlines, same);
            }
            field_ = SnapField(std::move(outlines));
            built_ = context.editor.history().position();
            field_of_ = desk_.chosen;
        }
        SnapOptions options{.reach = pointer.mm(kSnapReach_px), .grid = how_.grid};
        options.points = options.edges = how_.snaps;
        return field_->snap(at, options);
    }

    void take_vertex(Editor& editor) {
        const std::string words = words_of(editor.chart(), *desk_.chosen);
        editor.commit(remove_vertex(editor.chart(), *desk_.chosen, *vertex_), "Take a corner from " + words);
        vertex_.reset();
    }

    void take_outline(Editor& editor) {
        const std::string words = words_of(editor.chart(), *desk_.chosen);
        if (editor.commit(remove_outline(editor.chart(), *desk_.chosen), "Remove " + words)) desk_.chosen.reset();
    }

    void show_hover(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const {
        const auto under = outline_at(context.editor.shown(), context.board(pointer.scene), context.seen_from,
                                      pointer.mm(kEdgeReach_px));
        const auto view = under && under != desk_.chosen ? view_of(context.editor.shown(), *under) : std::nullopt;
        if (!view) return;
        Ring ring;
        for (const Vec2 p : view->ring)
            ring.push_back(context.board(p));
        out.add(scene::Role::Hover, scene::Line{std::move(ring), true, scene::Weight::Bold});
    }

    void show_handles(const Ring& ring, const Pointer& pointer, scene::Scene& out) const {
        const Ring square = geometry::rectangle(pointer.mm(8), pointer.mm(8));
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const auto at = geometry::Affine::translation(ring[i]);
            out.add(vertex_ == i ? scene::Role::Selection : scene::Role::SelectionHandle,
                    scene::Line{geometry::transformed(square, at), true, scene::Weight::Bold});
            const Vec2 middle = geometry::lerp(ring[i], ring[(i + 1) % ring.size()], 0.5);
            // Where two corners lie close together a third handle would only be in the way.
            if (geometry::distance(ring[i], middle) < pointer.mm(14)) continue;
            out.add(scene::Role::SelectionHandle,
                    scene::Line{geometry::transformed(geometry::circle(pointer.mm(3.5), pointer.mm(0.2)),
                                                      geometry::Affine::translation(middle)),
                                true, scene::Weight::Thin});
        }
    }

    ReshapeDesk& desk_;
    const TraceDesk& how_;
    std::optional<Grip> grip_;
    std::optional<std::size_t> vertex_; ///< the one Delete takes away
    Vec2 pressed_at_, pressed_scene_;
    bool moved_ = false;
    Snap snap_;
    mutable std::optional<SnapField> field_;
    mutable std::optional<OutlineRef> field_of_;
    mutable std::size_t built_ = 0;
    bool done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_reshape_tool(ReshapeDesk& desk, const TraceDesk& how) {
    return std::make_unique<ReshapeTool>(desk, how);
}

} // namespace padchart::app
