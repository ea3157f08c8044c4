#include "document/mark_spot.hpp"

#include <algorithm>

namespace padchart::document {

using geometry::Ring;
using geometry::Vec2;

std::optional<Vec2> mark_spot(const Footprint& part) {
    if (part.orientation.state != RecordState::Recorded) return std::nullopt;
    const Ring extent = extent_in_part(part);
    const Vec2 centre = centre_in_part(part), way = geometry::direction(part.orientation.bearing);
    double reach = 0.0;
    for (std::size_t i = 0; i < extent.size(); ++i) {
        const Vec2 from = extent[i] - centre, along = extent[(i + 1) % extent.size()] - extent[i];
        const double slant = geometry::cross(way, along);
        if (slant == 0.0) continue;
        const double share = geometry::cross(from, way) / slant; // of this edge, where the ray crosses it
        if (share >= 0.0 && share <= 1.0) reach = std::max(reach, geometry::cross(from, along) / slant);
    }
    return centre + way * reach;
}

void set_mark_spot(Footprint& part, Vec2 spot) {
    const Vec2 off = spot - centre_in_part(part);
    if (geometry::length(off) > 0.0) part.orientation.bearing = geometry::bearing(off);
}

} // namespace padchart::document
