#include "analysis/sweep.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <tuple>
#include <unordered_map>
#include <unordered_set>

#include "analysis/check.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using document::HeatPlan;
using document::Id;
using geometry::Affine;
using geometry::Box;
using geometry::Vec2;

Box box_of(const Footprint& part, const Affine& map) {
    const geometry::Ring extent = document::extent_on_board(part);
    Box box;
    for (const Vec2 point : extent.empty() ? geometry::Ring{part.placement.at} : extent)
        box.add(map(point));
    return box;
}

double distance_to(const Box& box, Vec2 point) {
    return geometry::distance(point,
                              {std::clamp(point.x, box.min.x, box.max.x), std::clamp(point.y, box.min.y, box.max.y)});
}

/// Where the heat was, in the frame of the chart that holds the plans.
class Heat {
public:
    explicit Heat(const document::Items<HeatPlan>& plans) : plans_(plans) {}

    [[nodiscard]] bool is_there() const { return !plans_.empty(); }
    [[nodiscard]] bool is_target(const Id& id) const {
        return !id.is_empty() &&
               std::any_of(plans_.begin(), plans_.end(), [&](const HeatPlan& plan) { return plan.target == id; });
    }

    void judge(SweepStep& step, const Box& box, document::Side side) const {
        step.from_heat_mm = std::numeric_limits<double>::infinity();
        for (const HeatPlan& plan : plans_) {
            const double away_mm = distance_to(box, plan.aim);
            step.from_heat_mm = std::min(step.from_heat_mm, away_mm);
            if (away_mm > heat_area_radius(plan)) continue;
            const SweepZone zone = side == plan.side ? SweepZone::Neighbour : SweepZone::NeighbourThrough;
            step.zone = std::min(step.zone, zone);
        }
    }

private:
    const document::Items<HeatPlan>& plans_;
};

/// Of the board, not of what is known about it.
bool is_of_the_board(const Change& change) {
    switch (change.kind) {
    case ChangeKind::Missing:
    case ChangeKind::Added:
    case ChangeKind::Moved:
    case ChangeKind::Turned:
    case ChangeKind::Side:
    case ChangeKind::State:
    case ChangeKind::PadState: return !change.harmless;
    default: return false;
    }
}

void add_change(SweepStep& step, std::size_t at, const CompareReport& report) {
    step.changes.push_back(at);
    step.differs_on_charts = step.differs_on_charts || is_of_the_board(report.changes[at]);
}

void add_changes(const CompareReport& report, std::vector<SweepStep>& steps) {
    std::unordered_map<Id, std::size_t> by_before;
    std::unordered_map<Id, std::size_t> by_after;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        if (!steps[i].before_id.is_empty()) by_before.emplace(steps[i].before_id, i);
        if (!steps[i].after_id.is_empty()) by_after.emplace(steps[i].after_id, i);
    }
    for (std::size_t i = 0; i < report.changes.size(); ++i) {
        const Change& change = report.changes[i];
        if (const auto found = by_before.find(change.before_id); found != by_before.end())
            add_change(steps[found->second], i, report);
        else if (const auto other = by_after.find(change.after_id); other != by_after.end())
            add_change(steps[other->second], i, report);
    }
}

std::vector<SweepStep> all_parts(const Chart& before, const Chart& after, const CompareReport& report) {
    std::unordered_map<Id, Id> partner;
    std::unordered_set<Id> known;
    for (const MatchedPart& pair : report.matched) {
        partner.emplace(pair.before_id, pair.after_id);
        known.insert(pair.after_id);
    }
    std::vector<SweepStep> steps;
    for (const Footprint& part : before.parts) {
        const auto found = partner.find(part.id);
        steps.push_back({part.id, found == partner.end() ? Id{} : found->second, part.name, SweepZone::Rest, 0.0, {}});
    }
    for (const Footprint& part : after.parts) {
        if (known.count(part.id) != 0) continue;
        steps.push_back({{}, part.id, part.name, SweepZone::Rest, 0.0, {}});
    }
    return steps;
}

/// In the frame of the chart that holds the plans.
struct Seen {
    Box box;
    document::Side side = document::Side::Top;
};

class Places {
public:
    Places(const Chart& before, const Chart& after, const CompareReport& report, bool in_after)
        : before_(before), after_(after), in_after_(in_after), swapped_(report.registration.sides_swapped),
          before_from_after_(report.registration.before_from_after) {
        for (std::size_t i = 0; i < before.parts.size(); ++i)
            before_at_.emplace(before.parts[i].id, i);
        for (std::size_t i = 0; i < after.parts.size(); ++i)
            after_at_.emplace(after.parts[i].id, i);
    }

    [[nodiscard]] Seen of(const SweepStep& step) const {
        const bool from_after = !step.after_id.is_empty();
        const Footprint& part =
            from_after ? after_.parts[after_at_.at(step.after_id)] : before_.parts[before_at_.at(step.before_id)];
        Seen seen{{}, part.placement.side};
        Affine map;
        if (from_after && !in_after_) map = before_from_after_;
        if (!from_after && in_after_) map = before_from_after_.inverse();
        if (from_after != in_after_ && swapped_) seen.side = other(seen.side);
        seen.box = box_of(part, map);
        return seen;
    }

private:
    static document::Side other(document::Side side) {
        return side == document::Side::Top ? document::Side::Bottom : document::Side::Top;
    }

    const Chart& before_;
    const Chart& after_;
    bool in_after_;
    bool swapped_;
    Affine before_from_after_;
    std::unordered_map<Id, std::size_t> before_at_, after_at_;
};

} // namespace

std::vector<SweepStep> sweep_of(const Chart& before, const Chart& after, const CompareReport& report) {
    std::vector<SweepStep> steps = all_parts(before, after, report);
    add_changes(report, steps);
    const bool in_after = !after.heat_plans.empty();
    const Heat heat(in_after ? after.heat_plans : before.heat_plans);
    if (!heat.is_there()) return steps;
    const Places places(before, after, report, in_after);
    for (SweepStep& step : steps) {
        const Seen seen = places.of(step);
        heat.judge(step, seen.box, seen.side);
        if (heat.is_target(in_after ? step.after_id : step.before_id)) step.zone = SweepZone::Target;
    }
    std::stable_sort(steps.begin(), steps.end(), [](const SweepStep& a, const SweepStep& b) {
        return std::tie(a.zone, a.from_heat_mm) < std::tie(b.zone, b.from_heat_mm);
    });
    return steps;
}

const document::Tick* sweep_tick(const Chart& chart, const Id& subject) {
    for (const document::Tick& tick : chart.ticks)
        if (tick.task == kSameAsBefore && tick.target == subject) return &tick;
    return nullptr;
}

SweepProgress sweep_progress(const Chart& after, const std::vector<SweepStep>& steps) {
    std::unordered_map<Id, bool> seen;
    for (const document::Tick& tick : after.ticks)
        if (tick.task == kSameAsBefore) seen.emplace(tick.target, tick.done);
    SweepProgress progress;
    progress.parts = steps.size();
    for (const SweepStep& step : steps) {
        const auto found = seen.find(step.subject());
        const bool is_seen = found != seen.end(), is_said_to_differ = is_seen && !found->second;
        if (is_seen) ++progress.compared;
        if (is_said_to_differ)
            ++progress.differ;
        else if (step.differs_on_charts)
            ++progress.differ_on_charts;
    }
    return progress;
}

std::string in_words(const SweepProgress& progress) {
    const std::string by_charts =
        progress.differ_on_charts == 0 ? "" : fmt::format(", {} more by the charts", progress.differ_on_charts);
    return fmt::format("{} of {} compared; {} differ{}{}; {} not checked again", progress.compared, progress.parts,
                       progress.differ, progress.differ == 1 ? "s" : "", by_charts, progress.not_checked());
}

} // namespace padchart::analysis
