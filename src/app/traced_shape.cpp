#include "app/traced_shape.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

#include "app/editor.hpp"
#include "app/scale_desk.hpp"
#include "app/snap.hpp"
#include "document/edits.hpp"
#include "geometry/validity.hpp"
#include "svg/trace_shapes.hpp"

namespace padchart::app {

using document::Chart;
using document::Footprint;
using document::Id;
using document::ShapeKind;
using geometry::Affine;
using geometry::Ring;
using geometry::Vec2;

namespace {

/// Shorter than this is a slip of the hand: half a hundredth of a mm.
constexpr double kLeast = 0.005;

Result<TracedShape> rectangle_of(Vec2 origin, Vec2 axis, double width, double height) {
    // Width along the axis, height square to it; both may be negative as drawn.
    if (std::abs(width) < kLeast || std::abs(height) < kLeast) return Error{"This rectangle has no area.", ""};
    const Vec2 across{-axis.y, axis.x};
    TracedShape shape;
    shape.kind = ShapeKind::Rectangle;
    shape.axis = axis;
    shape.width = std::abs(width);
    shape.height = std::abs(height);
    shape.centre = origin + axis * (width / 2) + across * (height / 2);
    shape.ring = {origin, origin + axis * width, origin + axis * width + across * height, origin + across * height};
    return shape;
}

Result<TracedShape> turned_rectangle(Vec2 a, Vec2 b, Vec2 through) {
    const double side = geometry::distance(a, b);
    if (side < kLeast) return Error{"The first two points are the same.", ""};
    const Vec2 axis = (b - a) / side;
    return rectangle_of(a, axis, side, geometry::cross(axis, through - a));
}

/// The circle through three points: the place as far from each of them.
Result<TracedShape> round_of(Vec2 a, Vec2 b, Vec2 c) {
    const Vec2 p = b - a, q = c - a;
    const double twice = 2.0 * geometry::cross(p, q);
    const double longest = std::max({geometry::length(p), geometry::length(q), geometry::distance(b, c)});
    if (std::abs(twice) < 1e-3 * longest * longest || longest < kLeast)
        return Error{"These three points lie in a line; right would be three points round the edge.", ""};
    const Vec2 off{(q.y * geometry::dot(p, p) - p.y * geometry::dot(q, q)) / twice,
                   (p.x * geometry::dot(q, q) - q.x * geometry::dot(p, p)) / twice};
    TracedShape shape;
    shape.kind = ShapeKind::Round;
    shape.centre = a + off;
    shape.width = shape.height = 2.0 * geometry::length(off);
    shape.ring = geometry::transformed(geometry::circle(shape.width / 2, document::kShapeTolerance),
                                       Affine::translation(shape.centre));
    return shape;
}

Result<TracedShape> polygon_of(std::span<const Vec2> points) {
    TracedShape shape;
    shape.ring.assign(points.begin(), points.end());
    if (const auto flaw = geometry::flaw_of({shape.ring, {}}))
        return Error{fmt::format("This outline {} at x {:.2f}, y {:.2f}.", flaw->reason, flaw->at.x, flaw->at.y), ""};
    shape.centre = geometry::centroid(shape.ring);
    return shape;
}

struct Seated {
    document::Shape shape;
    Vec2 at;
    Angle turn;
};

/// The shape in the part's frame. A rectangle and its half turn are the same: the turn is kept small.
Seated seated(const TracedShape& traced, const Affine& part_from_board) {
    Seated out;
    out.at = svg::tidy(part_from_board(traced.centre));
    out.shape.kind = traced.kind;
    if (traced.kind == ShapeKind::Polygon) {
        for (const Vec2 p : traced.ring)
            out.shape.points.push_back(svg::tidy(part_from_board(p) - out.at));
        return out;
    }
    out.shape.width_mm = svg::tidy(traced.width);
    out.shape.height_mm = traced.kind == ShapeKind::Round ? out.shape.width_mm : svg::tidy(traced.height);
    if (traced.kind == ShapeKind::Rectangle) {
        double turn = geometry::bearing(part_from_board.linear(traced.axis)).signed_turn().degrees();
        if (turn > 90.0) turn -= 180.0;
        if (turn <= -90.0) turn += 180.0;
        out.turn = Angle::degrees(std::abs(turn) < 1e-9 ? 0.0 : turn);
    }
    return out;
}

bool is_loose(const Footprint& part) {
    return part.name.empty() && !part.body && part.family.empty() && !part.locked;
}

/// Pads of loose parts that lie wholly in the ring, as pads of this part; the loose parts lose them.
void take_in_loose_pads(Chart& chart, Footprint& part, const Ring& ring) {
    const auto own = static_cast<std::ptrdiff_t>(part.pads.size());
    const Affine part_from_board = document::board_from_part(part.placement).inverse();
    for (std::size_t p = chart.parts.size(); p-- > 0;) {
        Footprint loose = chart.parts[p];
        if (!is_loose(loose) || loose.placement.side != part.placement.side) continue;
        const Affine board = document::board_from_part(loose.placement);
        const Affine map = part_from_board * board;
        std::vector<document::Pad> left;
        for (document::Pad& pad : loose.pads) {
            if (!geometry::contains(ring, board(pad.at))) {
                left.push_back(pad);
                continue;
            }
            pad.at = svg::tidy(map(pad.at));
            pad.turn = geometry::bearing(map.linear(geometry::direction(pad.turn)));
            part.pads.push_back(std::move(pad));
        }
        if (left.size() == loose.pads.size()) continue;
        loose.pads = std::move(left);
        if (loose.pads.empty())
            chart.parts.erase(p);
        else
            chart.parts.replace(p, std::move(loose));
    }
    std::reverse(part.pads.begin() + own, part.pads.end()); // back to the order they were drawn in
}

/// A pad farther from a body than that is long belongs to something else. Common practice, no source.
bool is_in_reach(const geometry::Box& body, Vec2 at) {
    return body.grown(std::max(body.width(), body.height())).contains(at);
}

/// The body lies among the pads, or over half of them or more, and none is out of its reach.
bool lies_among_pads(const Footprint& part, const TracedShape& shape) {
    const geometry::Box body = geometry::bounds(shape.ring);
    const Affine board = document::board_from_part(part.placement);
    geometry::Box pads;
    std::size_t inside = 0;
    for (const document::Pad& pad : part.pads) {
        const Vec2 at = board(pad.at);
        if (!is_in_reach(body, at)) return false;
        if (geometry::contains(shape.ring, at)) ++inside;
        pads.add(geometry::bounds(document::outline_on_board(part, pad)));
    }
    return !part.pads.empty() && (pads.contains(shape.centre) || 2 * inside >= part.pads.size());
}

/// The part that has lost its body, or was drawn without one, and whose pads this one lies among: of several the one
/// with most pads. Null where there is none.
const Footprint* bodiless_part(const Chart& chart, const TracedShape& shape, document::Side side) {
    const Footprint* best = nullptr;
    for (const Footprint& part : chart.parts)
        if (!part.body && !is_loose(part) && part.placement.side == side && lies_among_pads(part, shape) &&
            (best == nullptr || part.pads.size() > best->pads.size()))
            best = &part;
    return best;
}

document::Body body_of(const TracedShape& shape, const Footprint& part) {
    const Seated seat = seated(shape, document::board_from_part(part.placement).inverse());
    return {seat.at, seat.turn, seat.shape, std::nullopt};
}

Result<Traced> give_body(const Chart& chart, const TracedShape& shape, Footprint part) {
    const std::string name = part.name.empty() ? "a part" : part.name;
    if (part.locked) return Error{(part.name.empty() ? "The part" : name) + " is locked; unlock it first.", ""};
    part.body = body_of(shape, part);
    leave_family(part);
    Chart next = chart;
    take_in_loose_pads(next, part, shape.ring);
    const Id id = part.id;
    Result<Chart> given = document::change_part(next, id, [&](Footprint& changed) { changed = std::move(part); });
    if (!given) return given.error();
    return Traced{std::move(*given), "Draw the body of " + name, id};
}

Result<Traced> add_body(const Chart& chart, const TracedShape& shape, document::Side side) {
    if (const Footprint* bodiless = bodiless_part(chart, shape, side)) return give_body(chart, shape, *bodiless);
    Footprint part;
    part.name = free_name(chart, document::PartClass::Unknown);
    part.placement = {svg::tidy(shape.centre), Angle(), side};
    if (shape.kind == ShapeKind::Rectangle) {
        // A body drawn at an angle turns its part, so that the part's own sides run with it.
        const Affine mirror = side == document::Side::Top ? Affine{} : Affine::scaling(-1.0, 1.0);
        part.placement.turn = seated(shape, mirror).turn;
    }
    part.body = body_of(shape, part);
    Chart next = chart;
    take_in_loose_pads(next, part, shape.ring);
    part.id = document::free_id(next, "part", part.name);
    const Id id = part.id;
    std::string label = "Draw the body of " + part.name;
    Result<Chart> added = document::add_part(next, std::move(part));
    if (!added) return added.error();
    return Traced{std::move(*added), std::move(label), id};
}

bool is_in_reach(const Footprint& part, Vec2 at) {
    // Without a body nothing tells how large it is yet.
    return !part.body || is_in_reach(geometry::bounds(document::body_on_board(part)), at);
}

Result<Traced> add_pad(const Chart& chart, const TracedShape& shape, document::Side side, const Id& wanted) {
    Id id = wanted;
    if (const auto at = document::find_part(chart, id); at && !is_in_reach(chart.parts[*at], shape.centre)) id = {};
    if (id.is_empty()) {
        id = part_under(chart, shape.centre, side);
        const auto at = document::find_part(chart, id);
        if (at && !chart.parts[*at].body) id = {}; // on another pad, not in a body
    }
    document::Pad pad;
    if (const auto at = document::find_part(chart, id)) {
        const Footprint& part = chart.parts[*at];
        if (part.locked) return Error{part.name + " is locked; unlock it first.", ""};
        const Seated seat = seated(shape, document::board_from_part(part.placement).inverse());
        pad.at = seat.at;
        pad.turn = seat.turn;
        pad.shape = seat.shape;
        std::string label = "Draw " + pad_words(part, pad);
        Result<Chart> next = document::change_part(chart, id, [&](Footprint& changed) {
            leave_family(changed);
            changed.pads.push_back(pad);
        });
        if (!next) return next.error();
        return Traced{std::move(*next), std::move(label), id};
    }
    Footprint part;
    part.placement = {svg::tidy(shape.centre), Angle(), side};
    const Seated seat = seated(shape, document::board_from_part(part.placement).inverse());
    pad.at = seat.at;
    pad.turn = seat.turn;
    pad.shape = seat.shape;
    part.pads.push_back(std::move(pad));
    part.id = document::free_id(chart, "part", "loose pad");
    const Id made = part.id;
    Result<Chart> next = document::add_part(chart, std::move(part));
    if (!next) return next.error();
    return Traced{std::move(*next), "Draw a pad", made};
}

bool lies_in(const Ring& inner, const Ring& outer) {
    return std::all_of(inner.begin(), inner.end(), [&](Vec2 p) { return geometry::contains(outer, p); });
}

Result<Traced> set_board(const Chart& chart, const TracedShape& shape) {
    geometry::Polygon outline{shape.ring, {}};
    if (chart.board.outline)
        for (const Ring& hole : chart.board.outline->holes)
            if (lies_in(hole, outline.outer)) outline.holes.push_back(hole);
    Result<Chart> next = document::set_outline(chart, svg::tidy(std::move(outline)));
    if (!next) return next.error();
    return Traced{std::move(*next), "Draw the board outline", {}};
}

Result<Traced> add_cut_out(const Chart& chart, const TracedShape& shape) {
    if (!chart.board.outline) return Error{"Draw the board outline first; a cut-out lies in it.", ""};
    geometry::Polygon outline = *chart.board.outline;
    if (!lies_in(shape.ring, outline.outer)) return Error{"A cut-out lies inside the board outline.", ""};
    outline.holes.push_back(shape.ring);
    Result<Chart> next = document::set_outline(chart, svg::tidy(std::move(outline)));
    if (!next) return next.error();
    return Traced{std::move(*next), "Draw a cut-out", {}};
}

/// The smallest area the ring lies in, of those that reach the side; null where there is none.
template <class Things>
const auto* area_round(const Things& things, const Ring& ring, const auto& reaches) {
    decltype(&things[0]) best = nullptr;
    for (const auto& thing : things)
        if (reaches(thing) && lies_in(ring, thing.outline.outer) &&
            (best == nullptr || geometry::area(thing.outline) < geometry::area(best->outline)))
            best = &thing;
    return best;
}

template <class Thing>
Result<Traced> put_hole(const Chart& chart, Thing thing, const Ring& ring, const char* word) {
    thing.outline.holes.push_back(ring);
    thing.outline = svg::tidy(std::move(thing.outline));
    const std::string name = thing.name.empty() ? word : thing.name;
    if (const auto flaw = geometry::flaw_of(thing.outline))
        return Error{
            fmt::format("With this hole {} {} at x {:.2f}, y {:.2f}.", name, flaw->reason, flaw->at.x, flaw->at.y), ""};
    const Id id = thing.id;
    Result<Chart> next = document::put(chart, std::move(thing));
    if (!next) return next.error();
    return Traced{std::move(*next), "Draw a hole in " + name, id};
}

Result<Traced> add_hole(const Chart& chart, const TracedShape& shape, document::Side side) {
    const auto* keep_out = area_round(chart.keep_outs, shape.ring, [&](const document::KeepOut& thing) {
        return thing.side == side || thing.through_board;
    });
    const auto* shield =
        area_round(chart.shields, shape.ring, [&](const document::Shield& thing) { return thing.side == side; });
    if (keep_out == nullptr && shield == nullptr)
        return Error{"A hole lies inside a keep-out or a shield of this side; of the board it is a cut-out.", ""};
    const bool in_shield = keep_out == nullptr ||
                           (shield != nullptr && geometry::area(shield->outline) < geometry::area(keep_out->outline));
    return in_shield ? put_hole(chart, *shield, shape.ring, "the shield")
                     : put_hole(chart, *keep_out, shape.ring, "the keep-out");
}

template <class Thing>
Result<Traced> add_area(const Chart& chart, const TracedShape& shape, document::Side side, const char* prefix,
                        const char* word, std::size_t count) {
    Thing thing;
    thing.name = fmt::format("{} {}", word, count + 1);
    thing.id = document::free_id(chart, prefix, thing.name);
    thing.outline = svg::tidy(geometry::Polygon{shape.ring, {}});
    thing.side = side;
    const Id id = thing.id;
    Result<Chart> next = document::put(chart, std::move(thing));
    if (!next) return next.error();
    return Traced{std::move(*next), fmt::format("Draw a {}", word), id};
}

} // namespace

std::string_view to_text(TraceWhat what) {
    switch (what) {
    case TraceWhat::Outline: return "board outline";
    case TraceWhat::CutOut: return "cut-out";
    case TraceWhat::Body: return "body";
    case TraceWhat::Pad: return "pad";
    case TraceWhat::KeepOut: return "keep-out";
    case TraceWhat::Shield: return "shield";
    case TraceWhat::Hole: return "hole";
    }
    return "shape";
}

std::size_t points_needed(TraceHow how) {
    return how == TraceHow::Rectangle ? 2 : 3;
}

Result<TracedShape> traced_shape(TraceHow how, std::span<const Vec2> points) {
    assert(points.size() >= points_needed(how));
    switch (how) {
    case TraceHow::Rectangle: {
        const Vec2 way = points[1] - points[0];
        return rectangle_of(points[0], {1.0, 0.0}, way.x, way.y);
    }
    case TraceHow::Turned: return turned_rectangle(points[0], points[1], points[2]);
    case TraceHow::Round: return round_of(points[0], points[1], points[2]);
    case TraceHow::Polygon: break;
    }
    return polygon_of(points);
}

Result<Traced> with_traced(const Chart& chart, TraceWhat what, const TracedShape& shape, document::Side side,
                           const Id& part) {
    switch (what) {
    case TraceWhat::Outline: return set_board(chart, shape);
    case TraceWhat::CutOut: return add_cut_out(chart, shape);
    case TraceWhat::Body: return add_body(chart, shape, side);
    case TraceWhat::Pad: return add_pad(chart, shape, side, part);
    case TraceWhat::KeepOut:
        return add_area<document::KeepOut>(chart, shape, side, "keep", "keep-out", chart.keep_outs.size());
    case TraceWhat::Hole: return add_hole(chart, shape, side);
    case TraceWhat::Shield: break;
    }
    return add_area<document::Shield>(chart, shape, side, "shield", "shield", chart.shields.size());
}

void leave_family(Footprint& part) {
    part.family.clear();
    part.family_parameters.clear();
}

} // namespace padchart::app
