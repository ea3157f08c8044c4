#include "geometry/turned_box.hpp"

#include <limits>

#include "geometry/box.hpp"

namespace padchart::geometry {

TurnedBox narrowest_box(const Ring& ring) {
    TurnedBox best{ring.empty() ? Vec2{} : ring.front(), {1.0, 0.0}};
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 edge = ring[(i + 1) % ring.size()] - ring[i];
        const double edge_length = length(edge);
        if (!(edge_length > 0.0)) continue;
        const Vec2 along = edge / edge_length;
        const Vec2 across{-along.y, along.x};
        Box own;
        for (const Vec2 p : ring)
            own.add(Vec2{dot(p, along), dot(p, across)});
        if (own.width() * own.height() >= least) continue;
        least = own.width() * own.height();
        best = {along * own.centre().x + across * own.centre().y, along, own.width(), own.height()};
    }
    return best;
}

} // namespace padchart::geometry
