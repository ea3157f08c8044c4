#pragma once
// Order and pattern of the Cholesky factor of a heat network. Both depend on the links alone, not on their numbers, and
// are worked out once for many factorisations. George and Liu, Computer Solution of Large Sparse Positive Definite
// Systems (1981), chapter 5 [from memory].

#include <vector>

#include "analysis/heat_network.hpp"

namespace padchart::analysis {

/// Order of elimination that fills the factor little: the node that comes k-th (approximate minimum degree).
[[nodiscard]] std::vector<int> filling_least(const HeatNetwork& network);

/// Where the factor has entries below its diagonal, by columns, rows ascending.
struct FactorPattern {
    std::vector<int> place;    ///< node at position k
    std::vector<int> position; ///< of a node
    std::vector<int> start;    ///< of column k in `row`; one more than there are columns
    std::vector<int> row;

    [[nodiscard]] std::size_t size() const { return place.size(); }
    /// Entry of a link's two nodes. Requires: they are linked.
    [[nodiscard]] std::size_t entry(std::size_t node_a, std::size_t node_b) const;
};
[[nodiscard]] FactorPattern factor_pattern(const HeatNetwork& network);

} // namespace padchart::analysis
