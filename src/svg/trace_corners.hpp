#pragma once
// Loops put together of open lines that meet in more than one corner: those lines can be read as other loops. For
// svg/trace_chains alone.

#include <cstdint>
#include <map>
#include <span>
#include <utility>
#include <vector>

#include "geometry/vec2.hpp"

namespace padchart::svg {

class SharedCorners {
public:
    /// Ends no farther apart than that are one corner. Requires: above 0.
    explicit SharedCorners(double touching) : touching_(touching) {}

    /// A loop, or lines that are left over, by the ends of all their lines.
    void add(std::span<const geometry::Vec2> ends);

    /// Of those added, by their order, which hang together so that there is another way to read them. Loops that share
    /// one corner, or one each along a row, can be read in one way only.
    [[nodiscard]] std::vector<std::vector<std::size_t>> in_doubt() const;

private:
    using Cell = std::pair<std::int64_t, std::int64_t>;

    [[nodiscard]] std::size_t corner_at(geometry::Vec2 at);

    double touching_;
    std::vector<geometry::Vec2> corners_;
    std::map<Cell, std::vector<std::size_t>> cells_;
    std::vector<std::vector<std::size_t>> corners_of_; ///< of each that was added, each corner once
};

} // namespace padchart::svg
