#pragma once
// What two boxes have in common.

#include <algorithm>

#include "geometry/box.hpp"

namespace padchart::geometry {

/// Empty where they lie apart.
[[nodiscard]] constexpr Box common(const Box& a, const Box& b) {
    return {{std::max(a.min.x, b.min.x), std::max(a.min.y, b.min.y)},
            {std::min(a.max.x, b.max.x), std::min(a.max.y, b.max.y)}};
}

/// In the square of the boxes' unit; 0 where they lie apart.
[[nodiscard]] constexpr double common_area(const Box& a, const Box& b) {
    const Box both = common(a, b);
    return both.width() * both.height();
}

} // namespace padchart::geometry
