#include "analysis/heat_factor.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>

namespace padchart::analysis {

std::vector<int> filling_least(const HeatNetwork& network) {
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(2 * network.links.size() + network.size());
    for (const HeatLink& link : network.links) {
        const int a = static_cast<int>(link.a);
        const int b = static_cast<int>(link.b);
        entries.emplace_back(a, b, 1.0);
        entries.emplace_back(b, a, 1.0);
    }
    // The ordering counts on a full diagonal: without one it was found to fill the factor many times over.
    for (int k = 0; k < static_cast<int>(network.size()); ++k)
        entries.emplace_back(k, k, 1.0);
    const auto n = static_cast<Eigen::Index>(network.size());
    Eigen::SparseMatrix<double> pattern(n, n);
    pattern.setFromTriplets(entries.begin(), entries.end());
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> permutation;
    Eigen::AMDOrdering<int>()(pattern, permutation);
    return {permutation.indices().data(), permutation.indices().data() + n};
}

std::size_t FactorPattern::entry(std::size_t node_a, std::size_t node_b) const {
    const auto [column, wanted] = std::minmax(position[node_a], position[node_b]);
    const auto first = row.begin() + start[static_cast<std::size_t>(column)];
    const auto last = row.begin() + start[static_cast<std::size_t>(column) + 1];
    const auto found = std::lower_bound(first, last, wanted);
    assert(found != last && *found == wanted);
    return static_cast<std::size_t>(found - row.begin());
}

FactorPattern factor_pattern(const HeatNetwork& network) {
    FactorPattern pattern;
    pattern.place = filling_least(network);
    pattern.position.resize(network.size());
    for (std::size_t k = 0; k < pattern.place.size(); ++k)
        pattern.position[static_cast<std::size_t>(pattern.place[k])] = static_cast<int>(k);
    // Rows a column has by itself; those of the columns it is eliminated after come on the way.
    std::vector<std::vector<int>> own(network.size());
    for (const HeatLink& link : network.links) {
        const auto [column, row] = std::minmax(pattern.position[link.a], pattern.position[link.b]);
        if (column != row) own[static_cast<std::size_t>(column)].push_back(row);
    }
    std::vector<std::vector<int>> children(network.size());
    std::vector<int> seen(network.size(), -1);
    for (std::size_t k = 0; k < network.size(); ++k) {
        pattern.start.push_back(static_cast<int>(pattern.row.size()));
        const auto take = [&](int row) {
            if (row == static_cast<int>(k) ||
                std::exchange(seen[static_cast<std::size_t>(row)], static_cast<int>(k)) == static_cast<int>(k))
                return;
            pattern.row.push_back(row);
        };
        for (const int row : own[k])
            take(row);
        for (const int child : children[k]) {
            const auto c = static_cast<std::size_t>(child);
            for (int e = pattern.start[c]; e < pattern.start[c + 1]; ++e)
                take(pattern.row[static_cast<std::size_t>(e)]);
        }
        std::sort(pattern.row.begin() + pattern.start[k], pattern.row.end());
        if (static_cast<int>(pattern.row.size()) > pattern.start[k])
            children[static_cast<std::size_t>(pattern.row[static_cast<std::size_t>(pattern.start[k])])].push_back(
                static_cast<int>(k));
    }
    pattern.start.push_back(static_cast<int>(pattern.row.size()));
    return pattern;
}

} // namespace padchart::analysis
