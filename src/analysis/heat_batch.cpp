#include "analysis/heat_batch.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

#include "analysis/heat_factor.hpp"
#include "analysis/heat_pack.hpp"

namespace padchart::analysis {
namespace {

using Matrix = Eigen::SparseMatrix<double>;
using Lane = std::array<float, kLanes>;

using Floats = Pack<float, kLanes>;
using Doubles = Pack<double, kLanes>;

constexpr double kGamma = 2.0 - std::numbers::sqrt2;
constexpr double kStage = kGamma / 2.0;
constexpr double kFromStage = 1.0 / (kGamma * (2.0 - kGamma));
constexpr double kFromStart = kFromStage - 1.0;
constexpr double kMiddle_c = 150.0; // where the factor's radiation is linear
constexpr int kMostRounds = 12;     // of Newton
constexpr int kMostIterations = 40; // of conjugate gradients in a round
constexpr double kFirstRoundSlack = 10.0;
constexpr double kQuadraticBelow_k = 6.0; // a Newton step this small leaves less than a tenth of a degree

} // namespace

SharedOrder::SharedOrder(const HeatNetwork& network) {
    const auto n = static_cast<Eigen::Index>(network.size());
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(2 * network.links.size() + network.size());
    for (const HeatLink& link : network.links) {
        entries.emplace_back(static_cast<int>(link.a), static_cast<int>(link.b), link.w_per_k);
        entries.emplace_back(static_cast<int>(link.b), static_cast<int>(link.a), link.w_per_k);
    }
    for (const int node : filling_least(network))
        place_.push_back(static_cast<std::size_t>(node));
    position_.resize(place_.size());
    for (std::size_t k = 0; k < place_.size(); ++k)
        position_[place_[k]] = k;
    for (auto& entry : entries)
        entry = {static_cast<int>(position_[static_cast<std::size_t>(entry.row())]),
                 static_cast<int>(position_[static_cast<std::size_t>(entry.col())]), entry.value()};
    Matrix links(n, n);
    links.setFromTriplets(entries.begin(), entries.end());
    row_start_.assign(links.outerIndexPtr(), links.outerIndexPtr() + n + 1);
    column_.assign(links.innerIndexPtr(), links.innerIndexPtr() + links.nonZeros());
    conductance_.assign(links.valuePtr(), links.valuePtr() + links.nonZeros());
    link_sum_.assign(place_.size(), 0.0);
    for (const auto& entry : entries)
        link_sum_[static_cast<std::size_t>(entry.row())] += entry.value();
}

SharedFactor::SharedFactor(const SharedOrder& order, const HeatNetwork& network, double per_time) {
    const auto n = static_cast<Eigen::Index>(order.size());
    std::vector<Eigen::Triplet<double>> lower;
    const double cube = std::pow(kMiddle_c + kCelsiusZero, 3);
    for (int k = 0; k < static_cast<int>(n); ++k) {
        const auto at = static_cast<std::size_t>(k);
        const std::size_t node = order.place(at);
        lower.emplace_back(k, k,
                           order.link_sum_[at] + network.air.w_per_k[node] + network.below.w_per_k[node] +
                               4.0 * network.radiance_w_per_k4[node] * cube +
                               per_time * network.capacity_j_per_k[node]);
        for (int e = order.row_start_[at]; e < order.row_start_[at + 1]; ++e)
            if (const int row = order.column_[static_cast<std::size_t>(e)]; row > k)
                lower.emplace_back(row, k, -static_cast<double>(order.conductance_[static_cast<std::size_t>(e)]));
    }
    Matrix matrix(n, n);
    matrix.setFromTriplets(lower.begin(), lower.end());
    Eigen::SimplicialLLT<Matrix, Eigen::Lower, Eigen::NaturalOrdering<int>> factor(matrix);
    assert(factor.info() == Eigen::Success);
    const Matrix l = factor.matrixL();
    inverse_diagonal_.resize(order.size());
    column_start_.reserve(order.size() + 1);
    for (int k = 0; k < static_cast<int>(n); ++k) {
        column_start_.push_back(static_cast<int>(row_.size()));
        for (Matrix::InnerIterator it(l, k); it; ++it) {
            if (it.row() == k) {
                inverse_diagonal_[static_cast<std::size_t>(k)] = static_cast<float>(1.0 / it.value());
                continue;
            }
            row_.push_back(static_cast<int>(it.row()) * static_cast<int>(kLanes));
            value_.push_back(static_cast<float>(it.value()));
        }
    }
    column_start_.push_back(static_cast<int>(row_.size()));
}

void SharedFactor::apply(std::vector<float>& vector) const {
    float* const x = vector.data();
    const std::size_t n = inverse_diagonal_.size();
    // Copies of what the loops read, so that the compiler need not fear that writing x changes them.
    const int* const row = row_.data();
    const float* const value = value_.data();
    const int* const start = column_start_.data();
    const float* const inverse = inverse_diagonal_.data();
    for (std::size_t k = 0; k < n; ++k) {
        const Floats own = Floats::load(x + k * kLanes) * Floats::all(inverse[k]);
        own.store(x + k * kLanes);
        const int end = start[k + 1];
        for (int e = start[k]; e < end; ++e) {
            float* const to = x + row[e];
            (Floats::load(to) - Floats::all(value[e]) * own).store(to);
        }
    }
    for (std::size_t k = n; k-- > 0;) {
        Floats sum = Floats::load(x + k * kLanes);
        const int end = start[k + 1];
        for (int e = start[k]; e < end; ++e)
            sum = sum - Floats::all(value[e]) * Floats::load(x + row[e]);
        (sum * Floats::all(inverse[k])).store(x + k * kLanes);
    }
}

BatchSolver::BatchSolver(const SharedOrder& order, const HeatNetwork& network)
    : order_(&order), surroundings_k_(network.surroundings_c + kCelsiusZero) {
    const std::size_t n = order.size();
    capacity_.resize(n);
    radiance_.resize(n);
    for (std::size_t k = 0; k < n; ++k) {
        capacity_[k] = network.capacity_j_per_k[order.place(k)];
        radiance_[k] = network.radiance_w_per_k4[order.place(k)];
    }
    for (std::vector<double>* v : {&loss_, &fixed_, &t_, &flow_, &target_, &start_})
        v->assign(n * kLanes, 0.0);
    for (std::vector<float>* v : {&diagonal_, &residual_, &direction_, &product_, &change_, &ahead_})
        v->assign(n * kLanes, 0.0F);
}

void BatchSolver::load(std::size_t lane, const HeatNetwork& network) {
    for (std::size_t k = 0; k < order_->size(); ++k) {
        const std::size_t node = order_->place(k);
        loss_[k * kLanes + lane] = network.air.w_per_k[node] + network.below.w_per_k[node];
        fixed_[k * kLanes + lane] = network.air.w[node] + network.below.w[node] + network.power_w[node];
    }
}

void BatchSolver::start_from(std::span<const double> celsius) {
    for (std::size_t k = 0; k < order_->size(); ++k)
        for (std::size_t b = 0; b < kLanes; ++b)
            t_[k * kLanes + b] = celsius[order_->place(k)];
}

void BatchSolver::start_from_lane(std::size_t lane) {
    for (std::size_t k = 0; k < order_->size(); ++k) {
        const double own = t_[k * kLanes + lane];
        for (std::size_t b = 0; b < kLanes; ++b)
            t_[k * kLanes + b] = own;
    }
}

void BatchSolver::state(std::size_t lane, std::vector<double>& celsius) const {
    celsius.resize(order_->size());
    for (std::size_t k = 0; k < order_->size(); ++k)
        celsius[order_->place(k)] = t_[k * kLanes + lane];
}

double BatchSolver::per_time_of(double step_s) {
    return 1.0 / (kStage * step_s);
}

void BatchSolver::net_flow(const std::vector<double>& t, std::vector<double>& flow) const {
    const Doubles s2 = Doubles::all(surroundings_k_ * surroundings_k_);
    const Doubles zero_c = Doubles::all(kCelsiusZero);
    const int* const column = order_->column_.data();
    const float* const conductance = order_->conductance_.data();
    const auto at = [](const std::vector<double>& v, auto k) {
        return Doubles::load(v.data() + static_cast<std::size_t>(k) * kLanes);
    };
    for (std::size_t k = 0; k < order_->size(); ++k) {
        const Doubles own = at(t, k);
        const Doubles kelvin = own + zero_c;
        const Doubles k2 = kelvin * kelvin;
        Doubles sum = at(fixed_, k) - at(loss_, k) * own - Doubles::all(radiance_[k]) * ((k2 + s2) * (k2 - s2));
        for (int e = order_->row_start_[k]; e < order_->row_start_[k + 1]; ++e)
            sum = sum + Doubles::all(static_cast<double>(conductance[e])) * (at(t, column[e]) - own);
        sum.store(flow.data() + k * kLanes);
    }
}

/// Preconditioned conjugate gradients for diagonal_ and the links; residual_ in, change_ out. The preconditioned
/// residual is an estimate of the error in kelvin, and that is what has to become small.
void BatchSolver::gradients(const SharedFactor& factor, double tolerance) {
    const std::size_t n = order_->size();
    const int* const column = order_->column_.data();
    const float* const conductance = order_->conductance_.data();
    const auto at = [](std::vector<float>& v, auto k) { return v.data() + static_cast<std::size_t>(k) * kLanes; };
    const auto get = [&](std::vector<float>& v, auto k) { return Floats::load(at(v, k)); };
    std::fill(change_.begin(), change_.end(), 0.0F);
    std::fill(direction_.begin(), direction_.end(), 0.0F);
    Lane rho_old{};
    for (int iteration = 0; iteration < kMostIterations; ++iteration) {
        ahead_ = residual_;
        factor.apply(ahead_);
        ++iterations_;
        Floats dots = Floats::all(0.0F);
        Floats largest = dots;
        for (std::size_t k = 0; k < n; ++k) {
            const Floats z = get(ahead_, k);
            dots = dots + z * get(residual_, k);
            largest = larger(largest, larger(z, Floats::all(0.0F) - z));
        }
        Lane rho, errors, beta{}, alpha{}, curvature;
        dots.store(rho.data());
        largest.store(errors.data());
        if (static_cast<double>(*std::max_element(errors.begin(), errors.end())) < tolerance) {
            // What the preconditioner already knows of the rest costs nothing to take along.
            for (std::size_t k = 0; k < n; ++k)
                (get(change_, k) + get(ahead_, k)).store(at(change_, k));
            return;
        }
        for (std::size_t b = 0; b < kLanes; ++b)
            beta[b] = rho_old[b] > 0.0F ? rho[b] / rho_old[b] : 0.0F;
        const Floats carried = Floats::load(beta.data());
        for (std::size_t k = 0; k < n; ++k)
            (get(ahead_, k) + carried * get(direction_, k)).store(at(direction_, k));
        dots = Floats::all(0.0F);
        for (std::size_t k = 0; k < n; ++k) {
            const Floats own = get(direction_, k);
            Floats sum = get(diagonal_, k) * own;
            for (int e = order_->row_start_[k]; e < order_->row_start_[k + 1]; ++e)
                sum = sum - Floats::all(conductance[e]) * get(direction_, column[e]);
            sum.store(at(product_, k));
            dots = dots + own * sum;
        }
        dots.store(curvature.data());
        for (std::size_t b = 0; b < kLanes; ++b)
            alpha[b] = curvature[b] > 0.0F ? rho[b] / curvature[b] : 0.0F;
        const Floats stride = Floats::load(alpha.data());
        for (std::size_t k = 0; k < n; ++k) {
            (get(change_, k) + stride * get(direction_, k)).store(at(change_, k));
            (get(residual_, k) - stride * get(product_, k)).store(at(residual_, k));
        }
        rho_old = rho;
    }
}

void BatchSolver::settle(const SharedFactor& factor, double rate, const std::vector<double>* target, double tolerance) {
    const std::size_t n = order_->size();
    for (int round = 0; round < kMostRounds; ++round) {
        net_flow(t_, flow_);
        for (std::size_t k = 0; k < n; ++k) {
            const double inertia = rate * capacity_[k];
            for (std::size_t b = 0; b < kLanes; ++b) {
                const std::size_t at = k * kLanes + b;
                const double kelvin = t_[at] + kCelsiusZero;
                const double pull = target ? inertia * ((*target)[at] - t_[at]) : 0.0;
                residual_[at] = static_cast<float>(flow_[at] + pull);
                diagonal_[at] = static_cast<float>(order_->link_sum_[k] + loss_[at] + inertia +
                                                   4.0 * radiance_[k] * kelvin * kelvin * kelvin);
            }
        }
        // The first round only has to come near: another one follows and measures anew.
        gradients(factor, round == 0 ? kFirstRoundSlack * tolerance : tolerance);
        float largest = 0.0F;
        for (std::size_t k = 0; k < n * kLanes; ++k) {
            t_[k] += static_cast<double>(change_[k]);
            largest = std::max(largest, std::abs(change_[k]));
        }
        if (round > 0 && static_cast<double>(largest) < kQuadraticBelow_k) return;
    }
}

void BatchSolver::steady(const SharedFactor& factor, double tolerance) {
    settle(factor, 0.0, nullptr, tolerance);
}

void BatchSolver::step(const SharedFactor& factor, double step_s, double tolerance) {
    const std::size_t n = order_->size();
    const double rate = per_time_of(step_s);
    start_ = t_;
    net_flow(t_, flow_);
    // Trapezoid to gamma dt: C (Y - T) / w = F(T) + F(Y).
    for (std::size_t k = 0; k < n; ++k)
        for (std::size_t b = 0; b < kLanes; ++b)
            target_[k * kLanes + b] = start_[k * kLanes + b] + flow_[k * kLanes + b] / (rate * capacity_[k]);
    settle(factor, rate, &target_, tolerance);
    // Backward difference to dt: C (T' - c1 Y + c0 T) / w = F(T').
    for (std::size_t at = 0; at < n * kLanes; ++at) {
        const double stage = t_[at];
        target_[at] = kFromStage * stage - kFromStart * start_[at];
        t_[at] = start_[at] + (stage - start_[at]) / kGamma;
    }
    settle(factor, rate, &target_, tolerance);
}

} // namespace padchart::analysis
