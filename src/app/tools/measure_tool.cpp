// Distance: drag from shape to shape for the gap between their edges, or from place to place. Angle: click the corner,
// then a place on either arm. Pitch: drag from the first pad to the last. Two clicks do what a drag does. Places are
// put right by what is drawn near them; Ctrl takes them as they are.

#include "app/tools/measure_tool.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "app/snaps_shown.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

constexpr int kMostSteps = 999;
constexpr double kDragStart_px = 4.0;

template <class T>
const T* find(const document::Items<T>& items, const document::Id& id) {
    for (const T& thing : items)
        if (thing.id == id) return &thing;
    return nullptr;
}

class MeasureTool final : public Tool {
public:
    MeasureTool(MeasureDesk& desk, MeasureKind kind) : desk_(desk), kind_(kind) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        if (kind_ != MeasureKind::Angle && !context.editor.chart().scale)
            return context.editor.tell(Severity::Warning, "This chart has no scale: nothing on it can be measured.");
        typed_ = 0;
        const Vec2 at = place_at(context, pointer);
        if (kind_ == MeasureKind::Angle) return add_to_angle(context, at);
        pressed_at_ = pointer.scene;
        dragging_ = true;
        if (std::exchange(awaits_end_, false)) return; // the second click ends what the first began
        current_ = {kind_, context.seen_from, {at, at}, shape_at(context, pointer), {}, 1};
        is_first_click_ = true;
    }

    void move(const ToolContext& context, const Pointer& pointer) override {
        if (kind_ == MeasureKind::Angle && current_ && !finished_angle_)
            current_->points.back() = place_at(context, pointer);
        else if (dragging_)
            aim(*current_, context, pointer);
    }

    void release(const ToolContext& context, const Pointer& pointer) override {
        if (!dragging_) return;
        move(context, pointer);
        dragging_ = false;
        const bool is_click = geometry::distance(pressed_at_, pointer.scene) <= pointer.mm(kDragStart_px);
        awaits_end_ = std::exchange(is_first_click_, false) && is_click;
        if (awaits_end_) return;
        const bool is_there = geometry::distance(current_->points[0], current_->points[1]) > 1e-6 ||
                              current_->to.kind != MeasuredShape::Kind::None;
        if (is_there)
            pin(context);
        else
            current_.reset();
    }

    bool key(const ToolContext& context, const Chord& chord) override {
        if (chord.ctrl || chord.alt || chord.shift) return false;
        switch (chord.key) {
        case Key::D: return use(MeasureKind::Distance);
        case Key::A: return use(MeasureKind::Angle);
        case Key::P: return use(MeasureKind::Pitch);
        case Key::Backspace: return dismiss_last();
        case Key::Delete: return dismiss_all();
        default: return take_digit(context, chord.key);
        }
    }

    bool cancel(const ToolContext&) override {
        if (dragging_ || awaits_end_ || (current_ && kind_ == MeasureKind::Angle && !finished_angle_)) {
            current_.reset();
            dragging_ = awaits_end_ = false;
            return true;
        }
        done_ = true;
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        const double px = pointer.px_per_mm / pointer.ui_scale;
        if (current_ && (dragging_ || awaits_end_ || !finished_angle_))
            if (const auto measured = evaluate(context.editor.chart(), shown(context, pointer)))
                add_measured(out, *current_, *measured, px, context.seen_from);
        if (pointer.ctrl) return;
        if (const auto middle = pad_middle(context, pointer))
            add_snap(out, *middle, context.seen_from, pointer);
        else
            add_snap(out, snapped(snaps_.now(context), context, pointer), context.seen_from, pointer);
    }

    [[nodiscard]] std::string hint() const override {
        if (awaits_end_) return "Click where it ends, Esc drops it";
        if (!last_.empty()) return last_;
        switch (kind_) {
        case MeasureKind::Distance:
            return "Drag, or click twice, from edge to edge or from place to place; A angle, P pitch, Backspace takes "
                   "one away, Esc "
                   "stops";
        case MeasureKind::Angle: return "Click the corner, then a place on either arm; D distance, P pitch, Esc stops";
        case MeasureKind::Pitch: break;
        }
        return "Drag, or click twice, from the first pad to the last; type the number of steps to correct the count; D "
               "distance, Esc "
               "stops";
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    [[nodiscard]] static Snap snapped(const SnapField& field, const ToolContext& context, const Pointer& pointer) {
        const Vec2 at = context.board(pointer.scene);
        if (pointer.ctrl) return {at, SnapKind::None, "", {}};
        return field.snap(at, {.reach = pointer.mm(kSnapReach_px)});
    }

    /// A pitch runs from middle to middle, wherever on the pad the hand is.
    [[nodiscard]] std::optional<Snap> pad_middle(const ToolContext& context, const Pointer& pointer) const {
        if (kind_ != MeasureKind::Pitch) return std::nullopt;
        const MeasuredShape shape = shape_at(context, pointer);
        const auto at = document::find_part(context.editor.chart(), shape.id);
        if (shape.kind != MeasuredShape::Kind::Pad || !at) return std::nullopt;
        const document::Footprint& part = context.editor.chart().parts[*at];
        const document::Pad& pad = part.pads[shape.pad];
        return Snap{document::board_from_part(part.placement)(pad.at),
                    SnapKind::Centre,
                    "middle of " + pad_words(part, pad),
                    {}};
    }

    [[nodiscard]] Vec2 place_at(const ToolContext& context, const Pointer& pointer) const {
        const auto middle = pointer.ctrl ? std::nullopt : pad_middle(context, pointer);
        return middle ? middle->at : snapped(snaps_.all(context), context, pointer).at;
    }

    void aim(Measurement& m, const ToolContext& context, const Pointer& pointer) const {
        m.points[1] = place_at(context, pointer);
        if (kind_ == MeasureKind::Pitch) {
            m.steps = counted_steps(context.editor.chart(), context.seen_from, m.points[0], m.points[1]);
            return;
        }
        const MeasuredShape shape = shape_at(context, pointer);
        m.to = shape == m.from ? MeasuredShape{} : shape;
    }

    [[nodiscard]] Measurement shown(const ToolContext& context, const Pointer& pointer) const {
        Measurement m = *current_;
        if (awaits_end_) aim(m, context, pointer);
        // Before the second arm is chosen the pointer is on the first: a straight line, no angle yet.
        if (m.kind == MeasureKind::Angle && m.points.size() < 3) m.points.resize(3, m.points.front());
        return m;
    }

    void add_to_angle(const ToolContext& context, Vec2 at) {
        if (!current_ || finished_angle_) {
            current_ = {MeasureKind::Angle, context.seen_from, {at, at}, {}, {}, 1};
            finished_angle_ = false;
            last_.clear();
            return;
        }
        current_->points.back() = at;
        if (current_->points.size() < 3) {
            if (geometry::distance(current_->points[0], at) > 1e-6) current_->points.push_back(at);
            return;
        }
        finished_angle_ = true;
        pin(context);
    }

    void pin(const ToolContext& context) {
        const auto measured = evaluate(context.editor.chart(), *current_);
        if (!measured) return current_.reset();
        desk_.pinned.push_back(*current_);
        tell(*measured);
        if (kind_ != MeasureKind::Pitch) current_.reset();
    }

    void tell(const Measured& measured) {
        last_ = measured.between.empty() ? measured.words : measured.between + ": " + measured.words;
        trace("measure", last_);
    }

    bool use(MeasureKind kind) {
        kind_ = kind;
        current_.reset();
        last_.clear();
        dragging_ = awaits_end_ = false;
        finished_angle_ = true;
        return true;
    }

    /// The number of steps of the pitch measured last, where the pads in between are not all drawn.
    bool take_digit(const ToolContext& context, Key key) {
        if (key < Key::Digit0 || key > Key::Digit9) return false;
        if (kind_ != MeasureKind::Pitch || !current_ || dragging_ || awaits_end_ || desk_.pinned.empty()) return true;
        const int digit = static_cast<int>(key) - static_cast<int>(Key::Digit0);
        typed_ = typed_ * 10 + digit > kMostSteps ? digit : typed_ * 10 + digit;
        if (typed_ < 1) return true;
        current_->steps = typed_;
        desk_.pinned.back() = *current_;
        if (const auto measured = evaluate(context.editor.chart(), *current_)) tell(*measured);
        return true;
    }

    bool dismiss_last() {
        if (!desk_.pinned.empty()) desk_.pinned.pop_back();
        return use(kind_);
    }
    bool dismiss_all() {
        desk_.pinned.clear();
        return use(kind_);
    }

    MeasureDesk& desk_;
    MeasureKind kind_;
    std::optional<Measurement> current_;
    std::string last_;
    int typed_ = 0;
    Vec2 pressed_at_;
    bool is_first_click_ = false, awaits_end_ = false; ///< a click began it, another one is to end it
    bool dragging_ = false, finished_angle_ = true, done_ = false;
    mutable SnapsShown snaps_;
};

} // namespace

MeasuredShape shape_at(const ToolContext& context, const Pointer& pointer) {
    const document::Chart& chart = context.editor.chart();
    if (const auto source = context.hits.at(pointer.scene, pointer.mm(2))) {
        const scene::Source& hit = context.scene.sources[static_cast<std::size_t>(*source)];
        if (const auto* part = find(chart.parts, hit.id);
            part != nullptr && part->placement.side == context.seen_from) {
            if (hit.pad < 0) return {MeasuredShape::Kind::Part, hit.id, 0};
            return {MeasuredShape::Kind::Pad, hit.id, static_cast<std::size_t>(hit.pad)};
        }
        if (find(chart.keep_outs, hit.id) != nullptr) return {MeasuredShape::Kind::KeepOut, hit.id, 0};
        if (find(chart.shields, hit.id) != nullptr) return {MeasuredShape::Kind::Shield, hit.id, 0};
    }
    if (!chart.board.outline) return {};
    std::vector<geometry::Ring> edge{chart.board.outline->outer};
    edge.insert(edge.end(), chart.board.outline->holes.begin(), chart.board.outline->holes.end());
    const Vec2 at = context.board(pointer.scene);
    const double tiny = pointer.mm(0.01);
    geometry::Ring spot{at - Vec2{tiny, tiny}, at + Vec2{tiny, -tiny}, at + Vec2{tiny, tiny}, at + Vec2{-tiny, tiny}};
    const geometry::Gap gap = geometry::gap_to_lines({{std::move(spot), {}}}, edge);
    return gap.mm <= pointer.mm(kSnapReach_px) ? MeasuredShape{MeasuredShape::Kind::BoardEdge, {}, 0} : MeasuredShape{};
}

std::unique_ptr<Tool> make_measure_tool(MeasureDesk& desk, MeasureKind kind) {
    return std::make_unique<MeasureTool>(desk, kind);
}

} // namespace padchart::app
