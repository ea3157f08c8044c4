#include "document/fragment.hpp"

#include <algorithm>
#include <cmath>

#include "document/move.hpp"
#include "document/part_finder.hpp"
#include "document/things.hpp"

namespace padchart::document {
namespace {

using geometry::Affine;
using geometry::Vec2;

/// Without the noise of sums.
Vec2 clean(Vec2 mm) {
    constexpr double kPerMm = 1e6;
    return {std::round(mm.x * kPerMm) / kPerMm, std::round(mm.y * kPerMm) / kPerMm};
}

geometry::Polygon clean_outline(const geometry::Polygon& outline, const Affine& map) {
    geometry::Polygon moved = geometry::transformed(outline, map);
    for (Vec2& p : moved.outer)
        p = clean(p);
    for (geometry::Ring& hole : moved.holes)
        for (Vec2& p : hole)
            p = clean(p);
    return moved;
}

} // namespace

Result<Fragment> fragment_of(const Chart& chart, std::span<const Id> ids) {
    Fragment taken;
    PartFinder finder(chart);
    for (const Id& id : ids) {
        if (const auto at = finder.find(id))
            taken.parts.push_back(chart.parts[*at]);
        else if (const KeepOut* keep_out = find_keep_out(chart, id))
            taken.keep_outs.push_back(*keep_out);
        else if (const Shield* shield = find_shield(chart, id))
            taken.shields.push_back(*shield);
        else if (const Note* note = find_note(chart, id))
            taken.notes.push_back(*note);
        else if (!is_taken(chart, id))
            return Error{"nothing in this chart bears the id \"" + id.text + "\"", {}};
    }
    return taken;
}

Fragment moved(Fragment fragment, Vec2 by) {
    const Affine map = Affine::translation(by);
    for (Footprint& part : fragment.parts)
        part.placement.at = clean(part.placement.at + by);
    for (KeepOut& thing : fragment.keep_outs)
        thing.outline = clean_outline(thing.outline, map);
    for (Shield& thing : fragment.shields)
        thing.outline = clean_outline(thing.outline, map);
    for (Note& thing : fragment.notes)
        thing.at = clean(thing.at + by);
    return fragment;
}

bool lies_on(const Fragment& fragment, Side side) {
    const auto all = [side](const auto& list) {
        return std::all_of(list.begin(), list.end(), [side](const auto& thing) { return thing.side == side; });
    };
    const bool parts = std::all_of(fragment.parts.begin(), fragment.parts.end(),
                                   [side](const Footprint& part) { return part.placement.side == side; });
    return !fragment.empty() && parts && all(fragment.keep_outs) && all(fragment.shields) && all(fragment.notes);
}

Fragment laid_over(Fragment fragment, double about_x) {
    const Affine map = Affine::translation({2 * about_x, 0}) * Affine::scaling(-1, 1);
    for (Footprint& part : fragment.parts) {
        part.placement.side = other_side(part.placement.side);
        part.placement.at = clean(map(part.placement.at));
    }
    for (KeepOut& thing : fragment.keep_outs) {
        thing.side = other_side(thing.side);
        thing.outline = clean_outline(thing.outline, map);
    }
    for (Shield& thing : fragment.shields) {
        thing.side = other_side(thing.side);
        thing.outline = clean_outline(thing.outline, map);
    }
    for (Note& thing : fragment.notes) {
        thing.side = other_side(thing.side);
        thing.at = clean(map(thing.at));
    }
    return fragment;
}

geometry::Box bounds_of(const Fragment& fragment) {
    geometry::Box box;
    for (const Footprint& part : fragment.parts) {
        box.add(geometry::bounds(extent_on_board(part)));
        for (const Pad& pad : part.pads)
            box.add(geometry::bounds(outline_on_board(part, pad)));
    }
    for (const KeepOut& thing : fragment.keep_outs)
        box.add(geometry::bounds(thing.outline));
    for (const Shield& thing : fragment.shields)
        box.add(geometry::bounds(thing.outline));
    for (const Note& thing : fragment.notes)
        box.add(thing.at);
    return box;
}

} // namespace padchart::document
