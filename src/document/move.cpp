#include "document/move.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "document/drawn_things.hpp"
#include "geometry/homography.hpp"

namespace padchart::document {
namespace {

using geometry::Affine;

/// Seen from the bottom the board turns the other way.
void move(Footprint& part, const Affine& motion) {
    const Angle turn = geometry::bearing(motion.linear({1.0, 0.0})); // counter-clockwise, seen from the top
    part.placement.at = motion(part.placement.at);
    part.placement.turn = (part.placement.turn + (part.placement.side == Side::Top ? turn : -turn)).wrapped();
}

void move(geometry::Polygon& area, const Affine& motion) {
    area = geometry::transformed(area, motion);
}
void move(geometry::Vec2& place, const Affine& motion) {
    place = motion(place);
}

void move(Photo& photo, const Affine& motion) {
    if (photo.board_from_pixel.size() == 9) {
        geometry::Homography map;
        std::copy(photo.board_from_pixel.begin(), photo.board_from_pixel.end(), map.h.begin());
        map = geometry::Homography::of(motion) * map;
        photo.board_from_pixel.assign(map.h.begin(), map.h.end());
    }
    for (PhotoPoint& point : photo.points)
        point.at = motion(point.at);
}

} // namespace

Chart moved(const Chart& chart, const Affine& motion) {
    assert(std::abs(motion.determinant() - 1.0) < 1e-6);
    Chart next = chart;
    change_all_drawn(next, [&](auto& thing) { move(thing, motion); });
    return next;
}

} // namespace padchart::document
