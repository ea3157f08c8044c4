#pragma once
// Cases of a heat plan followed side by side. They differ in numbers, not in which nodes are linked, so one pattern of
// the factor serves all, and each entry holds as many numbers as fill a register: four `float` for the estimate that
// follows a hand (good to some hundredths of a degree), two `double` for what is kept. A run of all costs little more
// than a run of one.
//
// The scheme is that of heat_solver.hpp, TR-BDF2, whose fixed step is checked by the embedded formula of third order
// (Hosea and Shampine, Appl. Numer. Math. 20 (1996) 21 [formula from memory, order checked by test]): where a step
// errs by more than is allowed it is halved twice, and so on.

#include <array>
#include <functional>
#include <memory>
#include <span>
#include <stop_token>
#include <vector>

#include "analysis/heat_solver.hpp"

namespace padchart::analysis {

struct StepControl {
    double most_error_k = 0.2; ///< of one step, at any node, in any lane
    int most_cuts = 3;         ///< of a planned step, into quarters each time; 0: steps as planned, unchecked
    /// Above 0: the observer also sees the times in between, so far apart, by the cubic through both ends of a step.
    double seen_every_s = 0.0;
};

template <std::size_t Lanes>
struct LaneBalance {
    std::array<HeatBalance, Lanes> cases;
    double largest_step_error_k = 0.0; ///< of the steps that were checked and kept
    int cut_steps = 0;                 ///< pieces of planned steps that were cut
    bool is_finished = true;           ///< false: stopped early
};

template <std::size_t Lanes>
using LaneObserver = std::function<void(double time_s, const std::array<std::vector<double>, Lanes>& celsius)>;

template <class Number, std::size_t Lanes>
class LaneSolver {
public:
    /// Requires: the networks outlive the solver and have the same links between the same nodes; their numbers may
    /// change between runs.
    explicit LaneSolver(const std::array<const HeatNetwork*, Lanes>& networks);
    LaneSolver(LaneSolver&&) noexcept;
    LaneSolver& operator=(LaneSolver&&) noexcept;
    ~LaneSolver();

    /// Goes on from `celsius` and leaves the last states in it. The observer sees time 0 and every planned step.
    LaneBalance<Lanes> run(std::array<std::vector<double>, Lanes>& celsius, std::span<const HeatStretch> stretches,
                           const StepControl& control, const LaneObserver<Lanes>& observer,
                           const std::stop_token& stop = {});

    /// Final states with everything as it is, radiation by Newton's method. Requires: every node reaches an exchange or
    /// radiates.
    [[nodiscard]] std::array<std::vector<double>, Lanes> steady();

private:
    struct State;
    std::unique_ptr<State> state_;
};

extern template class LaneSolver<float, 4>;
extern template class LaneSolver<double, 2>;

} // namespace padchart::analysis
