// The whole chart in another scale: every place and length that was drawn, none that was measured on its own (heights,
// nozzle and rules are millimetres of the real world already).

#include <algorithm>
#include <cmath>
#include <utility>

#include "document/drawn_things.hpp"
#include "document/edits.hpp"

namespace padchart::document {
namespace {

using geometry::Polygon;
using geometry::Ring;

/// By how much, and to how many decimals: a chart file holds numbers people can read.
struct Growth {
    double factor = 1.0;
    double steps = 1e6; ///< in a millimetre

    [[nodiscard]] double operator()(double length) const {
        const double count = std::round(length * factor * steps);
        // Beyond that a double knows no such steps.
        return std::abs(count) < 9e15 ? count / steps + 0.0 : length * factor;
    }
    [[nodiscard]] geometry::Vec2 operator()(geometry::Vec2 p) const { return {(*this)(p.x), (*this)(p.y)}; }
};

/// A millionth of a millimetre, far below what anybody can draw; finer where a wrong scale makes the chart so small
/// that it would lose its shape.
Growth growth_of(const Chart& chart, double factor) {
    constexpr double kLeastShare_log = 7.0; // of the chart's size
    geometry::Box box;
    if (chart.board.outline) box.add(geometry::bounds(*chart.board.outline));
    for (const Footprint& part : chart.parts)
        box.add(geometry::bounds(extent_on_board(part)));
    for (const KeepOut& thing : chart.keep_outs)
        box.add(geometry::bounds(thing.outline));
    const double size = box.is_empty() ? 0.0 : std::max(box.width(), box.height()) * factor;
    const double decimals = size > 0.0 ? std::ceil(kLeastShare_log - std::log10(size)) : 6.0;
    return {factor, std::pow(10.0, std::clamp(decimals, 6.0, 15.0))};
}

void scale_by(geometry::Vec2& place, const Growth& k) {
    place = k(place);
}

void scale_by(Ring& ring, const Growth& k) {
    for (geometry::Vec2& p : ring)
        p = k(p);
}

void scale_by(Polygon& polygon, const Growth& k) {
    scale_by(polygon.outer, k);
    for (Ring& hole : polygon.holes)
        scale_by(hole, k);
}

void scale_by(Shape& shape, const Growth& k) {
    shape.width_mm = k(shape.width_mm);
    shape.height_mm = k(shape.height_mm);
    scale_by(shape.points, k);
}

void scale_by(Footprint& part, const Growth& k) {
    part.placement.at = k(part.placement.at);
    for (Pad& pad : part.pads) {
        pad.at = k(pad.at);
        scale_by(pad.shape, k);
    }
    if (part.body) {
        part.body->at = k(part.body->at);
        scale_by(part.body->shape, k);
    }
}

/// board = H * pixel, so the first two rows grow with the board.
void scale_by(Photo& photo, const Growth& k) {
    for (std::size_t i = 0; i < 6 && i < photo.board_from_pixel.size(); ++i)
        photo.board_from_pixel[i] *= k.factor; // not lengths of the board: to all digits
    for (PhotoPoint& point : photo.points)
        point.at = k(point.at);
}

} // namespace

Result<Chart> rescale(const Chart& chart, double factor, Scale scale) {
    if (!std::isfinite(factor) || factor <= 0.0)
        return Error{"the chart cannot be scaled by " + std::to_string(factor) + "; right would be a factor above 0",
                     {}};
    const Growth growth = growth_of(chart, factor);
    Chart next = chart;
    change_all_drawn(next, [&](auto& thing) { scale_by(thing, growth); });
    return set_scale(next, std::move(scale));
}

} // namespace padchart::document
