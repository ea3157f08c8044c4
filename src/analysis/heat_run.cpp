#include "analysis/heat_run.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <thread>
#include <utility>

#include "analysis/heat_lane_run.hpp"

namespace padchart::analysis {
namespace {

constexpr double kFineUntil_s = 3.0; // the steep start, and the steep start of cooling
constexpr double kFineStep_s = 0.25;
constexpr double kCalmAfter_s = 12.0; // a board's own time constant is some ten seconds: from here all is smooth
constexpr double kLongestStep_s = 1.0;
// Steps of the runs side by side.
constexpr double kStepsBeforeLonger = 8.0;
constexpr double kMiddleSteps = 14.0;
constexpr double kLeastSteps = 10.0;              // of a dwell
constexpr StepLengths kQuickSteps{0.5, 2.0, 2.0}; // while the hand drags, unchecked
constexpr double kShortestStep_s = 1e-6;

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
    // A puff of air ends while all is still steep.
    const double first_s = std::min(0.5 * options.step_s, setup.plan.dwell_s / kLeastSteps);
    const StepLengths lengths =
        is_quick ? kQuickSteps : StepLengths{first_s, 2.0 * options.step_s, 8.0 * options.step_s};
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
        LaneRun<float, 4> run(setup, {&cases.low, &cases.nominal, &cases.high, &cases.high_spread});
        return run.follow(setup, steps, all) ? std::optional(std::move(runs)) : std::nullopt;
    }
    bool hot_done = false;
    const auto run_hot = [&] {
        LaneRun<double, 2> run(setup, {&cases.high, &cases.high_spread});
        hot_done = run.follow(setup, steps, all.subspan<2, 2>());
    };
    std::jthread beside;
    if (setup.options.threads > 1)
        beside = std::jthread(run_hot);
    else
        run_hot();
    LaneRun<double, 2> run(setup, {&cases.low, &cases.nominal});
    const bool cold_done = run.follow(setup, steps, all.first<2>());
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
