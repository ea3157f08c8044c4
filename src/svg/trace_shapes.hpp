#pragma once
// Rings of a trace as the plain shapes of a chart: rectangle, round, oblong where the ring is one within a tolerance,
// else a polygon with few points. The geometry never moves by more than the tolerance.

#include "document/footprint.hpp"
#include "geometry/polygon.hpp"

namespace padchart::svg {

/// A shape where it was drawn: `axis` is the unit direction of its own +x on the board. Polygon points are about `at`,
/// in board directions.
struct PlacedShape {
    document::Shape shape;
    geometry::Vec2 at;
    geometry::Vec2 axis{1.0, 0.0};
};

/// Requires: the ring has at least three points.
[[nodiscard]] PlacedShape recognised(const geometry::Ring& ring, double tolerance);

/// Fewer points, none of those dropped farther than `tolerance` from the new ring (Douglas and Peucker, 1973).
[[nodiscard]] geometry::Ring simplified(const geometry::Ring& ring, double tolerance);

/// To whole nanometres: far below any drawing, and what is left of 0.1 + 0.2 does not reach the file.
[[nodiscard]] double tidy(double mm);
[[nodiscard]] geometry::Vec2 tidy(geometry::Vec2 point);
[[nodiscard]] geometry::Polygon tidy(geometry::Polygon polygon);

} // namespace padchart::svg
