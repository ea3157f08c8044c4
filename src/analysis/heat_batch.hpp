#pragma once
// Many aims at once. Moving the nozzle changes only the diagonal of the system, so one factor, made for any aim, is a
// preconditioner for all of them: conjugate gradients need two or three iterations. Sixteen aims go through the factor
// side by side in single precision; what is left over is measured in double precision and solved for again, so that the
// answer does not depend on the short numbers.

#include <cstddef>
#include <span>
#include <vector>

#include "analysis/heat_network.hpp"

namespace padchart::analysis {

inline constexpr std::size_t kLanes = 16;

/// Order of the factor and the links in that order: shared by all aims of a layout and case.
class SharedOrder {
public:
    explicit SharedOrder(const HeatNetwork& network);

    [[nodiscard]] std::size_t size() const { return place_.size(); }
    [[nodiscard]] std::size_t place(std::size_t k) const { return place_[k]; } ///< node at position k
    [[nodiscard]] std::size_t position(std::size_t node) const { return position_[node]; }

private:
    friend class SharedFactor;
    friend class BatchSolver;
    std::vector<std::size_t> place_, position_;
    std::vector<int> row_start_, column_; // off the diagonal, all of it
    std::vector<float> conductance_;
    std::vector<double> link_sum_; // diagonal part of the links
};

/// Cholesky factor of links + losses + radiation at a middle temperature + capacity * per_time.
class SharedFactor {
public:
    SharedFactor(const SharedOrder& order, const HeatNetwork& network, double per_time);
    /// vector <- inverse of the factored matrix times vector, for all lanes.
    void apply(std::vector<float>& vector) const;

private:
    std::vector<int> column_start_, row_; ///< row times lanes: where it starts in a vector
    std::vector<float> value_;
    std::vector<float> inverse_diagonal_;
};

/// One thread's work space. Requires: order, network outlive it.
class BatchSolver {
public:
    BatchSolver(const SharedOrder& order, const HeatNetwork& network);

    /// Takes the losses and sources of `network` as they are now for one lane.
    void load(std::size_t lane, const HeatNetwork& network);
    /// All lanes start from this state, given in the network's order.
    void start_from(std::span<const double> celsius);
    /// All lanes start from where one lane stands.
    void start_from_lane(std::size_t lane);

    /// To the steady state, to about `tolerance` K.
    void steady(const SharedFactor& factor, double tolerance);
    /// One TR-BDF2 step of `step_s`; `factor` was made with per_time_of(step_s).
    void step(const SharedFactor& factor, double step_s, double tolerance);
    [[nodiscard]] static double per_time_of(double step_s);

    [[nodiscard]] double celsius(std::size_t lane, std::size_t node) const {
        return t_[order_->position(node) * kLanes + lane];
    }
    void state(std::size_t lane, std::vector<double>& celsius) const;
    [[nodiscard]] std::size_t iterations() const { return iterations_; } ///< of the whole batch, so far

private:
    /// Newton on flow_in(T) + rate (target - T) = 0 from t_. With rate 0: the steady state.
    void settle(const SharedFactor& factor, double rate, const std::vector<double>* target, double tolerance);
    void net_flow(const std::vector<double>& t, std::vector<double>& flow) const;
    void gradients(const SharedFactor& factor, double tolerance);

    const SharedOrder* order_;
    double surroundings_k_ = 298.15;
    std::vector<double> capacity_, radiance_;
    std::vector<double> loss_, fixed_, t_; // per position and lane
    std::vector<double> flow_, target_, start_;
    std::vector<float> diagonal_, residual_, direction_, product_, change_, ahead_;
    std::size_t iterations_ = 0;
};

} // namespace padchart::analysis
