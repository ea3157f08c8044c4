#include "patterns/least_squares.hpp"

#include <cassert>
#include <cmath>

namespace padchart::patterns {

LeastSquares::LeastSquares(std::size_t unknowns) : n_(unknowns), matrix_(unknowns * unknowns), right_(unknowns) {}

void LeastSquares::add(std::span<const double> coefficients, double value, double weight) {
    assert(coefficients.size() == n_ && weight > 0.0);
    for (std::size_t i = 0; i < n_; ++i) {
        if (coefficients[i] == 0.0) continue;
        for (std::size_t j = 0; j < n_; ++j)
            matrix_[i * n_ + j] += weight * coefficients[i] * coefficients[j];
        right_[i] += weight * coefficients[i] * value;
    }
}

void LeastSquares::prefer(std::size_t unknown, double value, double weight) {
    matrix_[unknown * n_ + unknown] += weight;
    right_[unknown] += weight * value;
}

std::vector<double> LeastSquares::solve() const {
    // Cholesky: the normal equations are symmetric and, with every unknown tied down, positive.
    std::vector<double> lower(n_ * n_);
    std::vector<double> x = right_;
    for (std::size_t i = 0; i < n_; ++i)
        for (std::size_t j = 0; j <= i; ++j) {
            double sum = matrix_[i * n_ + j];
            for (std::size_t k = 0; k < j; ++k)
                sum -= lower[i * n_ + k] * lower[j * n_ + k];
            assert(i != j || sum > 0.0);
            lower[i * n_ + j] = i == j ? std::sqrt(sum) : sum / lower[j * n_ + j];
        }
    for (std::size_t i = 0; i < n_; ++i) {
        for (std::size_t k = 0; k < i; ++k)
            x[i] -= lower[i * n_ + k] * x[k];
        x[i] /= lower[i * n_ + i];
    }
    for (std::size_t i = n_; i-- > 0;) {
        for (std::size_t k = i + 1; k < n_; ++k)
            x[i] -= lower[k * n_ + i] * x[k];
        x[i] /= lower[i * n_ + i];
    }
    return x;
}

} // namespace padchart::patterns
