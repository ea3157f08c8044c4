#include "analysis/heat_solver.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

#include "analysis/heat_factor.hpp"

namespace padchart::analysis {
namespace {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::SparseMatrix<double>;

constexpr double kGamma = 2.0 - std::numbers::sqrt2;
constexpr double kStage = kGamma / 2.0;                                     // share of the step in each implicit solve
constexpr double kFromStage = 1.0 / (kGamma * (2.0 - kGamma));              // c1
constexpr double kFromStart = (1.0 - kGamma) * (1.0 - kGamma) * kFromStage; // c0 = c1 - 1
constexpr double kSteadyTolerance = 1e-5;
constexpr int kSteadyRounds = 30;
// Where radiation is linear in the matrix; any value is right, one in the middle of the range corrects least.
constexpr double kRadiationPoint_c = 150.0;

} // namespace

void HeatBalance::add_step(HeatBalance step, double step_s) {
    step.largest_step_residual_w = std::abs(step.residual_j()) / step_s;
    add(*this, step);
}

void add(HeatBalance& sum, const HeatBalance& more) {
    sum.from_air_j += more.from_air_j;
    sum.from_below_j += more.from_below_j;
    sum.from_power_j += more.from_power_j;
    sum.radiated_j += more.radiated_j;
    sum.stored_j += more.stored_j;
    sum.largest_step_residual_w = std::max(sum.largest_step_residual_w, more.largest_step_residual_w);
}

double radiation_coefficient(double emissivity, double celsius_a, double celsius_b) {
    const double a = celsius_a + kCelsiusZero;
    const double b = celsius_b + kCelsiusZero;
    return emissivity * kStefanBoltzmann * (a * a + b * b) * (a + b);
}

EqualSteps equal_steps(double length_s, double step_s) {
    if (length_s <= 0.0) return {};
    const int count = std::max(1, static_cast<int>(std::ceil(length_s / step_s - 1e-9)));
    return {count, length_s / count};
}

/// The network in the order of the factor: `place[k]` is the network's node at position k.
struct HeatSolver::State {
    const HeatNetwork& network;
    std::vector<int> place;
    std::vector<int> position;
    Matrix matrix;                  // lower half, with its diagonal
    std::vector<int> diagonal_slot; // where the diagonal of column k lies in the matrix's values
    Vector conduction_diagonal;
    Eigen::SimplicialLLT<Matrix, Eigen::Lower, Eigen::NaturalOrdering<int>> factor;
    bool is_analysed = false;

    // Copies in factor order, refreshed before every solve series.
    Vector capacity, loss, fixed, radiance;
    Vector linear_radiation; // W/K, in the matrix

    explicit State(const HeatNetwork& n) : network(n) { order(); }

    [[nodiscard]] Eigen::Index size() const { return static_cast<Eigen::Index>(network.size()); }

    void order() {
        place = filling_least(network);
        position.resize(network.size());
        for (std::size_t k = 0; k < place.size(); ++k)
            position[static_cast<std::size_t>(place[k])] = static_cast<int>(k);
    }

    /// Conduction below the diagonal; the diagonal is set anew for each step length.
    void assemble() {
        using Entry = Eigen::Triplet<double>;
        std::vector<Entry> lower;
        lower.reserve(network.links.size() + network.size());
        conduction_diagonal = Vector::Zero(size());
        for (const HeatLink& link : network.links) {
            const int a = position[link.a];
            const int b = position[link.b];
            lower.emplace_back(std::max(a, b), std::min(a, b), -link.w_per_k);
            conduction_diagonal[a] += link.w_per_k;
            conduction_diagonal[b] += link.w_per_k;
        }
        for (int k = 0; k < static_cast<int>(size()); ++k)
            lower.emplace_back(k, k, 0.0);
        matrix.resize(size(), size());
        matrix.setFromTriplets(lower.begin(), lower.end());
        // Lower half of a column starts at its diagonal.
        diagonal_slot.assign(matrix.outerIndexPtr(), matrix.outerIndexPtr() + size());
    }

    void load() {
        capacity.resize(size());
        loss.resize(size());
        fixed.resize(size());
        radiance.resize(size());
        linear_radiation.resize(size());
        const double per_face =
            radiation_coefficient(1.0, kRadiationPoint_c, network.surroundings_c) / kStefanBoltzmann;
        for (Eigen::Index k = 0; k < size(); ++k) {
            const auto n = static_cast<std::size_t>(place[static_cast<std::size_t>(k)]);
            capacity[k] = network.capacity_j_per_k[n];
            loss[k] = network.air.w_per_k[n] + network.below.w_per_k[n];
            fixed[k] = network.air.w[n] + network.below.w[n] + network.power_w[n];
            radiance[k] = network.radiance_w_per_k4[n];
            linear_radiation[k] = radiance[k] * per_face;
        }
        assemble();
    }

    void factorise(double per_time) {
        for (Eigen::Index k = 0; k < size(); ++k)
            matrix.valuePtr()[diagonal_slot[static_cast<std::size_t>(k)]] =
                capacity[k] * per_time + conduction_diagonal[k] + loss[k] + linear_radiation[k];
        if (!is_analysed) {
            factor.analyzePattern(matrix);
            is_analysed = true;
        }
        factor.factorize(matrix);
        assert(factor.info() == Eigen::Success);
    }

    /// In place: no expression may hold the vector it is assigned to, or Eigen reads what it has already overwritten.
    void solve_in_place(Vector& x) const {
        factor.matrixL().solveInPlace(x);
        factor.matrixU().solveInPlace(x);
    }

    [[nodiscard]] double radiated(Eigen::Index k, double celsius) const {
        const double t = celsius + kCelsiusZero;
        const double s = network.surroundings_c + kCelsiusZero;
        const double t2 = t * t;
        const double s2 = s * s;
        return radiance[k] * (t2 + s2) * (t2 - s2);
    }

    /// What the right-hand side needs so that matrix and side together radiate by the fourth-power law at `celsius`.
    void radiation_side(const Vector& celsius, Vector& side) const {
        for (Eigen::Index k = 0; k < size(); ++k)
            side[k] =
                fixed[k] + (radiance[k] == 0.0 ? 0.0 : linear_radiation[k] * celsius[k] - radiated(k, celsius[k]));
    }

    void multiply(const Vector& x, Vector& out) const {
        // (K + losses + linear radiation) x, from the links: the matrix holds the time term as well.
        out = (conduction_diagonal + loss + linear_radiation).cwiseProduct(x);
        for (const HeatLink& link : network.links) {
            const int a = position[link.a];
            const int b = position[link.b];
            out[a] -= link.w_per_k * x[b];
            out[b] -= link.w_per_k * x[a];
        }
    }

    struct Flows {
        double air = 0.0, below = 0.0, power = 0.0, radiated = 0.0;
    };
    [[nodiscard]] Flows flows(const Vector& celsius) const {
        Flows sum;
        for (Eigen::Index k = 0; k < size(); ++k) {
            const auto n = static_cast<std::size_t>(place[static_cast<std::size_t>(k)]);
            sum.air += network.air.w[n] - network.air.w_per_k[n] * celsius[k];
            sum.below += network.below.w[n] - network.below.w_per_k[n] * celsius[k];
            sum.power += network.power_w[n];
            if (radiance[k] != 0.0) sum.radiated += radiated(k, celsius[k]);
        }
        return sum;
    }

    [[nodiscard]] Vector to_order(std::span<const double> celsius) const {
        Vector x(size());
        for (Eigen::Index k = 0; k < size(); ++k)
            x[k] = celsius[static_cast<std::size_t>(place[static_cast<std::size_t>(k)])];
        return x;
    }
    void from_order(const Vector& x, std::vector<double>& celsius) const {
        celsius.resize(network.size());
        for (Eigen::Index k = 0; k < size(); ++k)
            celsius[static_cast<std::size_t>(place[static_cast<std::size_t>(k)])] = x[k];
    }
};

HeatSolver::HeatSolver(const HeatNetwork& network) : state_(std::make_unique<State>(network)) {}
HeatSolver::HeatSolver(HeatSolver&&) noexcept = default;
HeatSolver& HeatSolver::operator=(HeatSolver&&) noexcept = default;
HeatSolver::~HeatSolver() = default;

std::vector<double> HeatSolver::steady() {
    State& s = *state_;
    s.load();
    Vector x = Vector::Constant(s.size(), std::max(kRadiationPoint_c, s.network.surroundings_c));
    Vector side(s.size());
    // Newton: the fourth-power law is convex, so that no damping is needed.
    for (int round = 0; round < kSteadyRounds; ++round) {
        for (Eigen::Index k = 0; k < s.size(); ++k)
            s.linear_radiation[k] = 4.0 * s.radiance[k] * std::pow(x[k] + kCelsiusZero, 3);
        if (round == 0 || s.radiance.maxCoeff() > 0.0) s.factorise(0.0);
        s.radiation_side(x, side);
        s.solve_in_place(side);
        const double moved = (side - x).cwiseAbs().maxCoeff();
        x.swap(side);
        if (moved < kSteadyTolerance) break;
    }
    std::vector<double> celsius;
    s.from_order(x, celsius);
    return celsius;
}

double HeatSolver::steady_residual_w(std::span<const double> celsius) const {
    const State::Flows flow = state_->flows(state_->to_order(celsius));
    return flow.air + flow.below + flow.power - flow.radiated;
}

HeatBalance HeatSolver::run(std::vector<double>& celsius, std::span<const HeatStretch> stretches,
                            const HeatObserver& observer) {
    State& s = *state_;
    s.load();
    const Eigen::Index n = s.size();
    Vector t = s.to_order(celsius);
    Vector before = t;
    Vector applied(n), guess(n), side(n), stage(n), next(n), rate(n);
    s.multiply(t, applied);
    HeatBalance balance;
    State::Flows flow = s.flows(t);
    double now = 0.0;
    double last_step = 0.0;
    observer(now, celsius);
    for (const HeatStretch& stretch : stretches) {
        const double start = now;
        const EqualSteps steps = equal_steps(stretch.until_s - start, stretch.step_s);
        if (steps.count == 0) continue;
        const double dt = steps.step_s;
        const double w = kStage * dt;
        s.factorise(1.0 / w);
        rate = s.capacity / w;
        for (int step = 0; step < steps.count; ++step) {
            // Stage at gamma dt: trapezoid from the start.
            guess = t;
            if (last_step > 0.0) guess += (kGamma * dt / last_step) * (t - before);
            s.radiation_side(t, side);
            stage = rate.cwiseProduct(t) - applied + side;
            s.radiation_side(guess, side);
            stage += side;
            s.solve_in_place(stage);
            // End of the step: backward difference through start and stage.
            guess = t + (stage - t) / kGamma;
            s.radiation_side(guess, side);
            next = rate.cwiseProduct(kFromStage * stage - kFromStart * t) + side;
            applied = next;
            s.solve_in_place(next);
            applied -= rate.cwiseProduct(next);

            const State::Flows at_stage = s.flows(stage);
            const State::Flows at_end = s.flows(next);
            const auto moved = [&](double a, double b, double c) { return w * (kFromStage * (a + b) + c); };
            const double air = moved(flow.air, at_stage.air, at_end.air);
            const double below = moved(flow.below, at_stage.below, at_end.below);
            const double power = moved(flow.power, at_stage.power, at_end.power);
            const double radiated = moved(flow.radiated, at_stage.radiated, at_end.radiated);
            const double stored = s.capacity.dot(next - t);
            balance.add_step({air, below, power, radiated, stored}, dt);
            flow = at_end;

            before.swap(t);
            t.swap(next);
            last_step = dt;
            now = start + (step + 1) * dt;
            s.from_order(t, celsius);
            observer(now, celsius);
        }
    }
    return balance;
}

std::size_t HeatSolver::factor_size() const {
    return state_->is_analysed ? static_cast<std::size_t>(state_->factor.matrixL().nestedExpression().nonZeros()) : 0;
}

} // namespace padchart::analysis
