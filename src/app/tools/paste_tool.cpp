// Parts that were copied hang on the pointer until they are put down.

#include <algorithm>

#include <fmt/format.h>

#include "app/selection_edits.hpp"
#include "app/tools/part_tools.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using document::Side;
using geometry::Vec2;

class PasteTool final : public Tool {
public:
    PasteTool(std::vector<Footprint> parts, const SnapDesk& desk) : parts_(std::move(parts)), desk_(desk) {
        geometry::Box box;
        for (const Footprint& part : parts_)
            box.add(bounds_of(part));
        if (!box.is_empty()) middle_ = box.centre();
    }

    void press(const ToolContext& context, const Pointer& pointer) override {
        trace("click",
              fmt::format("board {:.2f} {:.2f}", context.board(pointer.scene).x, context.board(pointer.scene).y));
        done_ = paste(context.editor, placed(context, shift(context, pointer).by)) && !pointer.shift;
    }
    void move(const ToolContext&, const Pointer&) override {}
    void release(const ToolContext&, const Pointer&) override {}

    bool key(const ToolContext& context, const Chord& chord) override {
        if (chord != Chord{Key::Enter}) return false;
        done_ = paste(context.editor, parts_);
        return true;
    }
    bool cancel(const ToolContext&) override {
        done_ = true;
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        const PartShift by = shift(context, pointer);
        for (const Footprint& part : placed(context, by.by))
            add_part_outline(out, scene::Role::Preview, part, context.seen_from);
        add_part_shift(out, by, context.seen_from, pointer);
    }
    [[nodiscard]] std::string hint() const override {
        return "Click to put them down, Shift+click for several, Enter where they were copied from, Esc stops";
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    /// As they come from the clipboard, laid over where all of them are of the side that is not looked at.
    [[nodiscard]] std::vector<Footprint> turned(Side seen_from) const {
        std::vector<Footprint> parts = parts_;
        const auto is_far = [&](const Footprint& part) { return part.placement.side != seen_from; };
        if (!std::all_of(parts.begin(), parts.end(), is_far)) return parts;
        for (Footprint& part : parts) {
            part.placement.side = seen_from;
            part.placement.at.x = 2 * middle_.x - part.placement.at.x;
        }
        return parts;
    }

    [[nodiscard]] std::vector<Footprint> placed(const ToolContext& context, Vec2 by) const {
        std::vector<Footprint> parts = turned(context.seen_from);
        for (Footprint& part : parts)
            part.placement.at += by;
        return parts;
    }

    [[nodiscard]] PartShift shift(const ToolContext& context, const Pointer& pointer) const {
        if (version_ != context.editor.version() || side_ != context.seen_from) {
            version_ = context.editor.version();
            side_ = context.seen_from;
            std::vector<Footprint> parts = turned(side_);
            for (Footprint& part : parts)
                part.id = {}; // what lies in the chart may bear the same id and shall be met
            snap_ = PartSnap(context.editor.chart(), side_, parts);
        }
        return snap_.shift(context.board(pointer.scene) - middle_, pointer.mm(kSnapReach_px), desk_, pointer.ctrl);
    }

    std::vector<Footprint> parts_;
    const SnapDesk& desk_;
    Vec2 middle_;
    bool done_ = false;
    mutable PartSnap snap_;
    mutable std::uint64_t version_ = 0;
    mutable Side side_ = Side::Top;
};

} // namespace

std::unique_ptr<Tool> make_paste_tool(std::vector<Footprint> parts, const SnapDesk& desk) {
    return std::make_unique<PasteTool>(std::move(parts), desk);
}

} // namespace padchart::app
