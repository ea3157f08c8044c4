#include "analysis/heat_run.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <thread>
#include <utility>

namespace padchart::analysis {
namespace {

constexpr double kFineUntil_s = 3.0; // the steep start, and the steep start of cooling
constexpr double kFineStep_s = 0.25;
constexpr double kCalmAfter_s = 12.0; // a board's own time constant is some ten seconds: from here all is smooth
constexpr double kLongestStep_s = 1.0;
// Steps of the runs side by side.
constexpr double kStepsBeforeLonger = 8.0;
constexpr double kMiddleSteps = 14.0;
constexpr StepLengths kQuickSteps{0.5, 2.0, 2.0}; // while the hand drags, unchecked
constexpr double kShortestStep_s = 1e-6;

/// Watches one run; its times go on from `offset_s`.
class Recorder {
public:
    Recorder(const HeatSetup& setup, const HeatModel& model, CaseRun& run) : setup_(setup), model_(model), run_(run) {
        run_.joint_mean.resize(setup.joints.size());
        run_.joint_top.resize(setup.joints.size());
        run_.neighbour.resize(setup.neighbours.size());
        run_.neighbour_joint.resize(setup.neighbours.size());
        run_.hottest_at.resize(setup.neighbours.size());
        hottest_.assign(setup.neighbours.size(), -1e300);
        run_.peak.assign(setup.layout.board_nodes(), -1e30F);
        run_.peak_top.assign(setup.layout.board_nodes(), -1e30F);
        run_.snapshots.resize(setup.options.snapshots_s.size());
    }

    void see(double time_s, std::span<const double> celsius) {
        model_.top_excess(celsius, excess_);
        see_fields(time_s, celsius);
        for (std::size_t k = 0; k < setup_.joints.size(); ++k) {
            const double mean = setup_.joints[k].board.mean(celsius);
            run_.joint_mean[k].push_back(mean);
            run_.joint_top[k].push_back(mean + setup_.joints[k].board.mean(excess_));
        }
        if (!setup_.target_body.is_empty()) run_.target_body.push_back(setup_.target_body.mean(celsius));
        for (std::size_t k = 0; k < setup_.neighbours.size(); ++k)
            see_neighbour(k, celsius);
        run_.time_s.push_back(time_s);
        last_.assign(celsius.begin(), celsius.end());
    }

private:
    void see_neighbour(std::size_t k, std::span<const double> celsius) {
        const WatchedNeighbour& watch = setup_.neighbours[k];
        const HotSpot hot = hottest_of(setup_, watch, celsius);
        if (hot.node && hot.celsius > hottest_[k]) {
            hottest_[k] = hot.celsius;
            run_.hottest_at[k] = setup_.layout.place_of(*hot.node);
        }
        run_.neighbour[k].push_back(hot.celsius);
        double coldest = 1e300;
        for (const Probe& joint : watch.joints)
            coldest = std::min(coldest, joint.mean(celsius));
        run_.neighbour_joint[k].push_back(watch.joints.empty() ? setup_.options.room_c : coldest);
    }

    void see_fields(double time_s, std::span<const double> celsius) {
        for (std::size_t n = 0; n < run_.peak.size(); ++n) {
            run_.peak[n] = std::max(run_.peak[n], static_cast<float>(celsius[n]));
            run_.peak_top[n] = std::max(run_.peak_top[n], static_cast<float>(celsius[n] + excess_[n]));
        }
        for (std::size_t k = 0; k < run_.snapshots.size(); ++k) {
            const double wanted = setup_.options.snapshots_s[k];
            if (!run_.snapshots[k].empty() || wanted > time_s + 1e-9) continue;
            const double before = run_.time_s.empty() ? time_s : run_.time_s.back();
            const double share = time_s > before ? std::clamp((wanted - before) / (time_s - before), 0.0, 1.0) : 1.0;
            run_.snapshots[k].resize(run_.peak.size());
            for (std::size_t n = 0; n < run_.peak.size(); ++n)
                run_.snapshots[k][n] =
                    static_cast<float>(last_.empty() ? celsius[n] : (1.0 - share) * last_[n] + share * celsius[n]);
        }
    }

    const HeatSetup& setup_;
    const HeatModel& model_;
    CaseRun& run_;
    std::vector<double> excess_;
    std::vector<double> last_;
    std::vector<double> hottest_;
};

void add(HeatBalance& sum, const HeatBalance& more) {
    sum.from_air_j += more.from_air_j;
    sum.from_below_j += more.from_below_j;
    sum.from_power_j += more.from_power_j;
    sum.radiated_j += more.radiated_j;
    sum.stored_j += more.stored_j;
    sum.largest_step_residual_w = std::max(sum.largest_step_residual_w, more.largest_step_residual_w);
}

} // namespace

std::vector<HeatStretch> stretches_of(double length_s, double step_s) {
    if (length_s <= 0.0) return {};
    const double fine_step = std::min(kFineStep_s, step_s);
    if (length_s <= kFineUntil_s) return {{length_s, fine_step}};
    const double calm_step = std::min(kLongestStep_s, 2.0 * step_s);
    if (length_s <= kCalmAfter_s || calm_step <= step_s) return {{kFineUntil_s, fine_step}, {length_s, step_s}};
    return {{kFineUntil_s, fine_step}, {kCalmAfter_s, step_s}, {length_s, calm_step}};
}

CaseRun run_case(const HeatSetup& setup, const HeatCase& unknowns) {
    CaseRun run;
    HeatModel model(setup.layout, setup.board, unknowns, setup.options.room_c);
    std::vector<double> celsius = start_state(model, setup);
    const JetField jet = jet_field(setup, model);
    run.flow = jet.flow();
    run.stagnation_h = jet.at(0.0).h;
    run.nodes = model.network().size();
    model.set_jet(jet, setup.plan.aim);
    HeatSolver solver(model.network());
    Recorder recorder(setup, model, run);
    const auto heating = stretches_of(setup.plan.dwell_s, setup.options.step_s);
    add(run.balance,
        solver.run(celsius, heating, [&](double time, std::span<const double> t) { recorder.see(time, t); }));
    if (setup.options.cool_s <= 0.0) return run;
    model.set_still_air();
    const auto cooling = stretches_of(setup.options.cool_s, std::min(1.0, 2.0 * setup.options.step_s));
    add(run.balance, solver.run(celsius, cooling, [&](double time, std::span<const double> t) {
        if (time > 0.0) recorder.see(setup.plan.dwell_s + time, t);
    }));
    return run;
}

namespace {

/// Cases of one setup, side by side; nothing when told to stop.
template <class Number, std::size_t Lanes>
bool run_lanes(const HeatSetup& setup, const RunSteps& steps, const std::array<const HeatCase*, Lanes>& unknowns,
               std::span<CaseRun, Lanes> runs) {
    std::vector<HeatModel> models;
    for (const HeatCase* of_case : unknowns)
        models.emplace_back(setup.layout, setup.board, *of_case, setup.options.room_c);
    std::array<const HeatNetwork*, Lanes> networks{};
    for (std::size_t k = 0; k < Lanes; ++k) {
        models[k].set_below(setup.plan.preheat_c);
        models[k].set_still_air();
        networks[k] = &models[k].network();
    }
    LaneSolver<Number, Lanes> solver(networks);
    std::array<std::vector<double>, Lanes> celsius;
    if (setup.plan.preheat_c)
        celsius = solver.steady();
    else
        celsius.fill(std::vector<double>(networks[0]->size(), setup.options.room_c));

    std::vector<Recorder> recorders;
    for (std::size_t k = 0; k < Lanes; ++k) {
        const JetField jet = jet_field(setup, models[k]);
        runs[k].flow = jet.flow();
        runs[k].stagnation_h = jet.at(0.0).h;
        runs[k].nodes = networks[k]->size();
        models[k].set_jet(jet, setup.plan.aim);
        recorders.emplace_back(setup, models[k], runs[k]);
    }
    const auto follow = [&](const std::vector<HeatStretch>& stretches, double offset_s) {
        const auto see = [&](double time, const std::array<std::vector<double>, Lanes>& now) {
            if (time == 0.0 && offset_s > 0.0) return; // seen as the end of what went before
            for (std::size_t k = 0; k < Lanes; ++k)
                recorders[k].see(offset_s + time, now[k]);
        };
        const LaneBalance<Lanes> balance = solver.run(celsius, stretches, steps.control, see, setup.options.stop);
        for (std::size_t k = 0; k < Lanes; ++k) {
            add(runs[k].balance, balance.cases[k]);
            runs[k].largest_step_error_k = std::max(runs[k].largest_step_error_k, balance.largest_step_error_k);
            runs[k].cut_steps += balance.cut_steps;
        }
        return balance.is_finished;
    };
    if (!follow(steps.heating, 0.0)) return false;
    if (steps.cooling.empty()) return true;
    for (HeatModel& model : models)
        model.set_still_air();
    return follow(steps.cooling, setup.plan.dwell_s);
}

} // namespace

std::vector<HeatStretch> growing_stretches(double length_s, const StepLengths& lengths) {
    std::vector<HeatStretch> stretches;
    double now = 0.0;
    const auto fill = [&](double until_s, double step_s) {
        const double steps = std::floor((std::min(until_s, length_s) - now) / step_s + 1e-9);
        if (steps < 1.0) return;
        now += steps * step_s;
        stretches.push_back({now, step_s});
    };
    const double middle_from_s = kStepsBeforeLonger * lengths.first_s;
    fill(middle_from_s, lengths.first_s);
    fill(middle_from_s + kMiddleSteps * lengths.middle_s, lengths.middle_s);
    for (const double step : {lengths.last_s, lengths.middle_s, lengths.first_s})
        fill(length_s, step);
    if (length_s - now > kShortestStep_s)
        stretches.push_back({length_s, length_s - now});
    else if (!stretches.empty())
        stretches.back().until_s = length_s;
    return stretches;
}

RunSteps steps_of(const HeatSetup& setup) {
    const HeatOptions& options = setup.options;
    const bool is_quick = options.resolution == Resolution::Live;
    RunSteps steps;
    // What the hand sees moving may err by a degree: the coarse grid errs by more.
    steps.control.most_cuts = is_quick ? 0 : 3;
    steps.control.seen_every_s = is_quick ? 0.0 : 2.0 * options.step_s;
    const StepLengths lengths =
        is_quick ? kQuickSteps : StepLengths{0.5 * options.step_s, 2.0 * options.step_s, 8.0 * options.step_s};
    steps.heating = growing_stretches(setup.plan.dwell_s, lengths);
    steps.cooling = growing_stretches(options.cool_s, lengths);
    return steps;
}

std::optional<std::array<CaseRun, 4>> run_cases(const HeatSetup& setup) {
    const HeatCases& cases = setup.cases;
    const RunSteps steps = steps_of(setup);
    std::array<CaseRun, 4> runs;
    const std::span all(runs);
    if (setup.options.resolution == Resolution::Live) {
        const bool done =
            run_lanes<float, 4>(setup, steps, {&cases.low, &cases.nominal, &cases.high, &cases.high_spread}, all);
        return done ? std::optional(std::move(runs)) : std::nullopt;
    }
    bool hot_done = false;
    const auto run_hot = [&] {
        hot_done = run_lanes<double, 2>(setup, steps, {&cases.high, &cases.high_spread}, all.subspan<2, 2>());
    };
    std::jthread beside;
    if (setup.options.threads > 1)
        beside = std::jthread(run_hot);
    else
        run_hot();
    const bool cold_done = run_lanes<double, 2>(setup, steps, {&cases.low, &cases.nominal}, all.first<2>());
    if (beside.joinable()) beside.join();
    return hot_done && cold_done ? std::optional(std::move(runs)) : std::nullopt;
}

std::optional<double> first_time_at(const Trace& time_s, const Trace& value, double level) {
    for (std::size_t k = 0; k < value.size(); ++k) {
        if (value[k] < level) continue;
        if (k == 0) return time_s[0];
        return time_s[k - 1] + (level - value[k - 1]) / (value[k] - value[k - 1]) * (time_s[k] - time_s[k - 1]);
    }
    return std::nullopt;
}

double time_at_or_above(const Trace& time_s, const Trace& value, double level) {
    double sum = 0.0;
    for (std::size_t k = 1; k < value.size(); ++k) {
        const double a = value[k - 1] - level;
        const double b = value[k] - level;
        const double length = time_s[k] - time_s[k - 1];
        if (a >= 0.0 && b >= 0.0)
            sum += length;
        else if (a < 0.0 && b < 0.0)
            continue;
        else
            sum += length * std::max(a, b) / (std::abs(a) + std::abs(b));
    }
    return sum;
}

double steepest_rise(const Trace& time_s, const Trace& value) {
    double steepest = 0.0;
    std::size_t from = 0;
    for (std::size_t k = 1; k < value.size(); ++k) {
        while (from + 1 < k && time_s[k] - time_s[from + 1] >= 1.0 - 1e-9)
            ++from;
        const double length = std::max(time_s[k] - time_s[from], 1.0);
        steepest = std::max(steepest, (value[k] - value[from]) / length);
    }
    return steepest;
}

} // namespace padchart::analysis
