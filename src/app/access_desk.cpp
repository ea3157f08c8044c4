#include "app/access_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "analysis/heat_floating.hpp"
#include "app/trace_log.hpp"
#include "scene/words.hpp"

namespace padchart::app {

using analysis::AccessQuery;
using analysis::AccessReport;
using document::Footprint;
using document::HeatPlan;

namespace {

std::string pad_name(const Footprint& part, std::size_t i) {
    return part.pads[i].number.empty() ? "#" + std::to_string(i + 1) : part.pads[i].number;
}

bool has_pad(const Footprint& part, const std::string& name) {
    for (std::size_t i = 0; i < part.pads.size(); ++i)
        if (pad_name(part, i) == name) return true;
    return false;
}

/// The plan in hand where it is for the part, else the chart's.
const HeatPlan* plan_for(const Session& s, const document::Id& target) {
    if (s.heat.has_plan() && s.heat.plan().target == target) return &s.heat.plan();
    for (const HeatPlan& plan : s.editor.chart().heat_plans)
        if (plan.target == target) return &plan;
    return nullptr;
}

// Up to here the answer takes a few ms.
constexpr std::size_t kPartsAtOnce = 200;

} // namespace

AccessDesk::AccessDesk()
    : floating_job_([](const HeatOrder& order, const std::stop_token&, const auto& give) {
          Floating floating{order.plan.target, {}};
          if (const Result<analysis::HeatReport> report = analysis::heat(*order.chart, order.plan))
              floating.parts = analysis::floating_parts(*report);
          give(std::move(floating));
      }),
      job_([](const Order& order, const std::stop_token&, const auto& give) {
          give({order.query.target, order.number,
                std::make_shared<const Result<AccessReport>>(analysis::access(*order.chart, order.query))});
      }) {
    query.tool = *analysis::find_access_tool("tweezers-medium");
}

void AccessDesk::follow_selection(const Session& s) {
    const document::Chart& chart = s.editor.shown();
    if (const Footprint* part = s.editor.selected_part()) query.target = part->id;
    const auto at = document::find_part(chart, query.target);
    if (!at) {
        query.target = {};
        return;
    }
    const Footprint& part = chart.parts[*at];
    if (!has_pad(part, pad)) pad = part.pads.empty() ? std::string() : pad_name(part, 0);
    query.pad = query.tool.kind == analysis::ToolKind::Iron ? pad : std::string();
}

/// A turn on the bench is that of the board as it lies; turned over it lies in some other way.
void AccessDesk::forget_turn_of_other_side(Session& s) {
    const auto at = document::find_part(s.editor.shown(), query.target);
    if (!at) return;
    const Footprint& part = s.editor.shown().parts[*at];
    const bool is_over = up_ && *up_ != part.placement.side;
    up_ = part.placement.side;
    if (!is_over || query.board_turn_deg == 0.0) return;
    query.board_turn_deg = 0.0;
    s.editor.tell(Severity::Note,
                  fmt::format("{} is on the {} side: with the board turned over, how it lay before is "
                              "forgotten. It counts as lying as charted.",
                              part.name.empty() ? "The part" : part.name, document::to_text(part.placement.side)));
}

void AccessDesk::ask_heat(const Session& s) {
    if (std::optional<Floating> floating = floating_job_.take()) floating_ = std::move(floating);
    const HeatPlan* plan = plan_for(s, query.target);
    if (plan == nullptr) {
        heat_plan_.reset();
        floating_.reset();
    } else if (!heat_plan_ || *heat_plan_ != *plan || heat_chart_ != s.editor.snapshot()) {
        heat_plan_ = *plan;
        heat_chart_ = s.editor.snapshot();
        floating_job_.ask({heat_chart_, *plan});
    }
    query.knows_molten = floating_ && floating_->target == query.target;
    query.molten = query.knows_molten ? floating_->parts : std::vector<document::Id>();
}

bool AccessDesk::update(Session& s) {
    follow_selection(s);
    forget_turn_of_other_side(s);
    ask_heat(s);
    const bool came = collect();
    if (asked_ == query && asked_version_ == s.editor.version()) return came;
    const std::uint64_t before = revision_;
    asked_ = query;
    asked_version_ = s.editor.version();
    ask(s);
    return came || revision_ != before;
}

void AccessDesk::ask(const Session& s) {
    ++number_;
    if (!has_target()) {
        job_.drop();
        return show(nullptr, number_);
    }
    const document::Chart& chart = s.editor.shown();
    if (chart.parts.size() <= kPartsAtOnce)
        return show(std::make_shared<const Result<AccessReport>>(analysis::access(chart, query)), number_);
    // Of another part, what was told would mislead; of this one it is but a moment old.
    if (report() == nullptr || report()->target != query.target) show(nullptr, shown_number_);
    job_.ask({s.editor.shown_snapshot(), query, number_});
}

bool AccessDesk::collect() {
    std::optional<Answer> answer = job_.take();
    if (!answer || answer->number <= shown_number_ || answer->target != query.target) return false;
    show(std::move(answer->reached), answer->number);
    return true;
}

void AccessDesk::show(Reached reached, std::uint64_t number) {
    answer_ = std::move(reached);
    shown_number_ = number;
    ++revision_;
    note();
}

/// For the tests of the window.
void AccessDesk::note() const {
    const AccessReport* answer = report();
    if (answer == nullptr) return;
    const analysis::Approach* best = answer->best();
    trace("access", answer->target_name + (best == nullptr ? " no way" : best->sector.works ? " works" : " passes"));
    for (const analysis::AccessNeighbour& near : answer->neighbours)
        if (!near.height_mm && !near.takes.empty()) trace("access-unknown", near.name);
}

void AccessDesk::wait(Session& s) {
    update(s);
    floating_job_.wait();
    update(s);
    job_.wait();
    update(s);
}

const AccessReport* AccessDesk::report() const {
    return answer_ != nullptr && *answer_ ? &**answer_ : nullptr;
}

std::string why_not_to_be_held(const Footprint& part) {
    if (!scene::is_absent(part)) return "";
    return fmt::format("{} is marked as {}: what follows holds for putting one there.",
                       part.name.empty() ? "The part" : part.name, document::to_text(part.condition.presence));
}

std::string why_directions_wait(const Session& s, const Footprint& part) {
    if (part.placement.side == s.seen_from) return "";
    return fmt::format("The directions are seen from the {}: O turns the board to {} side.",
                       document::to_text(part.placement.side),
                       part.name.empty() ? std::string("the part's") : part.name + "'s");
}

bool update_access(Session& s) {
    return s.stage == scene::Stage::Access && s.desks.get<AccessDesk>().update(s);
}

void wait_for_access(Session& s) {
    if (s.stage == scene::Stage::Access) s.desks.get<AccessDesk>().wait(s);
}

namespace {

constexpr double kRound_mm = 4.5;

geometry::Box surroundings(const Session& s) {
    const document::Chart& chart = s.editor.shown();
    const AccessDesk* desk = s.desks.find<AccessDesk>();
    geometry::Box box;
    const auto at = document::find_part(chart, desk != nullptr ? desk->query.target : document::Id{});
    if (at)
        for (const geometry::Vec2 p : document::extent_on_board(chart.parts[*at]))
            box.add(scene::scene_from_board(p, s.seen_from));
    return box.grown(kRound_mm);
}

Camera near_camera(const Session& s) {
    Camera camera = s.camera;
    const double high = camera.viewport().height();
    // Low windows have no legend to keep clear of.
    const double legend = high > 500 * s.ui_scale ? 90 * s.ui_scale : 0.0;
    camera.fit(surroundings(s), std::min(30 * s.ui_scale, high / 20), legend);
    return camera;
}

} // namespace

void look_near(Session& s) {
    if (!surroundings(s).is_empty()) s.camera = near_camera(s);
}

bool is_far_off(const Session& s) {
    return !surroundings(s).is_empty() && s.camera.px_per_mm() < 0.7 * near_camera(s).px_per_mm();
}

void change_access(Session& s, const std::function<void(AccessQuery&)>& change) {
    AccessQuery& query = s.desks.get<AccessDesk>().query;
    change(query);
    analysis::AccessTool& tool = query.tool;
    tool.tip_width_mm = std::clamp(tool.tip_width_mm, 0.01, 50.0);
    tool.tip_thickness_mm = std::clamp(tool.tip_thickness_mm, 0.01, 50.0);
    tool.rise_deg = std::clamp(tool.rise_deg, 5.0, 90.0);
    tool.flare_deg = std::clamp(tool.flare_deg, 0.0, tool.rise_deg - 3.0);
    query.play_mm = std::clamp(query.play_mm, 0.0, 5.0);
    query.slip_mm = std::clamp(query.slip_mm, 0.0, 20.0);
    query.hand_deg = analysis::wrapped_deg(query.hand_deg);
    query.board_turn_deg = analysis::wrapped_deg(query.board_turn_deg);
    if (query.opening_mm) query.opening_mm = std::clamp(*query.opening_mm, 0.0, 50.0);
}

} // namespace padchart::app
