// A pattern hangs on the pointer until it is put down.

#include <utility>

#include "app/tools/keyed_place.hpp"
#include "app/tools/part_tools.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

class PlaceTool final : public Tool {
public:
    PlaceTool(document::Footprint pattern, const SnapDesk& desk) : pattern_(std::move(pattern)), desk_(desk) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        done_ = put_down(context, pointer) && !pointer.shift;
    }
    void hover() override { keyed_.drop(); }
    void move(const ToolContext&, const Pointer&) override {}
    void release(const ToolContext&, const Pointer&) override {}

    bool key(const ToolContext& context, const Chord& chord) override {
        if (keyed_.key(context, chord)) return true;
        if (chord == Chord{Key::Enter}) {
            done_ = put_down(context, keyed_.pointer(context.from));
            return true;
        }
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
        const Pointer at = keyed_.pointer(pointer);
        const PartShift by = shift(context, at);
        document::Footprint part = pattern_;
        part.placement = placement(context, by);
        add_part_outline(out, scene::Role::Preview, part, context.seen_from);
        add_part_shift(out, by, context.seen_from, at);
    }

    [[nodiscard]] bool brings_parts() const override { return true; }
    [[nodiscard]] std::string hint() const override {
        return "Click or Enter to put it down, Shift+click for several, arrows lead it, [ and ] turn it, Esc stops";
    }
    [[nodiscard]] bool is_done() const override { return done_; }
    [[nodiscard]] bool is_led_by_keys() const override { return keyed_.leads(); }

private:
    bool put_down(const ToolContext& context, const Pointer& pointer) {
        // The pattern's millimetres mean nothing among the units of a trace.
        if (context.editor.chart().scale)
            return context.editor.add_part(pattern_, placement(context, shift(context, pointer)));
        context.editor.tell(Severity::Warning, "This chart has no scale: set it first, with G.");
        return false;
    }

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
    KeyedPlace keyed_;
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
