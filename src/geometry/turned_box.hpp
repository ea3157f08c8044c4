#pragma once
// A rectangle that lies at any angle, and the narrowest one round an outline.

#include "geometry/polygon.hpp"
#include "geometry/vec2.hpp"

namespace padchart::geometry {

struct TurnedBox {
    Vec2 centre;
    Vec2 along;          ///< of length 1, the direction of `length`
    double length = 0.0; ///< along `along`, not always the longer one
    double width = 0.0;  ///< square to it

    [[nodiscard]] double area() const { return length * width; }
};

/// The box of the least area round a ring that lies along one of its edges: for a convex ring no other box is smaller
/// (H. Freeman and R. Shapira, Determining the minimum-area encasing rectangle for an arbitrary closed curve, 1975;
/// cited from memory). Of length and width 0 at the first corner where the ring has no edge.
[[nodiscard]] TurnedBox narrowest_box(const Ring& ring);

} // namespace padchart::geometry
