#include "analysis/heat_run.hpp"

#include <algorithm>
#include <cmath>
#include <thread>

namespace padchart::analysis {
namespace {

constexpr double kFineUntil_s = 3.0; // the steep start, and the steep start of cooling
constexpr double kFineStep_s = 0.25;
constexpr double kCalmAfter_s = 12.0; // a board's own time constant is some ten seconds: from here all is smooth
constexpr double kLongestStep_s = 1.0;

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

std::array<CaseRun, 4> run_cases(const HeatSetup& setup) {
    const HeatCase* cases[4] = {&setup.cases.low, &setup.cases.nominal, &setup.cases.high, &setup.cases.high_spread};
    std::array<CaseRun, 4> runs;
    const std::size_t workers = static_cast<std::size_t>(std::clamp(setup.options.threads, 1, 4));
    const auto work = [&](std::size_t first) {
        for (std::size_t k = first; k < 4; k += workers)
            runs[k] = run_case(setup, *cases[k]);
    };
    std::vector<std::jthread> others;
    for (std::size_t w = 1; w < workers; ++w)
        others.emplace_back(work, w);
    work(0);
    others.clear(); // joins
    return runs;
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
