// Select by click, add with Shift or Ctrl, marquee on empty board, move by drag, turn by the round handle.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/out_of_view.hpp"
#include "app/selected_thing.hpp"
#include "app/selection_edits.hpp"
#include "app/tools/part_tools.hpp"
#include "app/trace_log.hpp"
#include "document/edits.hpp"
#include "document/part_finder.hpp"
#include "document/things.hpp"
#include "scene/turn_handle.hpp"

namespace padchart::app {
namespace {

using document::Id;
using geometry::Box;
using geometry::Vec2;

// A hand in a glove trembles: a drag begins after this many pixels.
constexpr double kDragStartPx = 4.0;
constexpr double kHandleReachPx = 12.0;
constexpr double kFreeTurnStep_deg = 0.5;
constexpr double kShiftTurnStep_deg = 15.0;

double to_step(double value, double step) {
    return std::round(value / step) * step;
}

/// Empty where some of it is not in view: nobody turns what is not seen.
Box scene_bounds(const ToolContext& context) {
    if (!selected_out_of_view(context.editor, context.seen_from).empty()) return {};
    const Box board = context.editor.selection_bounds();
    if (board.is_empty()) return board;
    Box box;
    box.add(context.board(board.min));
    box.add(context.board(board.max));
    return box;
}

class SelectTool final : public Tool {
public:
    SelectTool(const SnapDesk& desk, bool may_move) : desk_(desk), may_move_(may_move) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        pressed_at_ = pointer.scene;
        if (is_on_handle(context, pointer)) {
            moving_ = movable_selection(context.editor);
            doing_ = moving_.empty() ? Doing::Nothing : Doing::Turn;
            return;
        }
        const Id id = thing_at(context, pointer);
        const bool adding = pointer.shift || pointer.ctrl;
        trace("click",
              fmt::format("board {:.2f} {:.2f}", context.board(pointer.scene).x, context.board(pointer.scene).y));
        doing_ = id.is_empty() ? Doing::EmptyPress : Doing::PartPress;
        toggle_on_release_ = {};
        area_under_ = {};
        alone_on_release_ = {};
        const bool is_area = !id.is_empty() && !context.editor.is_selected(id) && is_an_area(context, id);
        if (is_area && !adding) {
            // A marquee may begin on it; a click selects it, and only then it can be dragged.
            area_under_ = id;
            doing_ = Doing::EmptyPress;
            before_marquee_.clear();
        } else if (id.is_empty()) {
            before_marquee_ = adding ? context.editor.selection() : std::vector<Id>{};
            if (!adding) context.editor.select({});
        } else if (adding) {
            toggle_on_release_ = id;
        } else if (!context.editor.is_selected(id)) {
            context.editor.select({id});
        } else {
            alone_on_release_ = id; // a drag takes all that is selected along
        }
    }

    void move(const ToolContext& context, const Pointer& pointer) override {
        const bool far = geometry::distance(pressed_at_, pointer.scene) > pointer.mm(kDragStartPx);
        if (doing_ == Doing::PartPress && far) start_move(context);
        if (doing_ == Doing::EmptyPress && far) doing_ = Doing::Marquee;
        if (doing_ == Doing::Move) preview_move(context, pointer);
        if (doing_ == Doing::Turn) preview_turn(context, pointer);
    }

    void release(const ToolContext& context, const Pointer& pointer) override {
        move(context, pointer);
        Editor& editor = context.editor;
        const std::string name = name_of(editor.chart(), moving_);
        switch (doing_) {
        case Doing::Move: finish(context, "Move " + name); break;
        case Doing::Turn: finish(context, fmt::format("Turn {} by {}", name, turn_for_hand(turn_deg_))); break;
        case Doing::Marquee: select_marquee(context, pointer); break;
        case Doing::PartPress:
            if (!toggle_on_release_.is_empty()) editor.toggle(toggle_on_release_);
            if (!alone_on_release_.is_empty()) editor.select({alone_on_release_});
            break;
        case Doing::EmptyPress:
            if (!area_under_.is_empty()) editor.select({area_under_});
            break;
        case Doing::Nothing: break;
        }
        doing_ = Doing::Nothing;
    }

    bool cancel(const ToolContext& context) override {
        const bool busy = doing_ != Doing::Nothing;
        context.editor.drop_preview();
        doing_ = Doing::Nothing;
        return busy;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        if (doing_ == Doing::Marquee)
            add_outline(out, scene::Role::Marquee, box_ring(pressed_at_, pointer.scene), scene::Weight::Thin);
        if (doing_ == Doing::Move) return add_part_shift(out, shift_, context.seen_from, pointer);
        const Box box = scene_bounds(context);
        if (box.is_empty() || !can_turn(context)) return;
        const Vec2 handle = handle_at(box, pointer);
        out.add(scene::Role::Selection, scene::Line{{{handle.x, box.min.y}, handle}, false, scene::Weight::Thin});
        // A disc tells it from the square corners.
        out.add(scene::Role::SelectionHandle,
                scene::Line{
                    geometry::transformed(geometry::circle(pointer.mm(scene::kTurnHandleRadius_px), pointer.mm(0.2)),
                                          geometry::Affine::translation(handle)),
                    true, scene::Weight::Bold});
    }

    [[nodiscard]] std::string hint() const override {
        switch (doing_) {
        case Doing::Move: return "Let go to place it, Ctrl lets nothing be met, Esc drops the move";
        case Doing::Turn: return fmt::format("Turned by {}; Shift turns by 15, Esc drops it", turn_for_hand(turn_deg_));
        case Doing::Marquee: return "What the frame touches is selected";
        default: return "";
        }
    }
    [[nodiscard]] bool is_selecting() const override { return true; }

private:
    enum class Doing { Nothing, PartPress, EmptyPress, Move, Turn, Marquee };

    static bool is_an_area(const ToolContext& context, const Id& id) {
        const document::ThingKind kind = document::kind_of(context.editor.chart(), id);
        return kind == document::ThingKind::KeepOut || kind == document::ThingKind::Shield;
    }

    /// Parts have a turn, unless all of them are locked; notes and areas have none.
    [[nodiscard]] bool can_turn(const ToolContext& context) const {
        return may_move_ && !selected_thing(context.editor).has_value() && !is_all_locked(context.editor);
    }

    static Vec2 handle_at(const Box& box, const Pointer& pointer) {
        return {box.centre().x, box.min.y - pointer.mm(scene::kTurnHandle_px)};
    }

    [[nodiscard]] bool is_on_handle(const ToolContext& context, const Pointer& pointer) const {
        const Box box = scene_bounds(context);
        return !box.is_empty() && can_turn(context) &&
               geometry::distance(handle_at(box, pointer), pointer.scene) <= pointer.mm(kHandleReachPx);
    }

    static bool holds_a_part(const Editor& editor) {
        return std::any_of(editor.selection().begin(), editor.selection().end(),
                           [&](const Id& id) { return document::is_part(editor.chart(), id); });
    }

    void start_move(const ToolContext& context) {
        if (!toggle_on_release_.is_empty() && !context.editor.is_selected(toggle_on_release_))
            context.editor.toggle(toggle_on_release_);
        toggle_on_release_ = {};
        if (!may_move_ && holds_a_part(context.editor)) {
            doing_ = Doing::Nothing;
            return context.editor.tell(Severity::Note, std::string(kPartsStay));
        }
        moving_ = movable_selection(context.editor);
        doing_ = moving_.empty() ? Doing::Nothing : Doing::Move;
        std::vector<document::Footprint> parts;
        document::PartFinder finder(context.editor.chart());
        for (const Id& id : moving_)
            if (const auto at = finder.find(id)) parts.push_back(context.editor.chart().parts[*at]);
        snap_ = PartSnap(context.editor.chart(), context.seen_from, parts);
    }

    void preview_move(const ToolContext& context, const Pointer& pointer) {
        shift_ = snap_.shift(context.board(pointer.scene) - context.board(pressed_at_), pointer.mm(kSnapReach_px),
                             desk_, pointer.ctrl);
        context.editor.preview(document::move_things(context.editor.chart(), moving_, shift_.by));
    }

    void finish(const ToolContext& context, std::string label) const {
        Editor& editor = context.editor;
        const auto before = editor.snapshot();
        if (!editor.commit_preview(std::move(label))) return;
        tell_who_stayed(editor);
        tell_where_moved(editor, *before, moving_);
        if (const std::vector<Id> away = selected_out_of_view(editor, context.seen_from); !away.empty())
            tell_went_along(editor, name_of(editor.chart(), away));
    }

    void preview_turn(const ToolContext& context, const Pointer& pointer) {
        context.editor.drop_preview();
        const auto about = context.editor.selection_centre();
        if (!about) return;
        const Vec2 centre = context.board(*about); // the map is its own inverse
        const Angle turned = geometry::bearing(pointer.scene - centre) - geometry::bearing(pressed_at_ - centre);
        turn_deg_ = to_step(turned.signed_turn().degrees(), pointer.shift ? kShiftTurnStep_deg : kFreeTurnStep_deg);
        context.editor.preview(document::turn_parts(context.editor.chart(), moving_, Angle::degrees(turn_deg_), *about,
                                                    context.seen_from));
    }

    void select_marquee(const ToolContext& context, const Pointer& pointer) const {
        Box box;
        box.add(pressed_at_);
        box.add(pointer.scene);
        std::vector<Id> ids = before_marquee_;
        const document::Chart& chart = context.editor.chart();
        document::PartFinder finder(chart);
        const auto before = static_cast<std::ptrdiff_t>(ids.size());
        for (const Id& id : context.hits.in(box, true)) {
            const auto at = finder.find(id);
            const bool here = at && chart.parts[*at].placement.side == context.seen_from;
            if (here && std::find(ids.begin(), ids.begin() + before, id) == ids.begin() + before) ids.push_back(id);
        }
        context.editor.select(std::move(ids));
    }

    const SnapDesk& desk_;
    bool may_move_;
    PartSnap snap_;
    PartShift shift_;
    std::vector<Id> moving_;
    Doing doing_ = Doing::Nothing;
    Vec2 pressed_at_;
    Id toggle_on_release_;
    Id area_under_;
    Id alone_on_release_;
    std::vector<Id> before_marquee_;
    double turn_deg_ = 0.0;
};

} // namespace

std::unique_ptr<Tool> make_select_tool(const SnapDesk& desk) {
    return std::make_unique<SelectTool>(desk, true);
}

std::unique_ptr<Tool> make_look_tool(const SnapDesk& desk) {
    return std::make_unique<SelectTool>(desk, false);
}

std::unique_ptr<Tool> make_select_tool() {
    static const SnapDesk kUsual;
    return make_select_tool(kUsual);
}

} // namespace padchart::app
