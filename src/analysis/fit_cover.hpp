#pragma once
// The copper of one pad, cut into convex pieces so that overlaps are exact and can be bounded over a whole range of
// shifts. A hollow outline is its hull less the hollows, so pieces carry a sign; overlaps add up with the signs.
// Two boxes and two circles are in closed form (elementary; the lens of two circles: any handbook of mathematics).
// mm, about the pad's own centre. Shared by the fit_*.cpp only.

#include <vector>

#include "geometry/polygon.hpp"

namespace padchart::analysis::fitting {

struct Piece {
    enum class Kind { Box, Circle, Convex };
    Kind kind = Kind::Convex;
    double sign = 1.0;
    double area_mm2 = 0.0;
    double radius_mm = 0.0; ///< of a circle about the origin
    geometry::Box box;
    geometry::Ring ring; ///< for a circle: a polygon of the same area
};

struct Cover {
    std::vector<Piece> pieces;
    double area_mm2 = 0.0;
    geometry::Box box;
};

[[nodiscard]] Cover cover_of_box(double width_mm, double height_mm);
[[nodiscard]] Cover cover_of_circle(double diameter_mm);
/// A rectangle with half circles for its short ends, as a polygon of the same area.
[[nodiscard]] Cover cover_of_oblong(double width_mm, double height_mm, Angle turn);
/// Of one ring, mended first if it crosses itself. No pieces where it has no area.
[[nodiscard]] Cover cover_of_ring(const geometry::Ring& ring);

/// Moved by a map that keeps lengths; its pieces are polygons from then on.
[[nodiscard]] Cover moved(const Cover& cover, const geometry::Affine& map);

/// mm2 that `moving`, shifted by `offset`, shares with `fixed`.
[[nodiscard]] double overlap(const Cover& moving, geometry::Vec2 offset, const Cover& fixed);

/// The overlap at the middle of a square of offsets, and limits that hold all over that square.
struct OverlapRange {
    double low = 0.0;
    double middle = 0.0;
    double high = 0.0;
};

/// Over every offset with |dx|, |dy| from `offset` up to `half`. The limits of boxes and circles are exact. Between
/// convex pieces the root of the overlap area is a concave function of the offset (Brunn-Minkowski inequality), so its
/// least value lies at a corner of the square, and the middle and the corners bound the greatest; so does the length
/// over which an edge can sweep.
[[nodiscard]] OverlapRange overlap_over(const Cover& moving, geometry::Vec2 offset, double half, const Cover& fixed);

/// No overlap within the square is larger: from the boxes alone, at next to no cost.
[[nodiscard]] double box_overlap_limit(const Cover& moving, geometry::Vec2 offset, double half, const Cover& fixed);

/// True when every corner turns the same way and the ring goes round once.
[[nodiscard]] bool is_convex(std::span<const geometry::Vec2> ring);
/// Without doubled points and points on a straight line between their neighbours.
[[nodiscard]] geometry::Ring without_idle_points(const geometry::Ring& ring);

} // namespace padchart::analysis::fitting
