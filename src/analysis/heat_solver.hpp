#pragma once
// Temperatures of a heat network, steady and over time. Sparse Cholesky, factorised once per step length; the ordering
// and the pattern of the factor are worked out once per network and kept while only conductances change.
//
// In time: TR-BDF2 (Bank et al., IEEE Trans. CAD 4 (1985) 436; Hosea and Shampine, Appl. Numer. Math. 20 (1996) 21)
// with gamma = 2 - sqrt 2, of second order, L-stable, both stages with the same matrix. Radiation: a constant
// coefficient in the matrix, what differs from the fourth-power law on the right-hand side, extrapolated within the
// step. No threads, no tolerances: the same network gives the same bits.

#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "analysis/heat_network.hpp"

namespace padchart::analysis {

/// Steps of at most `step_s` up to `until_s`, counted from the start of the run.
struct HeatStretch {
    double until_s = 0.0;
    double step_s = 0.5;
};

/// First law over a run: sums of what the scheme itself moved, with the true fourth-power radiation.
struct HeatBalance {
    double from_air_j = 0.0;
    double from_below_j = 0.0;
    double from_power_j = 0.0;
    double radiated_j = 0.0;
    double stored_j = 0.0;
    double largest_step_residual_w = 0.0;

    [[nodiscard]] double residual_j() const { return from_air_j + from_below_j + from_power_j - radiated_j - stored_j; }
    /// One step more, its residual_j() taken over its length. Requires: step_s > 0.
    void add_step(HeatBalance step, double step_s);
};

/// What came before and what came after it, as one.
void add(HeatBalance& sum, const HeatBalance& more);

using HeatObserver = std::function<void(double time_s, std::span<const double> celsius)>;

class HeatSolver {
public:
    /// Requires: `network` outlives the solver and keeps its nodes and links; its numbers may change between calls.
    explicit HeatSolver(const HeatNetwork& network);
    HeatSolver(HeatSolver&&) noexcept;
    HeatSolver& operator=(HeatSolver&&) noexcept;
    ~HeatSolver();

    /// Final state with everything as it is. Radiation by Newton's method until no node moves by 1e-5 K.
    /// Requires: every node reaches an exchange or radiates.
    [[nodiscard]] std::vector<double> steady();
    /// Heat that does not add up in a given steady state, W, over the whole network.
    [[nodiscard]] double steady_residual_w(std::span<const double> celsius) const;

    /// Goes on from `celsius` and leaves the last state in it. The observer sees time 0 and every step.
    HeatBalance run(std::vector<double>& celsius, std::span<const HeatStretch> stretches, const HeatObserver& observer);

    /// Non-zeros of the factor below the diagonal, once something has been solved.
    [[nodiscard]] std::size_t factor_size() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

/// W/(m2 K) of a grey face between two temperatures: emissivity * sigma * (T1^2 + T2^2) (T1 + T2) in kelvin.
[[nodiscard]] double radiation_coefficient(double emissivity, double celsius_a, double celsius_b);

/// Number and length of the equal steps that fill a stretch without exceeding `step_s`.
struct EqualSteps {
    int count = 0;
    double step_s = 0.0;
};
[[nodiscard]] EqualSteps equal_steps(double length_s, double step_s);

} // namespace padchart::analysis
