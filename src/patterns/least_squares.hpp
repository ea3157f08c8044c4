#pragma once
// A few unknowns from many linear equations; for this module only.

#include <cstddef>
#include <span>
#include <vector>

namespace padchart::patterns {

/// Collects equations sum(coefficients * unknowns) = value with a weight and finds the unknowns that miss them least.
class LeastSquares {
public:
    explicit LeastSquares(std::size_t unknowns);

    /// Requires: one coefficient for each unknown, weight above 0.
    void add(std::span<const double> coefficients, double value, double weight);
    /// A weak wish for one unknown, which decides where the equations leave it open.
    void prefer(std::size_t unknown, double value, double weight);
    /// Requires: equations and wishes together leave no unknown open.
    [[nodiscard]] std::vector<double> solve() const;

private:
    std::size_t n_;
    std::vector<double> matrix_; ///< normal equations, row by row
    std::vector<double> right_;
};

} // namespace padchart::patterns
