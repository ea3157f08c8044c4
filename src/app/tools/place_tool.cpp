// A pattern hangs on the pointer until it is put down.

#include <utility>

#include "app/tools/part_tools.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

class PlaceTool final : public Tool {
public:
    PlaceTool(document::Footprint pattern, const SnapDesk& desk) : pattern_(std::move(pattern)), desk_(desk) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        // The pattern's millimetres mean nothing among the units of a trace.
        if (!context.editor.chart().scale)
            return context.editor.tell(Severity::Warning, "This chart has no scale: set it first, with G.");
        const bool placed = context.editor.add_part(pattern_, placement(context, shift(context, pointer)));
        done_ = placed && !pointer.shift;
    }
    void move(const ToolContext&, const Pointer&) override {}
    void release(const ToolContext&, const Pointer&) override {}

    bool key(const ToolContext&, const Chord& chord) override {
        const double step = chord.shift ? 90 : 15;
        if (chord.key == Key::LeftBracket) turn_ = (turn_ + Angle::degrees(step)).wrapped();
        if (chord.key == Key::RightBracket) turn_ = (turn_ - Angle::degrees(step)).wrapped();
        return chord.key == Key::LeftBracket || chord.key == Key::RightBracket;
    }

    bool cancel(const ToolContext&) override {
        done_ = true;
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        const PartShift by = shift(context, pointer);
        document::Footprint part = pattern_;
        part.placement = placement(context, by);
        add_part_outline(out, scene::Role::Preview, part, context.seen_from);
        add_part_shift(out, by, context.seen_from, pointer);
    }

    [[nodiscard]] std::string hint() const override {
        return "Click to put it down, Shift+click for several, [ and ] turn it, Esc stops";
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    /// The pattern moves from the board's origin to where it is put.
    [[nodiscard]] document::Placement placement(const ToolContext& context, const PartShift& by) const {
        return {by.by, turn_, context.seen_from};
    }

    [[nodiscard]] PartShift shift(const ToolContext& context, const Pointer& pointer) const {
        const document::Placement start{{}, turn_, context.seen_from};
        if (version_ != context.editor.version() || start != start_) {
            version_ = context.editor.version();
            start_ = start;
            document::Footprint part = pattern_;
            part.id = {};
            part.placement = start;
            snap_ = PartSnap(context.editor.chart(), context.seen_from, {part});
        }
        return snap_.shift(context.board(pointer.scene), pointer.mm(kSnapReach_px), desk_, pointer.ctrl);
    }

    document::Footprint pattern_;
    const SnapDesk& desk_;
    Angle turn_;
    bool done_ = false;
    mutable PartSnap snap_;
    mutable std::uint64_t version_ = 0;
    mutable document::Placement start_;
};

} // namespace

std::unique_ptr<Tool> make_place_tool(document::Footprint pattern, const SnapDesk& desk) {
    return std::make_unique<PlaceTool>(std::move(pattern), desk);
}

} // namespace padchart::app
