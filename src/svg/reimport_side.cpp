#include "svg/reimport_side.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Vec2;

const Affine kMirror = Affine::scaling(-1.0, 1.0);

Angle mirrored_turn(Angle turn) {
    return (-turn).wrapped();
}

void mirror(document::Shape& shape, Vec2& at, Angle& turn) {
    at = kMirror(at);
    turn = mirrored_turn(turn);
    shape.points = geometry::transformed(shape.points, kMirror);
}

} // namespace

document::Footprint on_other_side(document::Footprint part) {
    using document::Side;
    part.placement.side = part.placement.side == Side::Top ? Side::Bottom : Side::Top;
    part.placement.turn = mirrored_turn(part.placement.turn);
    if (!part.family.empty()) return part;
    if (part.orientation.state == document::RecordState::Recorded)
        part.orientation.bearing = (Angle::degrees(180.0) - part.orientation.bearing).wrapped();
    for (document::Pad& pad : part.pads)
        mirror(pad.shape, pad.at, pad.turn);
    if (part.body) mirror(part.body->shape, part.body->at, part.body->turn);
    return part;
}

document::Footprint on_other_side_as_seen(document::Footprint part) {
    using document::Side;
    part.placement.side = part.placement.side == Side::Top ? Side::Bottom : Side::Top;
    return part;
}

std::string_view on_side(document::Side side) {
    return side == document::Side::Top ? "on the top" : "on the bottom";
}

} // namespace padchart::svg
