#pragma once
// Symmetric matrices of one pattern side by side, factorised and solved with lot by lot (heat_pack.hpp). Inside of
// LaneSolver; nothing here knows of heat.

#include <cassert>
#include <cmath>
#include <utility>
#include <vector>

#include "analysis/heat_factor.hpp"
#include "analysis/heat_pack.hpp"

namespace padchart::analysis {

/// Lot numbers of every node or entry, one after the other.
template <class Number, std::size_t Lanes>
struct LaneArray {
    std::vector<Number> numbers;

    void resize(std::size_t count) { numbers.assign(count * Lanes, Number{}); }
    [[nodiscard]] Number* at(std::size_t k) { return numbers.data() + k * Lanes; }
    [[nodiscard]] const Number* at(std::size_t k) const { return numbers.data() + k * Lanes; }
};

template <class Number, std::size_t Lanes>
struct LaneMatrix {
    using Lot = Pack<Number, Lanes>;
    using Array = LaneArray<Number, Lanes>;

    struct Factor {
        Array below; ///< entries below the diagonal
        Array inverse_diagonal;
    };

    FactorPattern pattern;
    Array links; ///< entries below the diagonal

    explicit LaneMatrix(FactorPattern of) : pattern(std::move(of)) { work.resize(size()); }

    [[nodiscard]] std::size_t size() const { return pattern.size(); }

    /// Left-looking: every column takes off what the columns before it that reach its row leave there.
    /// `diagonal_at`: the matrix's own at position k.
    template <class DiagonalAt>
    void factorise(const DiagonalAt& diagonal_at, Factor& factor) {
        factor.below.resize(pattern.row.size());
        factor.inverse_diagonal.resize(size());
        constexpr int kNone = -1;
        for (std::vector<int>* list : {&waiting, &after, &at})
            list->assign(size(), kNone);
        const auto queue = [&](int column) {
            if (at[static_cast<std::size_t>(column)] == pattern.start[static_cast<std::size_t>(column) + 1]) return;
            const int row = pattern.row[static_cast<std::size_t>(at[static_cast<std::size_t>(column)])];
            after[static_cast<std::size_t>(column)] = std::exchange(waiting[static_cast<std::size_t>(row)], column);
        };
        const int* const row = pattern.row.data();
        for (std::size_t k = 0; k < size(); ++k) {
            const auto first = static_cast<std::size_t>(pattern.start[k]);
            const auto last = static_cast<std::size_t>(pattern.start[k + 1]);
            for (std::size_t e = first; e < last; ++e)
                Lot::load(links.at(e)).store(work.at(static_cast<std::size_t>(row[e])));
            Lot diagonal = diagonal_at(k);
            for (int column = waiting[k]; column != kNone;) {
                const auto c = static_cast<std::size_t>(column);
                const auto from = static_cast<std::size_t>(at[c]);
                const auto end = static_cast<std::size_t>(pattern.start[c + 1]);
                const Lot own = Lot::load(factor.below.at(from));
                diagonal = diagonal - own * own;
                for (std::size_t e = from + 1; e < end; ++e) {
                    Number* const to = work.at(static_cast<std::size_t>(row[e]));
                    (Lot::load(to) - own * Lot::load(factor.below.at(e))).store(to);
                }
                const int following = after[c];
                ++at[c];
                queue(column);
                column = following;
            }
            Number* const inverse = factor.inverse_diagonal.at(k);
            diagonal.store(inverse);
            for (std::size_t lane = 0; lane < Lanes; ++lane) {
                assert(inverse[lane] > Number{});
                inverse[lane] = Number{1} / std::sqrt(inverse[lane]);
            }
            const Lot scale = Lot::load(inverse);
            for (std::size_t e = first; e < last; ++e)
                (Lot::load(work.at(static_cast<std::size_t>(row[e]))) * scale).store(factor.below.at(e));
            at[k] = static_cast<int>(first);
            queue(static_cast<int>(k));
        }
    }

    /// vector <- inverse of the factored matrix times vector.
    void solve_in_place(const Factor& factor, Array& vector) const {
        const std::size_t n = size();
        Number* const x = vector.numbers.data();
        const Number* const value = factor.below.numbers.data();
        const Number* const inverse = factor.inverse_diagonal.numbers.data();
        const int* const row = pattern.row.data();
        const int* const start = pattern.start.data();
        for (std::size_t k = 0; k < n; ++k) {
            const Lot own = Lot::load(x + k * Lanes) * Lot::load(inverse + k * Lanes);
            own.store(x + k * Lanes);
            const auto end = static_cast<std::size_t>(start[k + 1]);
            for (auto e = static_cast<std::size_t>(start[k]); e < end; ++e) {
                Number* const to = x + static_cast<std::size_t>(row[e]) * Lanes;
                (Lot::load(to) - Lot::load(value + e * Lanes) * own).store(to);
            }
        }
        for (std::size_t k = n; k-- > 0;) {
            Lot sum = Lot::load(x + k * Lanes);
            const auto end = static_cast<std::size_t>(start[k + 1]);
            for (auto e = static_cast<std::size_t>(start[k]); e < end; ++e)
                sum = sum - Lot::load(value + e * Lanes) * Lot::load(x + static_cast<std::size_t>(row[e]) * Lanes);
            (sum * Lot::load(inverse + k * Lanes)).store(x + k * Lanes);
        }
    }

    /// out <- matrix times vector.
    template <class DiagonalAt>
    void apply(const DiagonalAt& diagonal_at, const Array& vector, Array& out) const {
        for (std::size_t k = 0; k < size(); ++k)
            (diagonal_at(k) * Lot::load(vector.at(k))).store(out.at(k));
        for (std::size_t column = 0; column < size(); ++column)
            for (auto e = static_cast<std::size_t>(pattern.start[column]);
                 e < static_cast<std::size_t>(pattern.start[column + 1]); ++e) {
                const auto row = static_cast<std::size_t>(pattern.row[e]);
                const Lot g = Lot::load(links.at(e));
                (Lot::load(out.at(row)) + g * Lot::load(vector.at(column))).store(out.at(row));
                (Lot::load(out.at(column)) + g * Lot::load(vector.at(row))).store(out.at(column));
            }
    }

private:
    Array work;
    std::vector<int> waiting, after; // columns whose next entry lies in this row
    std::vector<int> at;             // their next entry
};

} // namespace padchart::analysis
