#pragma once
// One case of a plan followed through its dwell and its cooling, and what was seen on the way.

#include <array>
#include <optional>

#include "analysis/heat_lanes.hpp"
#include "analysis/heat_setup.hpp"
#include "analysis/heat_solver.hpp"

namespace padchart::analysis {

using Trace = std::vector<double>; ///< one value per time

struct CaseRun {
    Trace time_s;
    std::vector<Trace> joint_mean; ///< per joint of the target
    std::vector<Trace> joint_top;
    Trace target_body;                  ///< empty when the target has no body
    std::vector<Trace> neighbour;       ///< hottest spot, per watched neighbour
    std::vector<Trace> neighbour_joint; ///< coldest own joint
    std::vector<geometry::Vec2> hottest_at;
    std::vector<float> peak; ///< per board node
    std::vector<float> peak_top;
    std::vector<std::vector<float>> snapshots; ///< per board node, at the times asked for
    HeatBalance balance;
    double largest_step_error_k = 0.0; ///< of any case, of the steps that were checked
    int cut_steps = 0;
    JetFlow flow;
    double stagnation_h = 0.0;
    std::size_t nodes = 0;
};

/// Steps of the dwell and of the cooling: fine at first, then as long as allowed.
[[nodiscard]] std::vector<HeatStretch> stretches_of(double length_s, double step_s);

[[nodiscard]] CaseRun run_case(const HeatSetup& setup, const HeatCase& unknowns);

struct RunSteps {
    std::vector<HeatStretch> heating, cooling;
    StepControl control;
};
struct StepLengths {
    double first_s = 0.25, middle_s = 1.0, last_s = 4.0;
};
/// Whole steps of three lengths that fill a time: few factors then serve heating, cooling and quarters of steps alike.
/// What is left over at the end is a step of its own.
[[nodiscard]] std::vector<HeatStretch> growing_stretches(double length_s, const StepLengths& lengths);
/// As the resolution asks for: Live long and unchecked, else short at first, checked, and cut where they err.
[[nodiscard]] RunSteps steps_of(const HeatSetup& setup);

/// The cases of a setup in the order low, nominal, high, high and spreading; nothing when it was told to stop.
[[nodiscard]] std::optional<std::array<CaseRun, 4>> run_cases(const HeatSetup& setup);

/// First time the trace reaches `level`, linear between its points.
[[nodiscard]] std::optional<double> first_time_at(const Trace& time_s, const Trace& value, double level);
/// How long the trace is at or above `level`.
[[nodiscard]] double time_at_or_above(const Trace& time_s, const Trace& value, double level);
/// Largest rise over one second, K/s.
[[nodiscard]] double steepest_rise(const Trace& time_s, const Trace& value);

} // namespace padchart::analysis
