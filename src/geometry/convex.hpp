#pragma once
// Convex rings, and distances between rings without GEOS: for questions that are asked a thousand times a second about
// a handful of corners. mm; rings run either way unless said otherwise.

#include <span>

#include "geometry/polygon.hpp"

namespace padchart::geometry {

/// The smallest convex ring round the points, corners only, counter-clockwise where y points up. Fewer than three
/// points where they have no area.
[[nodiscard]] Ring convex_hull(std::span<const Vec2> points);

/// All sums of a point of one and a point of the other. Requires: both convex, neither empty.
[[nodiscard]] Ring minkowski_sum(std::span<const Vec2> a, std::span<const Vec2> b);

/// Between two straight pieces; 0 where they touch or cross.
[[nodiscard]] double segment_distance(Vec2 a, Vec2 b, Vec2 c, Vec2 d);

/// How far one convex ring must at least be pushed to come free of the other, across an edge of one of them (separating
/// axes); not above 0 where they do not overlap. Requires: both are hulls (convex_hull) of at least three corners.
[[nodiscard]] double overlap_depth(std::span<const Vec2> a, std::span<const Vec2> b);

} // namespace padchart::geometry
