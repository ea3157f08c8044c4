#include "document/move.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "geometry/homography.hpp"

namespace padchart::document {
namespace {

using geometry::Affine;

/// Counter-clockwise as seen from the top.
Angle turn_of(const Affine& motion) {
    return Angle::radians(std::atan2(-motion.b, motion.a));
}

/// Seen from the bottom the board turns the other way.
void move(Footprint& part, const Affine& motion) {
    const Angle turn = turn_of(motion);
    part.placement.at = motion(part.placement.at);
    part.placement.turn = (part.placement.turn + (part.placement.side == Side::Top ? turn : -turn)).wrapped();
}

void move(KeepOut& thing, const Affine& motion) {
    thing.outline = geometry::transformed(thing.outline, motion);
}
void move(Shield& thing, const Affine& motion) {
    thing.outline = geometry::transformed(thing.outline, motion);
}
void move(CopperArea& thing, const Affine& motion) {
    thing.outline = geometry::transformed(thing.outline, motion);
}
void move(Note& thing, const Affine& motion) {
    thing.at = motion(thing.at);
}
void move(Reading& thing, const Affine& motion) {
    thing.at = motion(thing.at);
}
void move(HeatPlan& thing, const Affine& motion) {
    thing.aim = motion(thing.aim);
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

template <class T>
void move_all(Items<T>& items, const Affine& motion) {
    for (std::size_t i = 0; i < items.size(); ++i) {
        T thing = items[i];
        move(thing, motion);
        items.replace(i, std::move(thing));
    }
}

} // namespace

Chart moved(const Chart& chart, const Affine& motion) {
    assert(std::abs(motion.determinant() - 1.0) < 1e-6);
    Chart next = chart;
    if (next.board.outline) next.board.outline = geometry::transformed(*next.board.outline, motion);
    move_all(next.parts, motion);
    move_all(next.keep_outs, motion);
    move_all(next.shields, motion);
    move_all(next.notes, motion);
    move_all(next.readings, motion);
    move_all(next.heat_plans, motion);
    move_all(next.photos, motion);
    move_all(next.copper_areas, motion);
    return next;
}

} // namespace padchart::document
