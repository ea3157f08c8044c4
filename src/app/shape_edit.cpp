#include "app/shape_edit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "app/snap.hpp"
#include "base/counted.hpp"
#include "document/edits.hpp"
#include "geometry/segment.hpp"
#include "geometry/validity.hpp"
#include "svg/trace_shapes.hpp"

namespace padchart::app {

using document::Chart;
using document::Footprint;
using document::Id;
using document::Shape;
using document::ShapeKind;
using document::Side;
using geometry::Affine;
using geometry::Ring;
using geometry::Vec2;

namespace {

constexpr double kLeast = 0.005; // as for what is drawn anew

template <class T>
const T* find_thing(const document::Items<T>& items, const Id& id) {
    for (const T& thing : items)
        if (thing.id == id) return &thing;
    return nullptr;
}

const Footprint* part_of(const Chart& chart, const OutlineRef& ref) {
    const auto at = document::find_part(chart, ref.id);
    return at ? &chart.parts[*at] : nullptr;
}

bool is_of_part(const OutlineRef& ref) {
    return ref.what == TraceWhat::Body || ref.what == TraceWhat::Pad;
}

/// The whole of a keep-out or shield; null for what is another thing, or gone.
const geometry::Polygon* area_of(const Chart& chart, const OutlineRef& ref) {
    if (ref.what == TraceWhat::KeepOut) {
        const auto* thing = find_thing(chart.keep_outs, ref.id);
        return thing != nullptr ? &thing->outline : nullptr;
    }
    if (ref.what != TraceWhat::Shield) return nullptr;
    const auto* thing = find_thing(chart.shields, ref.id);
    return thing != nullptr ? &thing->outline : nullptr;
}

/// Its edge or one of its holes; null where there are not so many.
template <class Area>
auto* ring_of(Area& area, std::size_t index) {
    if (index == 0) return &area.outer;
    return index <= area.holes.size() ? &area.holes[index - 1] : nullptr;
}

/// An outline as it can be changed: a shape in a frame of its own, or a ring of the board.
struct Held {
    Shape shape;
    Affine board_from_shape;
};

std::optional<Held> held(const Chart& chart, const OutlineRef& ref) {
    const auto free = [](const Ring& ring) { return Held{{ShapeKind::Polygon, 0.0, 0.0, ring}, Affine{}}; };
    const auto& board = chart.board.outline;
    switch (ref.what) {
    case TraceWhat::Outline: return board ? std::optional(free(board->outer)) : std::nullopt;
    case TraceWhat::CutOut:
        return board && ref.index < board->holes.size() ? std::optional(free(board->holes[ref.index])) : std::nullopt;
    case TraceWhat::KeepOut:
    case TraceWhat::Shield: {
        const geometry::Polygon* area = area_of(chart, ref);
        const Ring* ring = area != nullptr ? ring_of(*area, ref.index) : nullptr;
        return ring != nullptr ? std::optional(free(*ring)) : std::nullopt;
    }
    case TraceWhat::Hole:
    case TraceWhat::Body:
    case TraceWhat::Pad: break;
    }
    const Footprint* part = part_of(chart, ref);
    if (part == nullptr) return std::nullopt;
    const Affine board_from_part = document::board_from_part(part->placement);
    const auto in_part = [&](const Shape& shape, Vec2 at, Angle turn) {
        return Held{shape, board_from_part * Affine::translation(at) * Affine::rotation(turn)};
    };
    if (ref.what == TraceWhat::Body)
        return part->body ? std::optional(in_part(part->body->shape, part->body->at, part->body->turn)) : std::nullopt;
    if (ref.index >= part->pads.size()) return std::nullopt;
    const document::Pad& pad = part->pads[ref.index];
    return in_part(pad.shape, pad.at, pad.turn);
}

bool has_vertices(ShapeKind kind) {
    return kind == ShapeKind::Rectangle || kind == ShapeKind::Polygon;
}

std::optional<Error> flaw_error(const geometry::Polygon& area, const std::string& what) {
    const auto flaw = geometry::flaw_of(area);
    if (!flaw) return std::nullopt;
    return Error{
        fmt::format("{} {} at x {:.2f}, y {:.2f}; it stays as it was.", what, flaw->reason, flaw->at.x, flaw->at.y),
        ""};
}

/// The changed shape moves so that its own origin is its middle again; its turn stays.
void seat(Shape& shape, Vec2& at, const Affine& part_from_shape, Vec2 middle) {
    at = svg::tidy(part_from_shape(middle));
    for (Vec2& p : shape.points)
        p = svg::tidy(p - middle);
    shape.width_mm = svg::tidy(shape.width_mm);
    shape.height_mm = svg::tidy(shape.height_mm);
}

Result<Chart> put_in_part(const Chart& chart, const OutlineRef& ref, Shape shape, Vec2 middle) {
    const Footprint& part = *part_of(chart, ref);
    if (part.locked) return Error{(part.name.empty() ? "The part" : part.name) + " is locked; unlock it first.", ""};
    return document::change_part(chart, ref.id, [&](Footprint& changed) {
        leave_family(changed);
        const auto take = [&](auto& thing) {
            const Affine part_from_shape = Affine::translation(thing.at) * Affine::rotation(thing.turn);
            seat(shape, thing.at, part_from_shape, middle);
            thing.shape = shape;
        };
        if (ref.what == TraceWhat::Body)
            take(*changed.body);
        else
            take(changed.pads[ref.index]);
    });
}

/// Requires: area_of() knows the ref.
Result<Chart> put_area(const Chart& chart, const OutlineRef& ref, geometry::Polygon area) {
    if (ref.what == TraceWhat::KeepOut) {
        document::KeepOut thing = *find_thing(chart.keep_outs, ref.id);
        thing.outline = std::move(area);
        return document::put(chart, std::move(thing));
    }
    document::Shield thing = *find_thing(chart.shields, ref.id);
    thing.outline = std::move(area);
    return document::put(chart, std::move(thing));
}

Result<Chart> put_on_board(const Chart& chart, const OutlineRef& ref, const Ring& raw) {
    Ring ring;
    for (const Vec2 p : raw)
        ring.push_back(svg::tidy(p));
    if (const geometry::Polygon* before = area_of(chart, ref)) {
        geometry::Polygon area = *before;
        *ring_of(area, ref.index) = std::move(ring);
        // An area that was flawed from the start can still be worked on.
        if (auto error = flaw_error(area, "It"); error && !geometry::flaw_of(*before)) return *error;
        return put_area(chart, ref, std::move(area));
    }
    geometry::Polygon outline = *chart.board.outline;
    (ref.what == TraceWhat::Outline ? outline.outer : outline.holes[ref.index]) = std::move(ring);
    for (const Ring& hole : outline.holes)
        for (const Vec2 p : hole)
            if (!geometry::contains(outline.outer, p))
                return Error{"A cut-out would lie outside the board outline; it stays as it was.", ""};
    return document::set_outline(chart, std::move(outline));
}

Error gone() {
    return {"This outline is no longer on the chart.", ""};
}

/// A ring of the shape's own frame in place of what it was.
Result<Chart> put_ring(const Chart& chart, const OutlineRef& ref, const Held& now, Ring ring) {
    const Ring on_board = geometry::transformed(ring, now.board_from_shape);
    if (auto error = flaw_error({on_board, {}}, "The outline")) return *error;
    if (!is_of_part(ref)) return put_on_board(chart, ref, on_board);
    const Vec2 middle = geometry::centroid(ring);
    return put_in_part(chart, ref, {ShapeKind::Polygon, 0.0, 0.0, std::move(ring)}, middle);
}

Result<Chart> put_box(const Chart& chart, const OutlineRef& ref, ShapeKind kind, const geometry::Box& box) {
    if (box.width() < kLeast || box.height() < kLeast) return Error{"Nothing would be left of it.", ""};
    return put_in_part(chart, ref, {kind, box.width(), box.height(), {}}, box.centre());
}

std::vector<OutlineRef> outlines_of_part(const Footprint& part) {
    std::vector<OutlineRef> refs;
    if (part.body) refs.push_back({TraceWhat::Body, part.id, 0});
    for (std::size_t i = 0; i < part.pads.size(); ++i)
        refs.push_back({TraceWhat::Pad, part.id, i});
    return refs;
}

} // namespace

bool is_hole(const OutlineRef& ref) {
    return (ref.what == TraceWhat::KeepOut || ref.what == TraceWhat::Shield) && ref.index > 0;
}

std::optional<OutlineView> view_of(const Chart& chart, const OutlineRef& ref) {
    const auto now = held(chart, ref);
    if (!now) return std::nullopt;
    return OutlineView{now->shape.kind, geometry::transformed(document::outline_of(now->shape), now->board_from_shape)};
}

std::string words_of(const Chart& chart, const OutlineRef& ref) {
    const auto named = [](const auto* thing, const char* word) {
        return thing == nullptr || thing->name.empty() ? std::string("a ") + word : thing->name;
    };
    const std::string hole = is_hole(ref) ? "a hole of " : "";
    switch (ref.what) {
    case TraceWhat::Outline: return "the board outline";
    case TraceWhat::CutOut: return "a cut-out";
    case TraceWhat::KeepOut: return hole + named(find_thing(chart.keep_outs, ref.id), "keep-out");
    case TraceWhat::Shield: return hole + named(find_thing(chart.shields, ref.id), "shield");
    case TraceWhat::Hole:
    case TraceWhat::Body:
    case TraceWhat::Pad: break;
    }
    const Footprint* part = part_of(chart, ref);
    if (part == nullptr) return "an outline";
    if (ref.what == TraceWhat::Body) return "the body of " + (part->name.empty() ? "a part" : part->name);
    return ref.index < part->pads.size() ? pad_words(*part, part->pads[ref.index]) : "a pad";
}

std::vector<OutlineRef> outlines_of(const Chart& chart, Side side) {
    std::vector<OutlineRef> refs;
    if (chart.board.outline) {
        refs.push_back({TraceWhat::Outline, {}, 0});
        for (std::size_t i = 0; i < chart.board.outline->holes.size(); ++i)
            refs.push_back({TraceWhat::CutOut, {}, i});
    }
    const auto add_area = [&](TraceWhat what, const auto& thing) {
        for (std::size_t i = 0; i <= thing.outline.holes.size(); ++i)
            refs.push_back({what, thing.id, i});
    };
    for (const document::KeepOut& thing : chart.keep_outs)
        if (thing.side == side || thing.through_board) add_area(TraceWhat::KeepOut, thing);
    for (const document::Shield& thing : chart.shields)
        if (thing.side == side) add_area(TraceWhat::Shield, thing);
    for (const Footprint& part : chart.parts) {
        if (part.placement.side != side) continue;
        const std::vector<OutlineRef> its = outlines_of_part(part);
        refs.insert(refs.end(), its.begin(), its.end());
    }
    return refs;
}

std::optional<OutlineRef> outline_at(const Chart& chart, Vec2 board, Side side, double reach) {
    std::optional<OutlineRef> best;
    double least = std::numeric_limits<double>::infinity();
    for (const OutlineRef& ref : outlines_of(chart, side)) {
        const auto view = view_of(chart, ref);
        if (!view || !geometry::bounds(view->ring).grown(reach).contains(board)) continue;
        const bool on_edge = geometry::distance_to_closed_line(board, view->ring) <= reach;
        // The board is everywhere: it counts at its edge only.
        const bool inside = ref.what != TraceWhat::Outline && geometry::contains(view->ring, board);
        const double area = std::abs(geometry::signed_area(view->ring));
        if ((!on_edge && !inside) || area > least) continue;
        best = ref;
        least = area;
    }
    return best;
}

Result<Chart> move_vertex(const Chart& chart, const OutlineRef& ref, std::size_t vertex, Vec2 to) {
    const auto now = held(chart, ref);
    if (!now) return gone();
    const Vec2 local = now->board_from_shape.inverse()(to);
    Ring ring = document::outline_of(now->shape);
    if (now->shape.kind != ShapeKind::Rectangle) {
        ring[vertex] = local;
        return put_ring(chart, ref, *now, std::move(ring));
    }
    geometry::Box box;
    box.add(ring[(vertex + 2) % ring.size()]); // the corner across stays
    box.add(local);
    return put_box(chart, ref, ShapeKind::Rectangle, box);
}

Result<Chart> move_edge(const Chart& chart, const OutlineRef& ref, std::size_t edge, Vec2 from, Vec2 to) {
    const auto now = held(chart, ref);
    if (!now) return gone();
    const Affine inverse = now->board_from_shape.inverse();
    const Vec2 local = inverse(to), by = local - inverse(from);
    Ring ring = document::outline_of(now->shape);
    switch (now->shape.kind) {
    case ShapeKind::Round: {
        const double diameter = 2.0 * geometry::length(local);
        if (diameter < kLeast) return Error{"Nothing would be left of it.", ""};
        const double tidy = svg::tidy(diameter);
        return put_in_part(chart, ref, {ShapeKind::Round, tidy, tidy, {}}, {});
    }
    case ShapeKind::Polygon:
        ring[edge] += by;
        ring[(edge + 1) % ring.size()] += by;
        return put_ring(chart, ref, *now, std::move(ring));
    case ShapeKind::Rectangle:
    case ShapeKind::Oblong: break;
    }
    // The side nearest to where it was taken hold of.
    geometry::Box box = geometry::bounds(geometry::rectangle(now->shape.width_mm, now->shape.height_mm));
    const Vec2 held_at = inverse(from);
    const double sides[] = {std::abs(held_at.x - box.min.x), std::abs(held_at.x - box.max.x),
                            std::abs(held_at.y - box.min.y), std::abs(held_at.y - box.max.y)};
    switch (std::min_element(sides, sides + 4) - sides) {
    case 0: box.min.x += by.x; break;
    case 1: box.max.x += by.x; break;
    case 2: box.min.y += by.y; break;
    default: box.max.y += by.y; break;
    }
    return put_box(chart, ref, now->shape.kind, box);
}

Result<Chart> add_vertex(const Chart& chart, const OutlineRef& ref, std::size_t edge, Vec2 at) {
    const auto now = held(chart, ref);
    if (!now) return gone();
    if (!has_vertices(now->shape.kind)) return Error{"A round outline has no vertices; draw it anew as a polygon.", ""};
    Ring ring = document::outline_of(now->shape);
    ring.insert(ring.begin() + static_cast<std::ptrdiff_t>(edge) + 1, now->board_from_shape.inverse()(at));
    return put_ring(chart, ref, *now, std::move(ring));
}

Result<Chart> remove_vertex(const Chart& chart, const OutlineRef& ref, std::size_t vertex) {
    const auto now = held(chart, ref);
    if (!now) return gone();
    Ring ring = document::outline_of(now->shape);
    if (!has_vertices(now->shape.kind) || ring.size() <= 3)
        return Error{
            "An area needs at least three corners; Delete without a corner under the pointer removes all of it.", ""};
    ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(vertex));
    return put_ring(chart, ref, *now, std::move(ring));
}

Result<Chart> remove_outline(const Chart& chart, const OutlineRef& ref) {
    if (!held(chart, ref)) return gone();
    if (is_hole(ref)) {
        geometry::Polygon area = *area_of(chart, ref);
        area.holes.erase(area.holes.begin() + static_cast<std::ptrdiff_t>(ref.index) - 1);
        return put_area(chart, ref, std::move(area));
    }
    if (ref.what == TraceWhat::KeepOut || ref.what == TraceWhat::Shield)
        return document::remove(chart, std::vector{ref.id});
    if (ref.what == TraceWhat::Outline) return document::set_outline(chart, std::nullopt);
    if (ref.what == TraceWhat::CutOut) {
        geometry::Polygon outline = *chart.board.outline;
        outline.holes.erase(outline.holes.begin() + static_cast<std::ptrdiff_t>(ref.index));
        return document::set_outline(chart, std::move(outline));
    }
    const Footprint& part = *part_of(chart, ref);
    if (part.locked) return Error{part.name + " is locked; unlock it first.", ""};
    const bool last = part.pads.size() + (part.body ? 1 : 0) == 1;
    if (last) return document::remove_parts(chart, std::vector{ref.id});
    return document::change_part(chart, ref.id, [&](Footprint& changed) {
        leave_family(changed);
        if (ref.what == TraceWhat::Body)
            changed.body.reset();
        else
            changed.pads.erase(changed.pads.begin() + static_cast<std::ptrdiff_t>(ref.index));
    });
}

namespace {

TracedShape shape_of(const Held& now) {
    TracedShape shape;
    shape.kind = now.shape.kind == ShapeKind::Oblong ? ShapeKind::Polygon : now.shape.kind;
    shape.ring = geometry::transformed(document::outline_of(now.shape), now.board_from_shape);
    shape.centre = shape.kind == ShapeKind::Polygon ? geometry::centroid(shape.ring) : now.board_from_shape(Vec2{});
    shape.axis = now.board_from_shape.linear({1.0, 0.0});
    shape.width = now.shape.width_mm;
    shape.height = now.shape.height_mm;
    return shape;
}

Side side_of(const Chart& chart, const OutlineRef& ref) {
    if (const Footprint* part = part_of(chart, ref)) return part->placement.side;
    if (const auto* thing = find_thing(chart.keep_outs, ref.id)) return thing->side;
    if (const auto* thing = find_thing(chart.shields, ref.id)) return thing->side;
    return Side::Top;
}

/// What the last drawn thing of that kind is called by.
OutlineRef newest(const Chart& chart, TraceWhat what, const Id& thing) {
    if (what == TraceWhat::CutOut) return {what, {}, chart.board.outline->holes.size() - 1};
    if (what == TraceWhat::Pad) return {what, thing, chart.parts[*document::find_part(chart, thing)].pads.size() - 1};
    return {what, thing, 0};
}

bool is_area(TraceWhat what) {
    return what == TraceWhat::KeepOut || what == TraceWhat::Shield;
}

Chart with_holes(Chart chart, TraceWhat what, const Id& id, const std::vector<Ring>& holes) {
    const auto give = [&](auto& things) {
        for (std::size_t i = 0; i < things.size(); ++i) {
            if (things[i].id != id) continue;
            auto thing = things[i];
            thing.outline.holes = holes;
            things.replace(i, std::move(thing));
        }
    };
    if (what == TraceWhat::KeepOut)
        give(chart.keep_outs);
    else
        give(chart.shields);
    return chart;
}

} // namespace

Result<MeaningChange> change_meaning(const Chart& chart, const OutlineRef& ref, TraceWhat what) {
    const auto now = held(chart, ref);
    if (!now) return gone();
    const std::string before = words_of(chart, ref);
    const geometry::Polygon* area = area_of(chart, ref);
    const std::vector<Ring> holes = area != nullptr ? area->holes : std::vector<Ring>{};
    if (!holes.empty() && !is_area(what))
        return Error{fmt::format("{} has {}, which only keep-outs and shields can have; close {} first (click {}, "
                                 "Delete).",
                                 before, counted(holes.size(), "hole"), holes.size() == 1 ? "it" : "them",
                                 holes.size() == 1 ? "it" : "each"),
                     ""};
    const Result<Chart> without = remove_outline(chart, ref);
    if (!without) return without.error();
    Result<Traced> made = with_traced(*without, what, shape_of(*now), side_of(chart, ref));
    if (!made) return made.error();
    const OutlineRef after = newest(made->chart, what, made->thing);
    if (!holes.empty()) made->chart = with_holes(std::move(made->chart), what, made->thing, holes);
    const char* article = what == TraceWhat::Outline ? "an" : "a";
    return MeaningChange{std::move(made->chart), after,
                         fmt::format("Take {} for {} {}", before, article, to_text(what))};
}

} // namespace padchart::app
