#pragma once
// An axis-parallel box in mm. A new box is empty and grows by adding points.

#include <algorithm>
#include <limits>

#include "geometry/vec2.hpp"

namespace padchart::geometry {

struct Box {
    Vec2 min{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    Vec2 max{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};

    bool operator==(const Box&) const = default;

    [[nodiscard]] constexpr bool is_empty() const { return min.x > max.x || min.y > max.y; }
    [[nodiscard]] constexpr double width() const { return is_empty() ? 0.0 : max.x - min.x; }
    [[nodiscard]] constexpr double height() const { return is_empty() ? 0.0 : max.y - min.y; }
    /// Requires: !is_empty().
    [[nodiscard]] constexpr Vec2 centre() const { return (min + max) / 2.0; }

    constexpr void add(Vec2 p) {
        min = {std::min(min.x, p.x), std::min(min.y, p.y)};
        max = {std::max(max.x, p.x), std::max(max.y, p.y)};
    }
    constexpr void add(const Box& other) {
        if (other.is_empty()) return;
        add(other.min);
        add(other.max);
    }
    [[nodiscard]] constexpr Box grown(double by) const {
        if (is_empty()) return *this;
        return {{min.x - by, min.y - by}, {max.x + by, max.y + by}};
    }
    [[nodiscard]] constexpr bool contains(Vec2 p) const {
        return p.x >= min.x && p.x <= max.x && p.y >= min.y && p.y <= max.y;
    }
    [[nodiscard]] constexpr bool overlaps(const Box& o) const {
        return min.x <= o.max.x && o.min.x <= max.x && min.y <= o.max.y && o.min.y <= max.y;
    }
};

} // namespace padchart::geometry
