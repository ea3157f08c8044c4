// The pointer of the heat stage: drags the nozzle of the plan in hand, and selects by click. Parts stay where they are:
// who plans the heat does not mean to move the board.

#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "app/heat_desk.hpp"
#include "app/heat_edits.hpp"
#include "app/tools/part_tools.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using document::Id;
using geometry::Vec2;

constexpr double kDragStart_px = 4.0;
constexpr double kLeastReach_px = 14.0; // a fine nozzle seen from afar can still be caught
constexpr double kStep_mm = 0.01;

double to_step(double value) {
    return std::round(value / kStep_mm) * kStep_mm;
}

class AimTool final : public Tool {
public:
    explicit AimTool(HeatDesk& desk) : desk_(desk) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        pressed_at_ = pointer.scene;
        part_ = context.part_at(pointer);
        is_told_ = false;
        const Vec2 at = context.board(pointer.scene);
        trace("click", fmt::format("board {:.2f} {:.2f}", at.x, at.y));
        doing_ = is_on_nozzle(context, pointer) ? Doing::Hold : Doing::Click;
        if (doing_ == Doing::Hold) before_ = desk_.plan();
    }

    void move(const ToolContext& context, const Pointer& pointer) override {
        const bool far = geometry::distance(pressed_at_, pointer.scene) > pointer.mm(kDragStart_px);
        if (doing_ == Doing::Hold && far) doing_ = Doing::Drag;
        if (doing_ == Doing::Click && far && !part_.is_empty() && !std::exchange(is_told_, true))
            context.editor.tell(Severity::Note, std::string(kPartsStay));
        if (doing_ == Doing::Drag) aim(before_.aim + context.board(pointer.scene) - context.board(pressed_at_));
    }

    void release(const ToolContext& context, const Pointer& pointer) override {
        move(context, pointer);
        if (doing_ == Doing::Drag) {
            rest_plan(context.editor, desk_);
            trace("aim", fmt::format("{:.2f} {:.2f}", desk_.plan().aim.x, desk_.plan().aim.y));
        } else if (doing_ != Doing::Nothing) {
            select(context.editor, pointer);
        }
        doing_ = Doing::Nothing;
    }

    bool cancel(const ToolContext&) override {
        const bool busy = doing_ != Doing::Nothing;
        if (doing_ == Doing::Drag) desk_.change(before_);
        doing_ = Doing::Nothing;
        return busy;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        if (!desk_.has_plan() || doing_ == Doing::Click) return;
        if (doing_ == Doing::Nothing && !is_on_nozzle(context, pointer)) return;
        const document::HeatPlan& plan = desk_.plan();
        geometry::Ring ring = geometry::circle(plan.nozzle_bore_mm / 2.0, 0.01);
        ring = geometry::transformed(ring, geometry::Affine::translation(context.board(plan.aim)));
        add_outline(out, scene::Role::Selection, std::move(ring), scene::Weight::Bold);
    }

    [[nodiscard]] std::string hint() const override {
        if (doing_ != Doing::Drag) return "";
        return fmt::format("Aim at x {:.2f}  y {:.2f}; Esc puts it back", desk_.plan().aim.x, desk_.plan().aim.y);
    }
    [[nodiscard]] bool is_selecting() const override { return true; }

private:
    enum class Doing { Nothing, Click, Hold, Drag };

    [[nodiscard]] bool is_on_nozzle(const ToolContext& context, const Pointer& pointer) const {
        if (!desk_.has_plan() || desk_.plan().side != context.seen_from) return false;
        const double reach = std::max(desk_.plan().nozzle_bore_mm / 2.0, pointer.mm(kLeastReach_px));
        return geometry::distance(desk_.plan().aim, context.board(pointer.scene)) <= reach;
    }

    void aim(Vec2 at) {
        document::HeatPlan plan = desk_.plan();
        plan.aim = {to_step(at.x), to_step(at.y)};
        desk_.change(std::move(plan), true);
    }

    void select(Editor& editor, const Pointer& pointer) const {
        if (part_.is_empty())
            editor.select({});
        else if (pointer.shift || pointer.ctrl)
            editor.toggle(part_);
        else
            editor.select({part_});
    }

    HeatDesk& desk_;
    Doing doing_ = Doing::Nothing;
    Vec2 pressed_at_;
    document::HeatPlan before_;
    Id part_;
    bool is_told_ = false; ///< that parts stay where they are
};

} // namespace

std::unique_ptr<Tool> make_aim_tool(HeatDesk& desk) {
    return std::make_unique<AimTool>(desk);
}

} // namespace padchart::app
