#pragma once
// The obvious way to a distance: every corner against every edge. Slow, and easy to believe.

#include <algorithm>
#include <limits>

#include "geometry/polygon.hpp"

namespace padchart::testing {

inline double distance_to_edge(geometry::Vec2 p, geometry::Vec2 a, geometry::Vec2 b) {
    const geometry::Vec2 along = b - a;
    const double squared = dot(along, along);
    const double t = squared > 0.0 ? std::clamp(dot(p - a, along) / squared, 0.0, 1.0) : 0.0;
    return distance(p, a + along * t);
}

inline double distance_to_ring(geometry::Vec2 p, const geometry::Ring& ring) {
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < ring.size(); ++i)
        best = std::min(best, distance_to_edge(p, ring[i], ring[(i + 1) % ring.size()]));
    return best;
}

inline double slow_distance(geometry::Vec2 p, const geometry::Polygon& polygon) {
    if (geometry::contains(polygon, p)) return 0.0;
    double best = distance_to_ring(p, polygon.outer);
    for (const geometry::Ring& hole : polygon.holes)
        best = std::min(best, distance_to_ring(p, hole));
    return best;
}

inline bool edges_cross(geometry::Vec2 a, geometry::Vec2 b, geometry::Vec2 c, geometry::Vec2 d) {
    const double c_side = cross(b - a, c - a);
    const double d_side = cross(b - a, d - a);
    const double a_side = cross(d - c, a - c);
    const double b_side = cross(d - c, b - c);
    return ((c_side > 0) != (d_side > 0)) && ((a_side > 0) != (b_side > 0));
}

/// Between two simple rings with their insides.
inline double slow_distance(const geometry::Ring& a, const geometry::Ring& b) {
    if (geometry::contains(a, b.front()) || geometry::contains(b, a.front())) return 0.0;
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < a.size(); ++i)
        for (std::size_t j = 0; j < b.size(); ++j) {
            const geometry::Vec2 a0 = a[i], a1 = a[(i + 1) % a.size()], b0 = b[j], b1 = b[(j + 1) % b.size()];
            if (edges_cross(a0, a1, b0, b1)) return 0.0;
            best = std::min({best, distance_to_edge(a0, b0, b1), distance_to_edge(b0, a0, a1)});
        }
    return best;
}

} // namespace padchart::testing
