// What was copied hangs on the pointer until it is put down.

#include <fmt/format.h>

#include "app/selection_edits.hpp"
#include "app/tools/keyed_place.hpp"
#include "app/tools/part_tools.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using document::Fragment;
using document::Side;
using geometry::Vec2;

class PasteTool final : public Tool {
public:
    PasteTool(Fragment things, const SnapDesk& desk) : things_(std::move(things)), desk_(desk) {
        const geometry::Box box = document::bounds_of(things_);
        if (!box.is_empty()) middle_ = box.centre();
    }

    void press(const ToolContext& context, const Pointer& pointer) override {
        trace("click",
              fmt::format("board {:.2f} {:.2f}", context.board(pointer.scene).x, context.board(pointer.scene).y));
        done_ = paste(context.editor, placed(context, shift(context, pointer).by)) && !pointer.shift;
    }
    void hover() override { keyed_.drop(); }
    void move(const ToolContext&, const Pointer&) override {}
    void release(const ToolContext&, const Pointer&) override {}

    bool key(const ToolContext& context, const Chord& chord) override {
        if (keyed_.key(context, chord)) return true;
        if (chord != Chord{Key::Enter}) return false;
        const Pointer at = keyed_.pointer(context.from);
        done_ = paste(context.editor, keyed_.leads() ? placed(context, shift(context, at).by) : things_);
        return true;
    }
    bool cancel(const ToolContext&) override {
        done_ = true;
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& hand, scene::Scene& out) const override {
        const Pointer pointer = keyed_.pointer(hand);
        const PartShift by = shift(context, pointer);
        const Fragment things = placed(context, by.by);
        for (const Footprint& part : things.parts)
            add_part_outline(out, scene::Role::Preview, part, context.seen_from);
        for (const document::KeepOut& area : things.keep_outs)
            add_area(out, area.outline.outer, context.seen_from);
        for (const document::Shield& area : things.shields)
            add_area(out, area.outline.outer, context.seen_from);
        for (const document::Note& note : things.notes)
            add_area(out,
                     geometry::transformed(geometry::circle(pointer.mm(8), pointer.mm(0.2)),
                                           geometry::Affine::translation(note.at)),
                     context.seen_from);
        add_part_shift(out, by, context.seen_from, pointer);
    }
    [[nodiscard]] bool brings_parts() const override { return !things_.parts.empty(); }
    [[nodiscard]] std::string hint() const override {
        if (keyed_.leads()) return "Enter puts them down, arrows lead them on, Esc stops";
        return "Click to put them down, Shift+click for several, Enter where they were copied from, arrows lead them, "
               "Esc stops";
    }
    [[nodiscard]] bool is_led_by_keys() const override { return keyed_.leads(); }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    static void add_area(scene::Scene& out, const geometry::Ring& ring, Side seen_from) {
        add_outline(out, scene::Role::Preview, geometry::transformed(ring, scene::scene_from_board(seen_from)),
                    scene::Weight::Normal);
    }

    /// As they come from the clipboard, laid over where all of them are of the side that is not looked at.
    [[nodiscard]] Fragment turned(Side seen_from) const {
        const Side far = seen_from == Side::Top ? Side::Bottom : Side::Top;
        return document::lies_on(things_, far) ? document::laid_over(things_, middle_.x) : things_;
    }

    [[nodiscard]] Fragment placed(const ToolContext& context, Vec2 by) const {
        return document::moved(turned(context.seen_from), by);
    }

    [[nodiscard]] PartShift shift(const ToolContext& context, const Pointer& pointer) const {
        if (version_ != context.editor.version() || side_ != context.seen_from) {
            version_ = context.editor.version();
            side_ = context.seen_from;
            std::vector<Footprint> parts = turned(side_).parts;
            for (Footprint& part : parts)
                part.id = {}; // what lies in the chart may bear the same id and shall be met
            snap_ = PartSnap(context.editor.chart(), side_, parts);
        }
        return snap_.shift(context.board(pointer.scene) - middle_, pointer.mm(kSnapReach_px), desk_, pointer.ctrl);
    }

    Fragment things_;
    const SnapDesk& desk_;
    KeyedPlace keyed_;
    Vec2 middle_;
    bool done_ = false;
    mutable PartSnap snap_;
    mutable std::uint64_t version_ = 0;
    mutable Side side_ = Side::Top;
};

} // namespace

std::unique_ptr<Tool> make_paste_tool(Fragment things, const SnapDesk& desk) {
    return std::make_unique<PasteTool>(std::move(things), desk);
}

} // namespace padchart::app
