#include "analysis/heat_lanes.hpp"

#include <algorithm>
#include <cmath>
#include <type_traits>
#include <utility>

#include "analysis/heat_lane_step.hpp"

namespace padchart::analysis {
namespace {

constexpr double kSteady_k = 1e-5;
constexpr double kQuickSteady_k = 0.01; // short numbers end near here
constexpr int kSteadyRounds = 30;
constexpr int kCutInto = 4; // halved twice: every new length costs a factorisation
constexpr double kSameTime_s = 1e-6;

} // namespace

template <class Number, std::size_t Lanes>
struct LaneSolver<Number, Lanes>::State : LaneStep<Number, Lanes> {
    using LaneStep<Number, Lanes>::LaneStep;
};

template <class Number, std::size_t Lanes>
LaneSolver<Number, Lanes>::LaneSolver(const std::array<const HeatNetwork*, Lanes>& networks)
    : state_(std::make_unique<State>(networks)) {}
template <class Number, std::size_t Lanes>
LaneSolver<Number, Lanes>::LaneSolver(LaneSolver&&) noexcept = default;
template <class Number, std::size_t Lanes>
LaneSolver<Number, Lanes>& LaneSolver<Number, Lanes>::operator=(LaneSolver&&) noexcept = default;
template <class Number, std::size_t Lanes>
LaneSolver<Number, Lanes>::~LaneSolver() = default;

namespace {

/// Steps worth a look: while nothing is switched the error of equal steps only falls.
bool is_looked_at(int step) {
    return (step & (step - 1)) == 0; // 0, 1, 2, 4, 8 ...
}

} // namespace

template <class Number, std::size_t Lanes>
LaneBalance<Lanes> LaneSolver<Number, Lanes>::run(std::array<std::vector<double>, Lanes>& celsius,
                                                  std::span<const HeatStretch> stretches, const StepControl& control,
                                                  const LaneObserver<Lanes>& observer, const std::stop_token& stop) {
    State& s = *state_;
    s.load();
    typename State::Point point;
    for (auto* array : {&point.celsius, &point.applied, &point.before})
        array->resize(s.net.size());
    typename State::Array applied_next;
    applied_next.resize(s.net.size());
    s.net.read(celsius, point.celsius);
    point.before = point.celsius;
    s.net.apply(point.celsius, point.applied);
    typename State::Flows flow = s.net.flows(point.celsius);
    LaneBalance<Lanes> balance;
    observer(0.0, celsius);

    double now = 0.0;
    double next_seen_s = 0.0;
    /// One step, or the quarters of it where it errs too much.
    const auto advance = [&](const auto& self, double step_s, int cuts, bool is_checked) -> void {
        s.step(point, step_s, applied_next);
        if (is_checked && control.most_cuts > 0) {
            const double error = s.error_of(point, step_s);
            if (error > control.most_error_k && cuts < control.most_cuts) {
                for (int part = 0; part < kCutInto; ++part)
                    self(self, step_s / kCutInto, cuts + 1, true);
                return;
            }
            balance.largest_step_error_k = std::max(balance.largest_step_error_k, error);
        }
        balance.cut_steps += cuts > 0 ? 1 : 0;
        const typename State::Flows at_end = s.net.flows(s.next);
        s.add_step(point, flow, at_end, step_s, balance);
        flow = at_end;
        for (; control.seen_every_s > 0.0 && next_seen_s < now + step_s - kSameTime_s;
             next_seen_s += control.seen_every_s) {
            s.write_between(point, step_s, (next_seen_s - now) / step_s, celsius);
            observer(next_seen_s, celsius);
        }
        std::swap(point.before, point.celsius);
        std::swap(point.celsius, s.next);
        std::swap(point.applied, applied_next);
        point.last_step_s = step_s;
        now += step_s;
    };

    for (const HeatStretch& stretch : stretches) {
        const double start = now;
        const EqualSteps steps = equal_steps(stretch.until_s - start, stretch.step_s);
        for (int step = 0; step < steps.count; ++step) {
            if (stop.stop_requested()) {
                balance.is_finished = false;
                return balance;
            }
            next_seen_s = now + control.seen_every_s;
            advance(advance, steps.step_s, 0, is_looked_at(step));
            now = start + (step + 1) * steps.step_s;
            s.net.write(point.celsius, celsius);
            observer(now, celsius);
        }
    }
    return balance;
}

template <class Number, std::size_t Lanes>
std::array<std::vector<double>, Lanes> LaneSolver<Number, Lanes>::steady() {
    using Lot = typename State::Lot;
    auto& net = state_->net;
    net.load();
    typename State::Array x, side;
    typename State::Factor factor;
    x.resize(net.size());
    side.resize(net.size());
    std::fill(x.numbers.begin(), x.numbers.end(), static_cast<Number>(kLaneRadiationPoint_c));
    const Lot zero_c = Lot::all(static_cast<Number>(kCelsiusZero));
    const double tolerance = std::is_same_v<Number, float> ? kQuickSteady_k : kSteady_k;
    // The fourth-power law is convex, so that no damping is needed.
    for (int round = 0; round < kSteadyRounds; ++round) {
        for (std::size_t k = 0; k < net.size(); ++k) {
            const Lot t = Lot::load(x.at(k)) + zero_c;
            (Lot::all(Number{4}) * Lot::load(net.radiance.at(k)) * t * t * t).store(net.linear_radiation.at(k));
        }
        net.factorise(0.0, factor);
        for (std::size_t k = 0; k < net.size(); ++k)
            net.side_at(k, Lot::load(x.at(k))).store(side.at(k));
        net.matrix.solve_in_place(factor, side);
        double moved = 0.0;
        for (std::size_t k = 0; k < x.numbers.size(); ++k)
            moved = std::max(moved, static_cast<double>(std::abs(side.numbers[k] - x.numbers[k])));
        std::swap(x, side);
        if (moved < tolerance) break;
    }
    std::array<std::vector<double>, Lanes> celsius;
    for (std::vector<double>& of_case : celsius)
        of_case.resize(net.size());
    net.write(x, celsius);
    return celsius;
}

template class LaneSolver<float, 4>;
template class LaneSolver<double, 2>;

} // namespace padchart::analysis
