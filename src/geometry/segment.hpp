#pragma once
// Straight pieces between two points, and closed lines made of them: the nearest point and the distance. mm. A piece
// whose ends are the same is that point.

#include <algorithm>
#include <limits>
#include <span>

#include "geometry/vec2.hpp"

namespace padchart::geometry {

[[nodiscard]] constexpr Vec2 nearest_on_segment(Vec2 point, Vec2 a, Vec2 b) {
    const Vec2 along = b - a;
    const double square = dot(along, along);
    return square > 0.0 ? a + along * std::clamp(dot(point - a, along) / square, 0.0, 1.0) : a;
}
[[nodiscard]] inline double distance_to_segment(Vec2 point, Vec2 a, Vec2 b) {
    return distance(point, nearest_on_segment(point, a, b));
}

/// To the line itself, inside or outside; infinity where there are no points.
[[nodiscard]] inline double distance_to_closed_line(Vec2 point, std::span<const Vec2> line) {
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < line.size(); ++i)
        nearest = std::min(nearest, distance_to_segment(point, line[i], line[(i + 1) % line.size()]));
    return nearest;
}

} // namespace padchart::geometry
