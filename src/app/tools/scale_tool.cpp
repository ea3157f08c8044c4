// Two clicks whose distance was measured, or one click on the part whose size is known.

#include "app/tools/scale_tool.hpp"

#include <memory>

#include <fmt/format.h>

#include "app/scale_desk.hpp"
#include "app/snaps_shown.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

class ScaleTool final : public Tool {
public:
    explicit ScaleTool(ScaleDesk& desk) : desk_(desk) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        if (desk_.way == ScaleWay::KnownPart) return pick_part(context, pointer);
        const Snap snap = snap_at(snaps_.all(context), context, pointer);
        desk_.pick({snap.at, snap.words});
        trace("scale point", fmt::format("{:.3f} {:.3f} {}", snap.at.x, snap.at.y, snap.words));
    }
    void move(const ToolContext&, const Pointer&) override {}
    void release(const ToolContext&, const Pointer&) override {}

    bool key(const ToolContext&, const Chord& chord) override {
        return chord.key == Key::Backspace && desk_.take_back();
    }

    bool cancel(const ToolContext&) override {
        if (desk_.take_back()) return true;
        done_ = true;
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        if (desk_.way == ScaleWay::KnownPart) return show_part(context, out);
        const auto seen = [&](Vec2 board) { return context.board(board); }; // the map is its own inverse
        const double arm = pointer.mm(7);
        for (const ScalePoint& point : desk_.points) {
            const Vec2 at = seen(point.at);
            out.add(scene::Role::Measure, scene::Line{{at - Vec2{arm, arm}, at + Vec2{arm, arm}}, false});
            out.add(scene::Role::Measure, scene::Line{{at - Vec2{arm, -arm}, at + Vec2{arm, -arm}}, false});
        }
        const Snap snap = snap_at(snaps_.now(context), context, pointer);
        if (desk_.points.size() == 2) {
            add_span(out, seen(desk_.points[0].at), seen(desk_.points[1].at), words(context));
            return;
        }
        if (desk_.points.size() == 1) add_span(out, seen(desk_.points[0].at), seen(snap.at), "");
        add_snap(out, snap, context.seen_from, pointer);
    }

    [[nodiscard]] std::string hint() const override {
        if (desk_.way == ScaleWay::KnownPart) return "Click the part whose size is known; Esc leaves";
        if (desk_.points.empty()) return "Click the first of two points, far apart; Esc leaves";
        if (desk_.points.size() == 1) return "Click the second point; Backspace takes the first one back";
        return "Type the distance in mm at the right; a click begins anew";
    }
    [[nodiscard]] bool is_done() const override { return done_; }
    [[nodiscard]] bool awaits_click() const override {
        return desk_.way == ScaleWay::KnownPart ? desk_.part.is_empty() : desk_.points.size() < 2;
    }

private:
    [[nodiscard]] static Snap snap_at(const SnapField& field, const ToolContext& context, const Pointer& pointer) {
        return field.snap(context.board(pointer.scene), {.reach = pointer.mm(kSnapReach_px)});
    }

    void pick_part(const ToolContext& context, const Pointer& pointer) {
        desk_.insists.reset();
        desk_.part = part_under(context.editor.shown(), context.board(pointer.scene), context.seen_from);
        trace("scale part", desk_.part.text);
    }

    [[nodiscard]] std::string words(const ToolContext& context) const {
        if (desk_.distance_mm) return fmt::format("{:g} mm", *desk_.distance_mm);
        const double now = geometry::distance(desk_.points[0].at, desk_.points[1].at);
        return fmt::format("{:.3f} {}", now, context.editor.shown().scale ? "mm as it is now" : "units");
    }

    static void add_span(scene::Scene& out, Vec2 a, Vec2 b, std::string text) {
        out.add(scene::Role::Measure, scene::Line{{a, b}, false, scene::Weight::Normal});
        if (text.empty()) return;
        out.add(scene::Role::LabelMeasure, scene::Text{.at = geometry::lerp(a, b, 0.5),
                                                       .text = std::move(text),
                                                       .height_px = 13,
                                                       .strong = true,
                                                       .halo = true});
    }

    void show_part(const ToolContext& context, scene::Scene& out) const {
        const auto at = document::find_part(context.editor.shown(), desk_.part);
        if (at) add_part_outline(out, scene::Role::Selection, context.editor.shown().parts[*at], context.seen_from);
    }

    ScaleDesk& desk_;
    mutable SnapsShown snaps_;
    bool done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_scale_tool(ScaleDesk& desk) {
    return std::make_unique<ScaleTool>(desk);
}

} // namespace padchart::app
