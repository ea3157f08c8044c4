#pragma once
// Set operations on areas and widening, done by GEOS behind this face. Input rings are mended first
// (see validity.hpp), since a self-crossing ring would otherwise lose parts without a word.
// Results are valid, outer rings and holes in no promised order.

#include "geometry/polygon.hpp"

namespace padchart::geometry {

[[nodiscard]] Region unite(const Region& a);
[[nodiscard]] Region unite(const Region& a, const Region& b);
[[nodiscard]] Region intersect(const Region& a, const Region& b);
[[nodiscard]] Region subtract(const Region& a, const Region& b);

/// Overlap in mm2 of two convex rings: a few multiplications, no GEOS.
/// Requires: both rings convex, any direction.
[[nodiscard]] double convex_overlap_area(std::span<const Vec2> a, std::span<const Vec2> b);

/// Everything within `by` mm of the area. Never smaller than the true set: the arcs are rounded up, by at most
/// `kArcExcess` of `by`. A polygon without area is widened as the line or point it is. With by < 0 the area shrinks
/// (never larger than the true set).
inline constexpr double kArcExcess = 0.0005;
[[nodiscard]] Region widen(const Region& region, double by);

/// Fewer vertices, no point moved by more than `tolerance` mm; topology kept.
[[nodiscard]] Region simplify(const Region& region, double tolerance);

} // namespace padchart::geometry
