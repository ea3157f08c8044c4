// A pattern hangs on the pointer until it is put down.

#include <cmath>

#include <fmt/format.h>

#include "app/tools/tool.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

class PlaceTool final : public Tool {
public:
    explicit PlaceTool(document::Footprint pattern) : pattern_(std::move(pattern)) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        // The pattern's millimetres mean nothing among the units of a trace.
        if (!context.editor.chart().scale)
            return context.editor.tell(Severity::Warning, "This chart has no scale: set it first, with G.");
        const bool placed = context.editor.add_part(pattern_, placement(context, pointer));
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
        document::Footprint part = pattern_;
        part.placement = placement(context, pointer);
        add_part_outline(out, scene::Role::Preview, part, context.seen_from);
    }

    [[nodiscard]] std::string hint() const override {
        return "Click to put it down, Shift+click for several, [ and ] turn it, Esc stops";
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    [[nodiscard]] document::Placement placement(const ToolContext& context, const Pointer& pointer) const {
        const Vec2 at = context.board(pointer.scene);
        const auto whole = [](double v) { return std::round(v * 100) / 100; };
        return {{whole(at.x), whole(at.y)}, turn_, context.seen_from};
    }

    document::Footprint pattern_;
    Angle turn_;
    bool done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_place_tool(document::Footprint pattern) {
    return std::make_unique<PlaceTool>(std::move(pattern));
}

} // namespace padchart::app
