#pragma once
// A convex shape that turns about the origin beside shapes that stand still: at which bearings does it come nearer than
// a margin, and how near does it come at one bearing?
//
// Where the answer changes, the two are exactly the margin apart, and then a corner of one is the margin away from a
// corner or an edge of the other. Each such pair gives an equation in the bearing with at most two solutions (law of
// cosines for two corners; projection on the edge's normal for corner and edge). All solutions of a pair of edges cut
// the turn into pieces on which the answer is one and the same, and the middle of each piece tells it: the obstacle in
// the space of bearings, exact but for rounding, which is made up for by kGuard_deg on the cautious side.
//
// Frame: mm, y UP, bearings counter-clockwise. For the access files.

#include <span>

#include "analysis/access_bearings.hpp"
#include "geometry/polygon.hpp"

namespace padchart::analysis {

/// Blocked sectors are wider than the true ones by this much at either end.
inline constexpr double kGuard_deg = 1e-6;

/// Bearings at which the turning ring overlaps the still area or comes nearer than `margin_mm`.
/// Requires: `turning` is a hull of at least three corners, margin_mm >= 0.
[[nodiscard]] Bearings blocked_bearings(std::span<const geometry::Vec2> turning, const geometry::Region& still,
                                        double margin_mm);

/// Between the ring as it stands and the area; where they overlap, below 0 by how far the ring would have to be pushed
/// to come free of the area's hull. Requires: as above; `still` is not empty.
[[nodiscard]] double signed_gap(std::span<const geometry::Vec2> ring, const geometry::Region& still);

/// Counter-clockwise about the origin.
[[nodiscard]] geometry::Ring turned(std::span<const geometry::Vec2> ring, double bearing_deg);

} // namespace padchart::analysis
