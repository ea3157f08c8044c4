// A part drawn by hand: drag the body, then drag pad after pad; Enter makes the part. Pads are numbered as drawn.

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "app/tools/tool.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using document::ShapeKind;
using geometry::Box;
using geometry::Vec2;

constexpr double kDrawStep_mm = 0.05;
constexpr double kSmallest_mm = 0.05;

double to_step(double v) {
    return std::round(v / kDrawStep_mm) * kDrawStep_mm;
}

class DrawTool final : public Tool {
public:
    void press(const ToolContext&, const Pointer& pointer) override { from_ = snapped(pointer.scene); }

    void move(const ToolContext&, const Pointer&) override {}

    void release(const ToolContext&, const Pointer& pointer) override {
        if (!from_) return;
        const Box box = drawn(*std::exchange(from_, std::nullopt), snapped(pointer.scene));
        if (box.width() < kSmallest_mm || box.height() < kSmallest_mm) return;
        if (!body_) {
            body_ = box;
            trace("draw", fmt::format("body {:.2f} x {:.2f}", box.width(), box.height()));
            return;
        }
        pads_.push_back({box, round_});
        trace("draw", fmt::format("pad {} {:.2f} x {:.2f}", pads_.size(), box.width(), box.height()));
    }

    bool key(const ToolContext& context, const Chord& chord) override {
        if (chord.key == Key::Enter) {
            finish(context);
            return true;
        }
        if (chord.key == Key::Backspace) {
            if (!pads_.empty())
                pads_.pop_back();
            else
                body_.reset();
            return true;
        }
        if (chord.key == Key::O && !chord.ctrl) {
            round_ = !round_;
            return true;
        }
        return false;
    }

    bool cancel(const ToolContext&) override {
        if (from_)
            from_.reset();
        else
            done_ = true;
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        if (body_) add_outline(out, scene::Role::Preview, box_ring(body_->min, body_->max), scene::Weight::Normal);
        for (const DrawnPad& pad : pads_)
            add_pad(out, pad.box, pad.round);
        if (!from_) return;
        const Box box = drawn(*from_, snapped(pointer.scene));
        if (box.width() <= 0 || box.height() <= 0) return;
        add_pad(out, box, body_ && round_);
        out.add(scene::Role::LabelMeasure,
                scene::Text{.at = {box.centre().x, box.min.y - pointer.mm(12)},
                            .text = fmt::format("{:.2f} x {:.2f} {}", box.width(), box.height(),
                                                context.editor.chart().scale ? "mm" : "units"),
                            .height_px = 12,
                            .halo = true});
    }

    [[nodiscard]] bool brings_parts() const override { return true; }
    [[nodiscard]] std::string hint() const override {
        if (!body_) return "Drag the body of the part, Esc stops";
        return fmt::format("Drag pad {} ({}, O changes), Backspace takes one back, Enter makes the part",
                           pads_.size() + 1, round_ ? "round" : "rectangle");
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    struct DrawnPad {
        Box box;
        bool round;
    };

    static Vec2 snapped(Vec2 v) { return {to_step(v.x), to_step(v.y)}; }

    // A round pad is as wide as it is high: the shorter way of the drag would cut copper off.
    [[nodiscard]] Box drawn(Vec2 from, Vec2 to) const {
        if (body_ && round_) {
            const double size = std::max(std::abs(to.x - from.x), std::abs(to.y - from.y));
            to = {from.x + std::copysign(size, to.x - from.x), from.y + std::copysign(size, to.y - from.y)};
        }
        Box box;
        box.add(from);
        box.add(to);
        return box;
    }

    static void add_pad(scene::Scene& out, const Box& box, bool round) {
        const geometry::Ring ring = round ? geometry::transformed(geometry::circle(box.width() / 2, 0.002),
                                                                  geometry::Affine::translation(box.centre()))
                                          : box_ring(box.min, box.max);
        add_outline(out, scene::Role::Preview, ring, scene::Weight::Thin);
    }

    // Seen from the side it sits on, the scene's axes are the part's own at zero turn.
    void finish(const ToolContext& context) {
        if (!body_) return context.editor.tell(Severity::Warning, "Draw the body first: drag a rectangle.");
        if (pads_.empty()) return context.editor.tell(Severity::Warning, "Draw at least one pad, then press Enter.");
        document::Footprint part;
        const Vec2 origin = body_->centre();
        part.body.emplace();
        part.body->shape = {ShapeKind::Rectangle, body_->width(), body_->height(), {}};
        for (const DrawnPad& drawn_pad : pads_) {
            document::Pad pad;
            pad.number = std::to_string(part.pads.size() + 1);
            pad.at = drawn_pad.box.centre() - origin;
            pad.shape = {drawn_pad.round ? ShapeKind::Round : ShapeKind::Rectangle,
                         drawn_pad.box.width(),
                         drawn_pad.box.height(),
                         {}};
            part.pads.push_back(std::move(pad));
        }
        done_ = context.editor.add_part(std::move(part), {context.board(origin), Angle(), context.seen_from});
    }

    std::optional<Vec2> from_;
    std::optional<Box> body_;
    std::vector<DrawnPad> pads_;
    bool round_ = false;
    bool done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_draw_tool() {
    return std::make_unique<DrawTool>();
}

} // namespace padchart::app
