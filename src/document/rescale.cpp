// The whole chart in another scale: every place and length that was drawn, none that was measured on its own (heights,
// nozzle and rules are millimetres of the real world already).

#include <cmath>
#include <utility>

#include "document/edits.hpp"

namespace padchart::document {
namespace {

using geometry::Polygon;
using geometry::Ring;

void scale_by(Ring& ring, double k) {
    for (geometry::Vec2& p : ring)
        p = p * k;
}

void scale_by(Polygon& polygon, double k) {
    scale_by(polygon.outer, k);
    for (Ring& hole : polygon.holes)
        scale_by(hole, k);
}

void scale_by(Shape& shape, double k) {
    shape.width_mm *= k;
    shape.height_mm *= k;
    scale_by(shape.points, k);
}

void scale_by(Footprint& part, double k) {
    part.placement.at = part.placement.at * k;
    for (Pad& pad : part.pads) {
        pad.at = pad.at * k;
        scale_by(pad.shape, k);
    }
    if (part.body) {
        part.body->at = part.body->at * k;
        scale_by(part.body->shape, k);
    }
}

void scale_by(KeepOut& thing, double k) {
    scale_by(thing.outline, k);
}
void scale_by(Shield& thing, double k) {
    scale_by(thing.outline, k);
}
void scale_by(CopperArea& thing, double k) {
    scale_by(thing.outline, k);
}
void scale_by(Note& thing, double k) {
    thing.at = thing.at * k;
}
void scale_by(Reading& thing, double k) {
    thing.at = thing.at * k;
}
void scale_by(HeatPlan& thing, double k) {
    thing.aim = thing.aim * k;
}

/// board = H * pixel, so the first two rows grow with the board.
void scale_by(Photo& photo, double k) {
    for (std::size_t i = 0; i < 6 && i < photo.board_from_pixel.size(); ++i)
        photo.board_from_pixel[i] *= k;
    for (PhotoPoint& point : photo.points)
        point.at = point.at * k;
}

template <class T>
void scale_all(Items<T>& items, double k) {
    for (std::size_t i = 0; i < items.size(); ++i) {
        T thing = items[i];
        scale_by(thing, k);
        items.replace(i, std::move(thing));
    }
}

} // namespace

Result<Chart> rescale(const Chart& chart, double factor, Scale scale) {
    if (!std::isfinite(factor) || factor <= 0.0)
        return Error{"the chart cannot be scaled by " + std::to_string(factor) + "; right would be a factor above 0",
                     {}};
    Chart next = chart;
    if (next.board.outline) scale_by(*next.board.outline, factor);
    scale_all(next.parts, factor);
    scale_all(next.keep_outs, factor);
    scale_all(next.shields, factor);
    scale_all(next.notes, factor);
    scale_all(next.readings, factor);
    scale_all(next.heat_plans, factor);
    scale_all(next.photos, factor);
    scale_all(next.copper_areas, factor);
    return set_scale(next, std::move(scale));
}

} // namespace padchart::document
