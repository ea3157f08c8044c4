#include "document/footprint.hpp"

#include <cmath>

namespace padchart::document {

using geometry::Affine;
using geometry::Ring;
using geometry::Vec2;

namespace {

Ring placed(const Shape& shape, Angle turn, Vec2 at) {
    return geometry::transformed(outline_of(shape), Affine::translation(at) * Affine::rotation(turn));
}

/// The box round the pads, in the part's frame; empty without pads.
Ring box_round_pads(const Footprint& part) {
    geometry::Box box;
    for (const Pad& pad : part.pads)
        box.add(geometry::bounds(outline_in_part(pad)));
    if (box.is_empty()) return {};
    return {box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}};
}

} // namespace

Affine board_from_part(const Placement& placement) {
    // On the bottom the part's own x runs to the left as seen from the top.
    const Affine side = placement.side == Side::Top ? Affine{} : Affine::scaling(-1.0, 1.0);
    return Affine::translation(placement.at) * side * Affine::rotation(placement.turn);
}

Ring outline_of(const Shape& shape) {
    switch (shape.kind) {
    case ShapeKind::Rectangle: return geometry::rectangle(shape.width_mm, shape.height_mm);
    case ShapeKind::Round: return geometry::circle(shape.width_mm / 2.0, kShapeTolerance);
    case ShapeKind::Oblong: return geometry::oblong(shape.width_mm, shape.height_mm, kShapeTolerance);
    case ShapeKind::Polygon: return shape.points;
    }
    return {};
}

Ring outline_in_part(const Pad& pad) {
    return placed(pad.shape, pad.turn, pad.at);
}
Ring outline_in_part(const Body& body) {
    return placed(body.shape, body.turn, body.at);
}

Ring outline_on_board(const Footprint& part, const Pad& pad) {
    return geometry::transformed(outline_in_part(pad), board_from_part(part.placement));
}

Ring body_on_board(const Footprint& part) {
    if (!part.body) return {};
    return geometry::transformed(outline_in_part(*part.body), board_from_part(part.placement));
}

Ring extent_in_part(const Footprint& part) {
    return part.body ? outline_in_part(*part.body) : box_round_pads(part);
}

Ring extent_on_board(const Footprint& part) {
    return geometry::transformed(extent_in_part(part), board_from_part(part.placement));
}

Vec2 centre_in_part(const Footprint& part) {
    if (part.body && part.body->shape.kind != ShapeKind::Polygon) return part.body->at;
    const Ring extent = extent_in_part(part);
    return extent.empty() ? Vec2{} : geometry::bounds(extent).centre();
}

int pad_count(const Footprint& part) {
    return part.stated_pad_count.value_or(static_cast<int>(part.pads.size()));
}

} // namespace padchart::document
