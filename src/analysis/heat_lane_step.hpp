#pragma once
// One TR-BDF2 step of networks side by side, its error, what it moved, and what lies within it. Inside of LaneSolver.

#include <map>
#include <numbers>

#include "analysis/heat_lane_network.hpp"
#include "analysis/heat_lanes.hpp"

namespace padchart::analysis {

template <class Number, std::size_t Lanes>
struct LaneStep {
    using Network = LaneNetwork<Number, Lanes>;
    using Lot = typename Network::Lot;
    using Array = typename Network::Array;
    using Factor = typename Network::Factor;
    using Flows = typename Network::Flows;

    /// What is known of the start of a step.
    struct Point {
        Array celsius, applied; ///< state, and conduction with losses and linear radiation applied to it
        Array before;           ///< state a step ago
        double last_step_s = 0.0;
    };

    Network net;
    Array next; ///< the step's end

    explicit LaneStep(const std::array<const HeatNetwork*, Lanes>& networks) : net(networks) {
        for (Array* array : {&stage, &next, &estimate, &flow_start})
            array->resize(net.size());
    }

    void load() {
        factors.clear();
        net.load();
    }

    /// From `from` over `step_s` into stage, next and `applied_next`; leaves the net flow of the start in flow_start.
    void step(const Point& from, double step_s, Array& applied_next) {
        const Factor& factor = factor_for(step_s);
        const Lot rate = Lot::all(static_cast<Number>(1.0 / (kStage * step_s)));
        const Lot ahead =
            Lot::all(from.last_step_s > 0.0 ? static_cast<Number>(kGamma * step_s / from.last_step_s) : Number{});
        for (std::size_t k = 0; k < net.size(); ++k) {
            const Lot t = Lot::load(from.celsius.at(k));
            const Lot guess = t + ahead * (t - Lot::load(from.before.at(k)));
            const Lot flow = net.side_at(k, t) - Lot::load(from.applied.at(k));
            flow.store(flow_start.at(k));
            (rate * Lot::load(net.capacity.at(k)) * t + flow + net.side_at(k, guess)).store(stage.at(k));
        }
        net.matrix.solve_in_place(factor, stage);
        const Lot to_end = Lot::all(static_cast<Number>(1.0 / kGamma));
        const Lot c1 = Lot::all(static_cast<Number>(kFromStage));
        const Lot c0 = Lot::all(static_cast<Number>(kFromStart));
        for (std::size_t k = 0; k < net.size(); ++k) {
            const Lot t = Lot::load(from.celsius.at(k));
            const Lot y = Lot::load(stage.at(k));
            const Lot guess = t + to_end * (y - t);
            const Lot right = rate * Lot::load(net.capacity.at(k)) * (c1 * y - c0 * t) + net.side_at(k, guess);
            right.store(next.at(k));
            right.store(applied_next.at(k));
        }
        net.matrix.solve_in_place(factor, next);
        for (std::size_t k = 0; k < net.size(); ++k) {
            const Lot held = rate * Lot::load(net.capacity.at(k)) * Lot::load(next.at(k));
            (Lot::load(applied_next.at(k)) - held).store(applied_next.at(k));
        }
    }

    /// Largest local error of the step just taken, K.
    [[nodiscard]] double error_of(const Point& from, double step_s) {
        const Factor& factor = factor_for(step_s);
        const Lot rate = Lot::all(static_cast<Number>(1.0 / (kStage * step_s)));
        const auto all = [](double value) { return Lot::all(static_cast<Number>(value)); };
        const double over = 1.0 / kStage; // step over the stage's own length
        for (std::size_t k = 0; k < net.size(); ++k) {
            const Lot inertia = rate * Lot::load(net.capacity.at(k));
            const Lot t = Lot::load(from.celsius.at(k));
            const Lot y = Lot::load(stage.at(k));
            const Lot at_start = Lot::load(flow_start.at(k));
            const Lot at_stage = inertia * (y - t) - at_start;
            const Lot at_end = inertia * (Lot::load(next.at(k)) - all(kFromStage) * y + all(kFromStart) * t);
            (all(over * kErrorStart) * at_start + all(over * kErrorStage) * at_stage + all(over * kErrorEnd) * at_end)
                .store(estimate.at(k));
        }
        // Through the factor: what dies out at once within the step is no error of it.
        net.matrix.solve_in_place(factor, estimate);
        Lot largest = all(0.0);
        for (std::size_t k = 0; k < net.size(); ++k) {
            const Lot e = Lot::load(estimate.at(k));
            largest = larger(largest, larger(e, all(0.0) - e));
        }
        Number lanes[Lanes];
        largest.store(lanes);
        return static_cast<double>(*std::max_element(std::begin(lanes), std::end(lanes)));
    }

    void add_step(const Point& from, const Flows& start, const Flows& end, double step_s, LaneBalance<Lanes>& balance) {
        const Flows middle = net.flows(stage);
        const double w = kStage * step_s;
        const auto moved = [&](double a, double b, double c) { return w * (kFromStage * (a + b) + c); };
        Lot kept = Lot::all(Number{});
        for (std::size_t k = 0; k < net.size(); ++k)
            kept = kept + Lot::load(net.capacity.at(k)) * (Lot::load(next.at(k)) - Lot::load(from.celsius.at(k)));
        Number stored[Lanes];
        kept.store(stored);
        for (std::size_t lane = 0; lane < Lanes; ++lane) {
            const double in = moved(start.air[lane], middle.air[lane], end.air[lane]);
            const double low = moved(start.below[lane], middle.below[lane], end.below[lane]);
            const double out = moved(start.radiated[lane], middle.radiated[lane], end.radiated[lane]);
            const double power = net.power_w[lane] * step_s;
            balance.cases[lane].add_step({in, low, power, out, static_cast<double>(stored[lane])}, step_s);
        }
    }

    /// Within the step just taken, at a share of it: the cubic through both ends and their slopes.
    void write_between(const Point& from, double step_s, double share,
                       std::array<std::vector<double>, Lanes>& celsius) const {
        const Lot rate = Lot::all(static_cast<Number>(1.0 / (kStage * step_s)));
        const auto all = [](double value) { return Lot::all(static_cast<Number>(value)); };
        const double u = share, v = 1.0 - share;
        const Lot from_start = all(v * v * (1.0 + 2.0 * u)), from_end = all(u * u * (3.0 - 2.0 * u));
        const Lot start_slope = all(u * v * v * step_s), end_slope = all(-u * u * v * step_s);
        for (std::size_t k = 0; k < net.size(); ++k) {
            const Lot t = Lot::load(from.celsius.at(k));
            const Lot end = Lot::load(next.at(k));
            const Lot y = Lot::load(stage.at(k));
            // Slope at the end from the scheme itself, at the start from the flow over the capacity.
            const Lot slope_end = rate * (end - all(kFromStage) * y + all(kFromStart) * t);
            Number flow[Lanes], held[Lanes], out[Lanes];
            Lot::load(flow_start.at(k)).store(flow);
            Lot::load(net.capacity.at(k)).store(held);
            for (std::size_t lane = 0; lane < Lanes; ++lane)
                flow[lane] /= held[lane];
            (from_start * t + from_end * end + start_slope * Lot::load(flow) + end_slope * slope_end).store(out);
            for (std::size_t lane = 0; lane < Lanes; ++lane)
                celsius[lane][net.place(k)] = static_cast<double>(out[lane]);
        }
    }

private:
    static constexpr double kGamma = 2.0 - std::numbers::sqrt2;
    static constexpr double kStage = kGamma / 2.0;
    static constexpr double kFromStage = 1.0 / (kGamma * (2.0 - kGamma));
    static constexpr double kFromStart = kFromStage - 1.0;
    // Weights of the scheme less those of its companion of third order, over start, stage and end.
    static constexpr double kWeight = std::numbers::sqrt2 / 4.0;
    static constexpr double kErrorStart = kWeight - (1.0 - kWeight) / 3.0;
    static constexpr double kErrorStage = kWeight - (3.0 * kWeight + 1.0) / 3.0;
    static constexpr double kErrorEnd = kStage - kStage / 3.0;

    std::map<double, Factor> factors; // by step length
    Array stage, estimate, flow_start;

    const Factor& factor_for(double step_s) {
        const auto [found, is_new] = factors.try_emplace(step_s);
        if (is_new) net.factorise(1.0 / (kStage * step_s), found->second);
        return found->second;
    }
};

} // namespace padchart::analysis
