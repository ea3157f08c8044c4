#include "app/session.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "app/click_first.hpp"
#include "app/heat_edits.hpp"
#include "app/heat_shields.hpp"
#include "app/layout_hold.hpp"
#include "app/tools/part_tools.hpp"
#include "app/trace_log.hpp"
#include "app/work_desk.hpp"

namespace padchart::app {

using document::Side;

const analysis::PartFit* Session::fit_of(const document::Id& id) const {
    const Computed* reports = computed();
    if (reports == nullptr) return nullptr;
    const auto& parts = reports->fit.parts;
    const auto found = std::find_if(parts.begin(), parts.end(), [&](const auto& fit) { return fit.part == id; });
    return found == parts.end() ? nullptr : &*found;
}

bool Session::has_dialog() const {
    const WorkDesk* work = desks.find<WorkDesk>();
    return !std::holds_alternative<std::monostate>(dialog) || (work != nullptr && work->holds_hands());
}

void Session::show_stage(scene::Stage wanted) {
    panel = Panel::Stage;
    if (stage == wanted) return;
    const bool rests = tool->is_selecting() || (tool->brings_parts() && !lays_out(wanted));
    rest_plan(editor, heat);
    stage = wanted;
    if (rests) use_tool(resting_tool());
    for (const StageInfo& info : stages())
        if (info.stage == wanted) trace("stage", info.word);
}

std::unique_ptr<Tool> Session::resting_tool() {
    if (stage == scene::Stage::Heat) return make_aim_tool(heat);
    const SnapDesk& snap = desks.get<SnapDesk>();
    return lays_out(stage) ? make_select_tool(snap) : make_look_tool(snap);
}

void Session::aim_at_target() {
    if (!heat.has_plan()) return;
    const auto at = document::find_part(editor.chart(), heat.plan().target);
    if (!at) return;
    const document::Footprint& part = editor.chart().parts[*at];
    const geometry::Vec2 middle = document::board_from_part(part.placement)(document::centre_in_part(part));
    change_plan(*this, [&](document::HeatPlan& plan) { plan.aim = middle; });
}

bool Session::update_heat() {
    auto& seen = desks.get<ShieldsSeen>();
    if (stage != scene::Stage::Heat || !heat.has_plan()) seen = {};
    if (stage != scene::Stage::Heat) return false;
    if (!heat.has_plan()) {
        const document::Chart& chart = editor.chart();
        if (const document::Footprint* part = editor.selected_part())
            heat.begin(chart, part->id);
        else if (!chart.heat_plans.empty())
            heat.open(chart, chart.heat_plans[0].id);
    }
    heat.follow(editor.chart()); // what was undone does not count as a change by hand
    follow_shields(*this);
    return heat.update(editor.snapshot());
}

void Session::wait_for_heat() {
    update_heat();
    if (stage == scene::Stage::Heat && heat.has_plan()) heat.wait(editor.snapshot());
}

void Session::use_tool(std::unique_ptr<Tool> wanted) {
    if (panel != Panel::Import) editor.drop_preview(); // that of an import is no tool's
    if (editor.notice() && asks_for_click(editor.notice()->text)) editor.clear_notice();
    tool = std::move(wanted);
}

void Session::flip_side() {
    if (panel != Panel::Import) editor.drop_preview();
    seen_from = seen_from == Side::Top ? Side::Bottom : Side::Top;
    // The picture is mirrored; look at the same spot of the board.
    camera.look_at({-camera.centre().x, camera.centre().y}, camera.px_per_mm());
    trace("side", document::to_text(seen_from));
}

void Session::go_to(const document::Id& id) {
    const auto at = document::find_part(editor.chart(), id);
    if (!at) return;
    const document::Footprint& part = editor.chart().parts[*at];
    if (part.placement.side != seen_from) flip_side();
    editor.select({id});
    const geometry::Box board = bounds_of(part);
    if (board.is_empty()) return;
    geometry::Box box;
    box.add(scene::scene_from_board(board.min, seen_from));
    box.add(scene::scene_from_board(board.max, seen_from));
    camera.show(box, 60 * ui_scale);
}

std::span<const StageInfo> stages() {
    static constexpr std::array kStages = {
        StageInfo{scene::Stage::Survey, "Survey", "survey", "icons/survey.svg"},
        StageInfo{scene::Stage::Orient, "Orient", "orient", "icons/orient.svg"},
        StageInfo{scene::Stage::Heat, "Heat", "heat", "icons/heat.svg"},
        StageInfo{scene::Stage::Access, "Access", "access", "icons/access.svg"},
        StageInfo{scene::Stage::Inspect, "Inspect", "inspect", "icons/inspect.svg"},
        StageInfo{scene::Stage::HandOver, "Hand over", "hand-over", "icons/hand-over.svg"},
    };
    return kStages;
}

} // namespace padchart::app
