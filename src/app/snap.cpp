#include "app/snap.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <optional>

#include <fmt/format.h>

#include "app/tools/tool.hpp"
#include "geometry/box_index.hpp"
#include "geometry/segment.hpp"

namespace padchart::app {

using document::Footprint;
using document::Id;
using document::Pad;
using document::ShapeKind;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

constexpr double kCornerTurn_deg = 15.0;
/// There are so many corners that something is always level with one: only where that is plainly meant.
constexpr double kCornerShare = 1.0 / 3.0;

struct Candidate {
    Vec2 at;
    double distance = std::numeric_limits<double>::infinity();
    SnapKind kind = SnapKind::None;
    std::size_t outline = 0;
};

void offer(Candidate& best, Vec2 from, Vec2 at, SnapKind kind, std::size_t outline) {
    const double distance = geometry::distance(from, at);
    // What is drawn on top of another comes later; the stronger kind wins where both lie in one place.
    if (distance < best.distance - 1e-9 || (distance < best.distance + 1e-9 && kind > best.kind))
        best = {at, distance, kind, outline};
}

Vec2 on_grid(Vec2 p, double step) {
    if (step <= 0.0) return p;
    return {std::round(p.x / step) * step, std::round(p.y / step) * step};
}

std::string words_of(SnapKind kind, const std::string& name) {
    switch (kind) {
    case SnapKind::Centre: return "centre of " + name;
    case SnapKind::Corner: return "corner of " + name;
    case SnapKind::Middle: return "middle of an edge of " + name;
    case SnapKind::Edge: return "edge of " + name;
    case SnapKind::Level:
    case SnapKind::Grid:
    case SnapKind::None: break;
    }
    return "";
}

Box box_about(Vec2 at, double reach) {
    return Box{at, at}.grown(reach);
}

} // namespace

struct SnapField::State {
    std::vector<SnapOutline> outlines;
    std::vector<Ring> corners;
    std::vector<Vec2> centres;
    geometry::BoxIndex index{std::span<const Box>{}};

    [[nodiscard]] bool counts(std::size_t i, const SnapOptions& options) const {
        return options.bodies || !outlines[i].is_body;
    }

    void offer_points(Candidate& best, Vec2 at, std::size_t i) const {
        const SnapOutline& outline = outlines[i];
        if (outline.has_centre) offer(best, at, centres[i], SnapKind::Centre, i);
        for (std::size_t k = 0; k < corners[i].size(); ++k) {
            const Vec2 a = corners[i][k], b = corners[i][(k + 1) % corners[i].size()];
            offer(best, at, a, SnapKind::Corner, i);
            offer(best, at, geometry::lerp(a, b, 0.5), SnapKind::Middle, i);
        }
    }

    void offer_edges(Candidate& best, Vec2 at, std::size_t i) const {
        const Ring& ring = outlines[i].ring;
        for (std::size_t k = 0; k < ring.size(); ++k)
            offer(best, at, geometry::nearest_on_segment(at, ring[k], ring[(k + 1) % ring.size()]), SnapKind::Edge, i);
    }

    /// The nearest point, else the nearest place of an edge, within reach; kind None where there is neither.
    [[nodiscard]] std::pair<Candidate, Candidate> nearest(Vec2 at, const SnapOptions& options) const {
        Candidate point, edge;
        for (const std::size_t i : index.touching(box_about(at, options.reach))) {
            if (!counts(i, options)) continue;
            if (options.points) offer_points(point, at, i);
            if (options.edges) offer_edges(edge, at, i);
        }
        if (point.distance > options.reach) point = {};
        if (edge.distance > options.reach) edge = {};
        return {point, edge};
    }

    [[nodiscard]] Snap met(const Candidate& found) const {
        return {found.at, found.kind, words_of(found.kind, outlines[found.outline].name), {}};
    }

    [[nodiscard]] Snap level_or_grid(Vec2 at, const SnapOptions& options) const;
};

namespace {

/// The centre or corner whose x (or y) is nearest to the place's own; of several as near, the nearest.
struct Level {
    Vec2 at;
    std::string_view of; ///< empty: a centre
    std::size_t outline = 0;
    double off = std::numeric_limits<double>::infinity();
    double away = std::numeric_limits<double>::infinity();

    void offer(const Level& other) {
        constexpr double kSame = 1e-9;
        if (other.off > off + kSame || (other.off > off - kSame && other.away >= away)) return;
        *this = other;
    }
};

} // namespace

Snap SnapField::State::level_or_grid(Vec2 at, const SnapOptions& options) const {
    Snap snap{on_grid(at, options.grid), options.grid > 0.0 ? SnapKind::Grid : SnapKind::None, "", {}};
    if (options.level_within <= 0.0) return snap;
    Level level_x, level_y;
    for (const std::size_t i : index.touching(box_about(at, options.level_within))) {
        if (!counts(i, options)) continue;
        const auto offer_both = [&](Vec2 point, std::string_view of, double reach) {
            const double away = geometry::distance(at, point);
            if (away > options.level_within) return;
            const double off_x = std::abs(at.x - point.x), off_y = std::abs(at.y - point.y);
            if (off_x <= reach) level_x.offer({point, of, i, off_x, away});
            if (off_y <= reach) level_y.offer({point, of, i, off_y, away});
        };
        if (outlines[i].has_centre) offer_both(centres[i], "", options.reach);
        for (const Vec2 corner : corners[i])
            offer_both(corner, "a corner of ", kCornerShare * options.reach);
    }
    const auto take = [&](const Level& level, const char* how) {
        snap.kind = SnapKind::Level;
        snap.words +=
            fmt::format("{}{} {}{}", snap.words.empty() ? "" : ", ", how, level.of, outlines[level.outline].name);
        snap.level_with.push_back(level.at);
    };
    if (level_x.off <= options.reach) {
        snap.at.x = level_x.at.x;
        take(level_x, "in line with");
    }
    if (level_y.off <= options.reach) {
        snap.at.y = level_y.at.y;
        take(level_y, "level with");
    }
    return snap;
}

SnapField::SnapField(std::vector<SnapOutline> outlines) {
    auto state = std::make_shared<State>();
    std::erase_if(outlines, [](const SnapOutline& outline) { return outline.ring.empty(); });
    std::vector<Box> boxes;
    for (const SnapOutline& outline : outlines) {
        boxes.push_back(geometry::bounds(outline.ring));
        state->corners.push_back(outline.is_round ? Ring{} : corners_of(outline.ring));
        state->centres.push_back(outline.is_round || outline.ring.size() == 4 ? boxes.back().centre()
                                                                              : geometry::centroid(outline.ring));
    }
    state->index = geometry::BoxIndex(boxes);
    state->outlines = std::move(outlines);
    state_ = std::move(state);
}

Snap SnapField::snap(Vec2 at, const SnapOptions& options) const {
    const auto [point, edge] = state_->nearest(at, options);
    if (point.kind != SnapKind::None) return state_->met(point);
    if (edge.kind != SnapKind::None) return state_->met(edge);
    return state_->level_or_grid(at, options);
}

SnapShift SnapField::snap_shift(std::span<const Vec2> anchors, Vec2 by, const SnapOptions& options) const {
    assert(!anchors.empty());
    struct Found {
        Candidate to;
        Vec2 anchor;
    };
    std::optional<Found> point, edge;
    for (const Vec2 anchor : anchors) {
        const auto [its_point, its_edge] = state_->nearest(anchor + by, options);
        if (its_point.distance < (point ? point->to.distance : options.reach)) point = Found{its_point, anchor};
        if (its_edge.distance < (edge ? edge->to.distance : options.reach)) edge = Found{its_edge, anchor};
    }
    if (point || edge) {
        const Found& found = point ? *point : *edge;
        return {found.to.at - found.anchor, state_->met(found.to)};
    }
    // The grid is of the way moved, not of the place: what lay off the grid keeps its distance to its neighbours.
    SnapOptions level = options;
    level.grid = 0.0;
    Snap snap = state_->level_or_grid(anchors.front() + by, level);
    if (snap.kind == SnapKind::Level) return {snap.at - anchors.front(), std::move(snap)};
    const Vec2 rounded = on_grid(by, options.grid);
    return {rounded, {anchors.front() + rounded, options.grid > 0.0 ? SnapKind::Grid : SnapKind::None, "", {}}};
}

namespace {

bool is_curved(ShapeKind kind) {
    return kind == ShapeKind::Round || kind == ShapeKind::Oblong;
}

std::string name_or(const std::string& name, const char* otherwise) {
    return name.empty() ? otherwise : name;
}

void add_part(std::vector<SnapOutline>& out, const Footprint& part) {
    if (part.body)
        out.push_back({"the body of " + name_or(part.name, "a part"), document::body_on_board(part),
                       is_curved(part.body->shape.kind), true, true});
    for (const Pad& pad : part.pads)
        out.push_back({pad_words(part, pad), document::outline_on_board(part, pad), is_curved(pad.shape.kind), true});
}

void add_board(std::vector<SnapOutline>& out, const geometry::Polygon& outline) {
    out.push_back({"the board's outline", outline.outer, false, false});
    for (const Ring& hole : outline.holes)
        out.push_back({"a cut-out", hole, false, true});
}

} // namespace

std::string pad_words(const Footprint& part, const Pad& pad) {
    const std::string which = pad.number.empty() ? "a pad" : "pad " + pad.number;
    return part.name.empty() ? which : which + " of " + part.name;
}

std::vector<SnapOutline> snap_outlines(const document::Chart& chart, const SnapFieldOptions& options) {
    std::vector<SnapOutline> out;
    const auto counts = [&](const Id& id) {
        return std::find(options.without.begin(), options.without.end(), id) == options.without.end();
    };
    if (options.board && chart.board.outline) add_board(out, *chart.board.outline);
    for (const document::KeepOut& thing : chart.keep_outs)
        if ((thing.side == options.side || thing.through_board) && counts(thing.id))
            out.push_back({name_or(thing.name, "a keep-out"), thing.outline.outer, false, true});
    for (const document::Shield& thing : chart.shields)
        if (thing.side == options.side && counts(thing.id))
            out.push_back({name_or(thing.name, "a shield"), thing.outline.outer, false, true});
    for (const Footprint& part : chart.parts)
        if (part.placement.side == options.side && counts(part.id)) add_part(out, part);
    return out;
}

std::vector<Vec2> anchors_of(const Footprint& part) {
    const auto board = document::board_from_part(part.placement);
    std::vector<Vec2> anchors{board(document::centre_in_part(part))};
    std::vector<SnapOutline> outlines;
    add_part(outlines, part);
    for (const Pad& pad : part.pads)
        anchors.push_back(board(pad.at));
    for (const SnapOutline& outline : outlines)
        if (!outline.is_round)
            for (const Vec2 corner : corners_of(outline.ring))
                anchors.push_back(corner);
    return anchors;
}

Ring corners_of(std::span<const Vec2> ring) {
    const double least = std::cos(kCornerTurn_deg * std::numbers::pi / 180.0);
    Ring corners;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 in = ring[i] - ring[(i + ring.size() - 1) % ring.size()];
        const Vec2 out = ring[(i + 1) % ring.size()] - ring[i];
        const double lengths = geometry::length(in) * geometry::length(out);
        if (lengths > 0.0 && geometry::dot(in, out) < least * lengths) corners.push_back(ring[i]);
    }
    return corners;
}

void add_snap(scene::Scene& out, const Snap& snap, document::Side seen_from, const Pointer& pointer) {
    if (snap.kind == SnapKind::None) return;
    const auto seen = [&](Vec2 p) { return scene::scene_from_board(p, seen_from); };
    const Vec2 at = seen(snap.at);
    for (const Vec2 centre : snap.level_with)
        out.add(scene::Role::Snap, scene::Line{{seen(centre), at}, false, scene::Weight::Hair});
    const double arm = pointer.mm(snap.kind == SnapKind::Grid ? 4.0 : 8.0);
    const auto weight = snap.kind == SnapKind::Grid ? scene::Weight::Thin : scene::Weight::Bold;
    out.add(scene::Role::Snap, scene::Line{{at - Vec2{arm, 0}, at + Vec2{arm, 0}}, false, weight});
    out.add(scene::Role::Snap, scene::Line{{at - Vec2{0, arm}, at + Vec2{0, arm}}, false, weight});
    if (snap.words.empty()) return;
    out.add(scene::Role::LabelMeasure, scene::Text{.at = at + Vec2{pointer.mm(14), pointer.mm(16)},
                                                   .text = snap.words,
                                                   .align = scene::Align::Left,
                                                   .height_px = 11,
                                                   .halo = true});
}

} // namespace padchart::app
