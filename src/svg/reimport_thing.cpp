#include "svg/reimport_thing.hpp"

#include <cmath>

namespace padchart::svg {

using geometry::Vec2;

Vec2 middle(const geometry::Ring& ring) {
    Vec2 sum;
    for (const Vec2 p : ring)
        sum += p;
    return ring.empty() ? sum : sum / static_cast<double>(ring.size());
}

Vec2 middle_of(const document::Footprint& part) {
    if (part.body) return middle(document::body_on_board(part));
    geometry::Ring places;
    for (const document::Pad& pad : part.pads)
        places.push_back(document::board_from_part(part.placement)(pad.at));
    return middle(places);
}
Vec2 middle_of(const document::KeepOut& thing) {
    return middle(thing.outline.outer);
}

ThingKind kind_of(const document::Footprint& part) {
    return {part.placement.side, part.pads.size(), part.body.has_value()};
}
ThingKind kind_of(const document::KeepOut& thing) {
    return {thing.side, 0, true};
}

double size_of(const geometry::Ring& ring) {
    return std::sqrt(std::abs(geometry::signed_area(ring)));
}
double size_of(const document::Footprint& part) {
    if (part.body) return size_of(document::body_on_board(part));
    double area = 0.0;
    for (const document::Pad& pad : part.pads)
        area += std::abs(geometry::signed_area(document::outline_in_part(pad)));
    return std::sqrt(area);
}
double size_of(const document::KeepOut& thing) {
    return size_of(thing.outline.outer);
}

} // namespace padchart::svg
