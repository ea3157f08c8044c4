#include "analysis/heat_advice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

#include <fmt/format.h>

#include "analysis/heat_advice_parts.hpp"
#include "analysis/heat_run.hpp"
#include "analysis/heat_sweep.hpp"
#include "geometry/overlay.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::HeatPlan;
using geometry::Vec2;

constexpr double kHold_s = 3.0; // liquid for this long before the part is lifted, common practice
constexpr double kShortestDwell_s = 10.0;
constexpr double kSetPoints_c[2] = {320.0, 400.0}; // temperatures are nearly linear between and beyond these
constexpr double kSetPointStep_c = 10.0;
constexpr double kColdestSetPoint_c = 260.0;
constexpr std::size_t kVerified = 8;

/// A plan with the shields it invents.
struct Candidate {
    HeatPlan plan;
    std::vector<document::Shield> new_shields;
    double screened_k = -std::numeric_limits<double>::infinity();
};

Trace coldest_trace(const CaseRun& run) {
    Trace coldest = run.joint_mean.front();
    for (const Trace& joint : run.joint_mean)
        for (std::size_t k = 0; k < coldest.size(); ++k)
            coldest[k] = std::min(coldest[k], joint[k]);
    return coldest;
}

/// The dwell a setting needs until the joints have been liquid for a while in the cold case; the longest allowed where
/// that never happens.
Result<double> needed_dwell(const Chart& chart, const Candidate& candidate, const HeatOptions& asked,
                            double longest_s) {
    HeatOptions heat = asked;
    heat.cool_s = 0.0;
    heat.snapshots_s.clear();
    HeatPlan plan = candidate.plan;
    plan.dwell_s = longest_s;
    const Result<HeatSetup> setup = heat_setup(chart, plan, heat);
    if (!setup) return setup.error();
    const auto runs = run_cases(*setup);
    if (!runs) return Error{"The search was stopped.", "stop"};
    const Trace nominal = coldest_trace((*runs)[1]);
    Trace cold = coldest_trace((*runs)[0]);
    for (std::size_t i = 0; i < cold.size(); ++i) {
        cold[i] = std::min(cold[i], nominal[i]);
        if (setup->options.calibration) // what was measured narrows the band
            cold[i] = std::max(cold[i], nominal[i] - setup->options.calibration->joint_band);
    }
    const auto melted = first_time_at((*runs)[0].time_s, cold, setup->mixture.liquidus_c);
    return melted ? std::clamp(std::ceil(*melted + kHold_s), kShortestDwell_s, longest_s) : longest_s;
}

/// The plan with the dwell it needs, and what heat() says of exactly that plan: no number is promised that the same
/// plan does not give when it is run.
Result<AdvisedPlan> verified(const Chart& chart, const Candidate& candidate, const AdviceOptions& options,
                             Resolution resolution) {
    HeatOptions heat_options = options.heat;
    heat_options.resolution = resolution;
    heat_options.snapshots_s.clear();
    heat_options.stop = options.stop;
    const Chart shielded = with_shields(chart, candidate.new_shields);
    const Result<double> dwell = needed_dwell(shielded, candidate, heat_options, options.longest_dwell_s);
    if (!dwell) return dwell.error();
    AdvisedPlan advised;
    advised.plan = candidate.plan;
    advised.plan.dwell_s = *dwell;
    advised.new_shields = candidate.new_shields;
    const Result<HeatReport> report = heat(shielded, advised.plan, heat_options);
    if (!report) return report.error();
    advised.joint_c = report->target.peak_mean_c;
    advised.melt_margin_k = advised.joint_c.low - report->target.liquidus_c;
    advised.time_to_liquidus_s = report->target.time_to_liquidus_s;
    for (const NeighbourReport& near : report->neighbours) { // least margin first
        if (!near.limit_c) continue;
        if (!near.delicate)
            advised.sturdy_over += near.margin_k.low <= 0.0 ? 1 : 0;
        else if (advised.worst_neighbour.empty()) {
            advised.worst_neighbour = near.name;
            advised.spare_margin_k = near.margin_k.low;
        }
    }
    if (advised.worst_neighbour.empty()) advised.spare_margin_k = std::numeric_limits<double>::infinity();
    return advised;
}

/// Delicate neighbours on the air's side that would pass their limit in the hot case, not under a shield yet.
std::vector<document::Shield> useful_shields(const Chart& chart, const HeatSetup& setup, const AimResult& high,
                                             const AimResult& spread) {
    std::vector<document::Shield> shields;
    for (std::size_t k = 0; k < setup.neighbours.size(); ++k) {
        const WatchedNeighbour& watch = setup.neighbours[k];
        if (!is_delicate(watch) || !is_in_the_open(watch)) continue;
        if (static_cast<double>(std::max(high.neighbour_c[k], spread.neighbour_c[k])) < watch.limits->limit_c) continue;
        shields.push_back(shield_over(chart, watch, shields.size()));
    }
    return shields;
}

std::vector<Vec2> aims_round(const HeatSetup& setup, double farthest_mm) {
    std::vector<Vec2> aims{setup.plan.aim};
    for (const double share : {1.0 / 6.0, 1.0 / 3.0, 0.5, 2.0 / 3.0, 1.0})
        for (int k = 0; k < 8; ++k) {
            const Vec2 aim = setup.plan.aim + geometry::direction(Angle::degrees(45.0 * k)) * (share * farthest_mm);
            if (geometry::contains(setup.layout.board, aim)) aims.push_back(aim);
        }
    return aims;
}

/// Steady screening of one setting over aims and set points. Temperatures are linear in the set point but for
/// radiation, so two sweeps serve for all of them.
void screen(const Chart& chart, const Candidate& setting, const AdviceOptions& options, Advice& advice,
            std::vector<Candidate>& found) {
    std::array<std::vector<std::array<AimResult, 4>>, 2> results;
    std::vector<Vec2> aims;
    std::optional<HeatSetup> kept;
    for (std::size_t s = 0; s < 2; ++s) {
        HeatPlan plan = setting.plan;
        plan.set_point_c = kSetPoints_c[s];
        Result<HeatSetup> setup = heat_setup(with_shields(chart, setting.new_shields), plan, options.heat);
        if (!setup) return;
        aims = aims_round(*setup, options.farthest_aim_mm);
        AimSweep sweep(*setup, std::nullopt);
        results[s] = sweep.run(aims, options.stop);
        if (options.stop.stop_requested()) return;
        kept = std::move(*setup);
    }
    ++advice.settings_tried;
    advice.aims_tried += 2 * aims.size();
    std::optional<Candidate> best;
    for (std::size_t a = 0; a < aims.size(); ++a)
        for (double set = kColdestSetPoint_c; set <= options.hottest_set_point_c + 1e-9; set += kSetPointStep_c) {
            const double share = (set - kSetPoints_c[0]) / (kSetPoints_c[1] - kSetPoints_c[0]);
            const auto mixed = [&](float first, float second) {
                return static_cast<double>(first) + share * static_cast<double>(second - first);
            };
            const auto& x = results[0][a];
            const auto& y = results[1][a];
            const double melt = mixed(x[0].joint_c, y[0].joint_c) - kept->mixture.liquidus_c;
            const WorstNeighbour worst = worst_of(*kept, [&](std::size_t k) {
                return std::max(mixed(x[2].neighbour_c[k], y[2].neighbour_c[k]),
                                mixed(x[3].neighbour_c[k], y[3].neighbour_c[k]));
            });
            const double score = std::min(melt, worst.margin_k);
            if (best && score <= best->screened_k) continue;
            best = setting;
            best->plan.aim = aims[a];
            best->plan.set_point_c = set;
            best->screened_k = score;
        }
    if (best) found.push_back(std::move(*best));
}

struct Nozzle {
    double bore_mm, flow_l_per_min, stand_off_mm;
};

/// The plan's own, and what a bench usually has at hand.
std::vector<Nozzle> nozzles(const HeatPlan& plan, const AdviceOptions& options) {
    std::vector<Nozzle> all{{plan.nozzle_bore_mm, plan.flow_l_per_min, plan.stand_off_mm}};
    if (!options.may_change_nozzle) return all;
    for (const Nozzle& other : {Nozzle{3.0, 15.0, 6.0}, Nozzle{5.0, 30.0, 10.0}, Nozzle{8.0, 60.0, 16.0}}) {
        const bool is_own = std::abs(other.bore_mm - plan.nozzle_bore_mm) < 0.5 &&
                            std::abs(other.flow_l_per_min - plan.flow_l_per_min) < 3.0;
        if (!is_own) all.push_back(other);
    }
    return all;
}

std::vector<std::optional<double>> preheats(const HeatPlan& plan, const AdviceOptions& options) {
    std::vector<std::optional<double>> all{plan.preheat_c};
    if (!options.may_preheat) return all;
    for (const double celsius : {100.0, 150.0})
        if (!plan.preheat_c || std::abs(*plan.preheat_c - celsius) > 10.0) all.emplace_back(celsius);
    return all;
}

std::vector<Candidate> settings(const Chart& chart, const HeatPlan& plan, const AdviceOptions& options) {
    std::vector<std::vector<document::Shield>> shield_sets{{}};
    if (options.may_shield) {
        const Result<HeatSetup> setup = heat_setup(chart, plan, options.heat);
        if (setup) {
            AimSweep sweep(*setup, std::nullopt);
            const auto here = sweep.run({&plan.aim, 1}, options.stop);
            if (auto shields = useful_shields(chart, *setup, here[0][2], here[0][3]); !shields.empty())
                shield_sets.push_back(std::move(shields));
        }
    }
    std::vector<Candidate> all;
    for (const auto& shields : shield_sets)
        for (const auto& preheat : preheats(plan, options))
            for (const Nozzle& nozzle : nozzles(plan, options)) {
                Candidate candidate{plan, shields};
                candidate.plan.preheat_c = preheat;
                candidate.plan.nozzle_bore_mm = nozzle.bore_mm;
                candidate.plan.flow_l_per_min = nozzle.flow_l_per_min;
                candidate.plan.stand_off_mm = nozzle.stand_off_mm;
                for (const document::Shield& shield : shields)
                    candidate.plan.shields.push_back(shield.id);
                all.push_back(std::move(candidate));
            }
    return all;
}

} // namespace

Result<Advice> heat_advice(const Chart& chart, const HeatPlan& plan, const AdviceOptions& options) {
    const Resolution shown = std::max(options.heat.resolution, Resolution::Working);
    Advice advice;
    Result<AdvisedPlan> current = verified(chart, {plan, {}}, options, shown);
    if (!current) return current.error();
    advice.current = std::move(*current);
    std::vector<Candidate> screened;
    for (const Candidate& setting : settings(chart, plan, options)) {
        if (options.stop.stop_requested()) break;
        screen(chart, setting, options, advice, screened);
    }
    const auto best_first = [](const auto& list, const auto& score) {
        std::vector<std::size_t> order(list.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return score(list[a]) > score(list[b]); });
        return order;
    };
    // From many roughly to a few exactly: steady bounds, coarse runs, and at last the runs that will be shown.
    std::vector<Candidate> tried;
    std::vector<AdvisedPlan> coarse;
    for (const std::size_t k : best_first(screened, [](const Candidate& c) { return c.screened_k; })) {
        if (options.stop.stop_requested() || tried.size() == kVerified) break;
        Result<AdvisedPlan> one = verified(chart, screened[k], options, options.heat.resolution);
        if (!one) continue;
        tried.push_back(screened[k]);
        coarse.push_back(std::move(*one));
    }
    const auto margin = [](const AdvisedPlan& p) { return p.margin_k(); };
    std::vector<AdvisedPlan> exact{advice.current};
    for (const std::size_t k : best_first(coarse, margin)) {
        if (options.stop.stop_requested() || exact.size() > options.most_plans) break;
        Result<AdvisedPlan> one = verified(chart, tried[k], options, shown);
        if (one) exact.push_back(std::move(*one));
    }
    const std::vector<std::size_t> ranked = best_first(exact, margin);
    for (const std::size_t k : ranked)
        if (exact[k].works() && advice.plans.size() < options.most_plans) advice.plans.push_back(exact[k]);
    advice.exists = !advice.plans.empty();
    if (!advice.exists) advice.nearest_miss = exact[ranked.front()];
    advice.is_finished = !options.stop.stop_requested();
    if (auto single = what_ifs(chart, plan, options.heat)) {
        advice.what_ifs = std::move(*single);
        constexpr std::size_t kShown = 3;
        if (advice.what_ifs.size() > kShown) advice.what_ifs.resize(kShown);
    }
    put_into_words(plan, advice);
    return advice;
}

} // namespace padchart::analysis
