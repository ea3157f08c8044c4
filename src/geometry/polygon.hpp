#pragma once
// Areas in mm. A ring is closed without repeating its first point. A polygon is one outer ring with
// holes; a region is any number of polygons. None of them promises to be valid (hand-traced rings
// cross themselves): geometry/validity.hpp tells and mends.

#include <span>
#include <vector>

#include "geometry/affine.hpp"
#include "geometry/box.hpp"
#include "geometry/vec2.hpp"

namespace padchart::geometry {

using Ring = std::vector<Vec2>;

struct Polygon {
    Ring outer;
    std::vector<Ring> holes;

    bool operator==(const Polygon&) const = default;
};

using Region = std::vector<Polygon>;

[[nodiscard]] Box bounds(std::span<const Vec2> points);
[[nodiscard]] Box bounds(const Polygon& polygon);
[[nodiscard]] Box bounds(const Region& region);

/// Shoelace area, mm2. Positive for a ring that runs clockwise on the page (y down).
[[nodiscard]] double signed_area(std::span<const Vec2> ring);
/// Outer area less the holes, mm2, never negative for a valid polygon.
[[nodiscard]] double area(const Polygon& polygon);
/// Sum of the polygons' areas: what two of them share counts twice (unite first).
[[nodiscard]] double area(const Region& region);

/// Area centroid; the mean of the points where the area is zero.
/// Requires: not empty.
[[nodiscard]] Vec2 centroid(std::span<const Vec2> ring);

/// Convex, with an area, going round once; either way round. Such a ring is valid without further search.
[[nodiscard]] bool is_convex_ring(std::span<const Vec2> ring);

/// Even-odd. A point on the edge may answer either way.
[[nodiscard]] bool contains(std::span<const Vec2> ring, Vec2 point);
[[nodiscard]] bool contains(const Polygon& polygon, Vec2 point);
[[nodiscard]] bool contains(const Region& region, Vec2 point);

[[nodiscard]] Ring transformed(std::span<const Vec2> ring, const Affine& map);
[[nodiscard]] Polygon transformed(const Polygon& polygon, const Affine& map);

/// An axis-parallel rectangle about the origin.
[[nodiscard]] Ring rectangle(double width, double height);
/// A circle about the origin as a polygon. `Inside`: its vertices lie on the circle, so it never reaches beyond it;
/// `Outside`: its edges touch the circle, so it never falls short. Off by at most `tolerance` either way.
enum class ArcSide { Inside, Outside };
[[nodiscard]] Ring circle(double radius, double tolerance, ArcSide side = ArcSide::Inside);
/// A rectangle whose short ends are half circles.
[[nodiscard]] Ring oblong(double width, double height, double tolerance);

} // namespace padchart::geometry
