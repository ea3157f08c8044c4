#include "analysis/fit_cover.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "geometry/overlay.hpp"
#include "geometry/validity.hpp"

namespace padchart::analysis::fitting {

using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

/// Hand-traced outlines carry points that say nothing; hollows shallower than this are left out, mm.
constexpr double kIdleWobble = 0.001;
/// Arcs become chords this near, and the polygon is then brought to the true area, mm.
constexpr double kArcTolerance = 0.002;
constexpr double kIdlePoint = 1e-9;
constexpr int kDeepestHollow = 16;

Piece convex_piece(Ring ring, double sign) {
    Piece piece;
    piece.sign = sign;
    piece.area_mm2 = std::abs(geometry::signed_area(ring));
    piece.box = geometry::bounds(ring);
    piece.ring = std::move(ring);
    return piece;
}

/// Positions of the hull's corners in the ring, in the ring's own order (Andrew's chain).
std::vector<std::size_t> hull_of(const Ring& ring) {
    std::vector<std::size_t> order(ring.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        order[i] = i;
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return ring[a].x != ring[b].x ? ring[a].x < ring[b].x : ring[a].y < ring[b].y;
    });
    std::vector<std::size_t> hull;
    const auto add_chain = [&](auto first, auto last) {
        const std::size_t start = hull.size();
        for (auto at = first; at != last; ++at) {
            while (hull.size() >= start + 2 && cross(ring[hull.back()] - ring[hull[hull.size() - 2]],
                                                     ring[*at] - ring[hull[hull.size() - 2]]) <= 0.0)
                hull.pop_back();
            hull.push_back(*at);
        }
        hull.pop_back();
    };
    add_chain(order.begin(), order.end());
    add_chain(order.rbegin(), order.rend());
    std::sort(hull.begin(), hull.end());
    return hull;
}

/// The hull with one sign, each hollow between two of its corners with the other.
void add_pieces(const Ring& ring, double sign, int depth, std::vector<Piece>& pieces) {
    if (ring.size() < 3 || geometry::signed_area(ring) == 0.0) return;
    if (is_convex(ring) || depth > kDeepestHollow) {
        pieces.push_back(convex_piece(ring, sign));
        return;
    }
    const std::vector<std::size_t> corners = hull_of(ring);
    Ring hull;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        hull.push_back(ring[corners[i]]);
        Ring hollow;
        const std::size_t end = corners[(i + 1) % corners.size()];
        for (std::size_t at = corners[i];; at = (at + 1) % ring.size()) {
            hollow.push_back(ring[at]);
            if (at == end) break;
        }
        add_pieces(hollow, -sign, depth + 1, pieces);
    }
    pieces.push_back(convex_piece(std::move(hull), sign));
}

double lens_area(double r, double s, double distance) {
    const double small = std::min(r, s);
    if (distance >= r + s) return 0.0;
    if (distance <= std::abs(r - s)) return std::numbers::pi * small * small;
    const double d2 = distance * distance;
    const auto sector = [&](double a, double b) {
        return a * a * std::acos(std::clamp((d2 + a * a - b * b) / (2.0 * distance * a), -1.0, 1.0));
    };
    const double kite = (-distance + r + s) * (distance + r - s) * (distance - r + s) * (distance + r + s);
    return sector(r, s) + sector(s, r) - 0.5 * std::sqrt(std::max(0.0, kite));
}

/// Two intervals, the first one moved.
struct Interval {
    double min = 0.0;
    double max = 0.0;
};

double shared_length(Interval moving, double by, Interval fixed) {
    return std::max(0.0, std::min(moving.max + by, fixed.max) - std::max(moving.min + by, fixed.min));
}

double longest_shared(Interval moving, double by, double half, Interval fixed) {
    const auto [from, to] = std::minmax({fixed.min - moving.min, fixed.max - moving.max});
    const bool reaches_plateau = by + half >= from && by - half <= to;
    if (reaches_plateau) return std::min(moving.max - moving.min, fixed.max - fixed.min);
    return std::max(shared_length(moving, by - half, fixed), shared_length(moving, by + half, fixed));
}

double shortest_shared(Interval moving, double by, double half, Interval fixed) {
    return std::min(shared_length(moving, by - half, fixed), shared_length(moving, by + half, fixed));
}

Interval across(const Box& box) {
    return {box.min.x, box.max.x};
}
Interval along(const Box& box) {
    return {box.min.y, box.max.y};
}

bool out_of_reach(const Box& moving, Vec2 by, double half, const Box& fixed) {
    return !Box{moving.min + by, moving.max + by}.grown(half).overlaps(fixed);
}

double convex_overlap(const Piece& moving, Vec2 by, const Piece& fixed) {
    if (out_of_reach(moving.box, by, 0.0, fixed.box)) return 0.0;
    Ring moved = moving.ring;
    for (Vec2& p : moved)
        p += by;
    return moved.size() < fixed.ring.size() ? geometry::convex_overlap_area(fixed.ring, moved)
                                            : geometry::convex_overlap_area(moved, fixed.ring);
}

bool both(const Piece& a, const Piece& b, Piece::Kind kind) {
    return a.kind == kind && b.kind == kind;
}

double piece_overlap(const Piece& a, Vec2 by, const Piece& b) {
    if (both(a, b, Piece::Kind::Box))
        return shared_length(across(a.box), by.x, across(b.box)) * shared_length(along(a.box), by.y, along(b.box));
    if (both(a, b, Piece::Kind::Circle)) return lens_area(a.radius_mm, b.radius_mm, length(by));
    return convex_overlap(a, by, b);
}

OverlapRange circle_range(const Piece& a, Vec2 by, double half, const Piece& b) {
    const Vec2 reach{std::abs(by.x), std::abs(by.y)};
    const double nearest = std::hypot(std::max(0.0, reach.x - half), std::max(0.0, reach.y - half));
    const double farthest = std::hypot(reach.x + half, reach.y + half);
    return {lens_area(a.radius_mm, b.radius_mm, farthest), lens_area(a.radius_mm, b.radius_mm, length(by)),
            lens_area(a.radius_mm, b.radius_mm, nearest)};
}

OverlapRange box_range(const Piece& a, Vec2 by, double half, const Piece& b) {
    return {shortest_shared(across(a.box), by.x, half, across(b.box)) *
                shortest_shared(along(a.box), by.y, half, along(b.box)),
            piece_overlap(a, by, b),
            longest_shared(across(a.box), by.x, half, across(b.box)) *
                longest_shared(along(a.box), by.y, half, along(b.box))};
}

/// How fast the overlap can change with a shift: no faster than an edge as long as the overlap sweeps.
double sweep_limit(const Piece& a, const Piece& b) {
    return std::min(a.box.height(), b.box.height()) + std::min(a.box.width(), b.box.width());
}

OverlapRange sliver_range(const Piece& a, Vec2 by, double half, const Piece& b) {
    const double middle = convex_overlap(a, by, b);
    const double change = half * sweep_limit(a, b);
    return {std::max(0.0, middle - change), middle, std::min({middle + change, a.area_mm2, b.area_mm2})};
}

OverlapRange convex_range(const Piece& a, Vec2 by, double half, const Piece& b) {
    const double middle = convex_overlap(a, by, b);
    if (half <= 0.0) return {middle, middle, middle};
    double low = middle;
    for (const Vec2 corner : {Vec2{-half, -half}, Vec2{half, -half}, Vec2{-half, half}, Vec2{half, half}})
        low = std::min(low, convex_overlap(a, by + corner, b));
    double high = std::min({middle + half * sweep_limit(a, b), a.area_mm2, b.area_mm2});
    // The root is concave only where the pieces overlap at all.
    if (low > 0.0) {
        const double root = 2.0 * std::sqrt(middle) - std::sqrt(low);
        high = std::min(high, root * root);
    }
    return {low, middle, std::max(high, middle)};
}

/// `sliver_mm2`: pieces smaller than this matter so little that a rough range will do.
OverlapRange piece_range(const Piece& a, Vec2 by, double half, const Piece& b, double sliver_mm2) {
    if (out_of_reach(a.box, by, half, b.box)) return {};
    if (both(a, b, Piece::Kind::Box)) return box_range(a, by, half, b);
    if (both(a, b, Piece::Kind::Circle)) return circle_range(a, by, half, b);
    if (std::min(a.area_mm2, b.area_mm2) < sliver_mm2) return sliver_range(a, by, half, b);
    return convex_range(a, by, half, b);
}

Cover cover_of(std::vector<Piece> pieces) {
    Cover cover;
    cover.pieces = std::move(pieces);
    for (const Piece& piece : cover.pieces) {
        cover.area_mm2 += piece.sign * piece.area_mm2;
        if (piece.sign > 0.0) cover.box.add(piece.box);
    }
    return cover;
}

/// Grown or shrunk about the origin.
Ring of_area(Ring ring, double area_mm2) {
    const double factor = std::sqrt(area_mm2 / std::abs(geometry::signed_area(ring)));
    for (Vec2& p : ring)
        p = p * factor;
    return ring;
}

} // namespace

bool is_convex(std::span<const Vec2> ring) {
    double turned = 0.0;
    double way = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 in = ring[(i + 1) % ring.size()] - ring[i];
        const Vec2 out = ring[(i + 2) % ring.size()] - ring[(i + 1) % ring.size()];
        const double corner = std::atan2(cross(in, out), dot(in, out));
        if (corner * way < 0.0) return false;
        if (corner != 0.0) way = corner;
        turned += corner;
    }
    return std::abs(std::abs(turned) - 2.0 * std::numbers::pi) < 1.0;
}

Ring without_idle_points(const Ring& ring) {
    Ring kept = ring;
    bool again = true;
    while (again && kept.size() > 3) {
        again = false;
        for (std::size_t i = 0; i < kept.size() && kept.size() > 3; ++i) {
            const Vec2 before = kept[(i + kept.size() - 1) % kept.size()];
            const Vec2 after = kept[(i + 1) % kept.size()];
            const Vec2 line = after - before;
            const bool doubled = distance(before, kept[i]) <= kIdlePoint;
            const bool straight = std::abs(cross(line, kept[i] - before)) <= kIdlePoint * length(line) &&
                                  dot(kept[i] - before, after - kept[i]) >= 0.0;
            if (!doubled && !straight) continue;
            kept.erase(kept.begin() + static_cast<std::ptrdiff_t>(i));
            again = true;
        }
    }
    return kept;
}

Cover cover_of_box(double width_mm, double height_mm) {
    Piece piece = convex_piece(geometry::rectangle(width_mm, height_mm), 1.0);
    piece.kind = Piece::Kind::Box;
    return cover_of({std::move(piece)});
}

Cover cover_of_circle(double diameter_mm) {
    const double radius = diameter_mm / 2.0;
    const double true_area = std::numbers::pi * radius * radius;
    Piece piece = convex_piece(of_area(geometry::circle(radius, kArcTolerance), true_area), 1.0);
    piece.kind = Piece::Kind::Circle;
    piece.radius_mm = radius;
    piece.area_mm2 = true_area;
    return cover_of({std::move(piece)});
}

Cover cover_of_oblong(double width_mm, double height_mm, Angle turn) {
    const double end = std::min(width_mm, height_mm);
    const double true_area = width_mm * height_mm - end * end * (1.0 - std::numbers::pi / 4.0);
    const Ring ring = of_area(geometry::oblong(width_mm, height_mm, kArcTolerance), true_area);
    return cover_of({convex_piece(geometry::transformed(ring, geometry::Affine::rotation(turn)), 1.0)});
}

double box_overlap_limit(const Cover& moving, Vec2 offset, double half, const Cover& fixed) {
    return longest_shared(across(moving.box), offset.x, half, across(fixed.box)) *
           longest_shared(along(moving.box), offset.y, half, along(fixed.box));
}

Cover cover_of_ring(const Ring& ring) {
    const Ring clean = without_idle_points(ring);
    if (clean.size() < 3) return {};
    if (is_convex(clean)) return cover_of({convex_piece(clean, 1.0)});
    std::vector<Piece> pieces;
    for (const geometry::Polygon& polygon :
         geometry::simplify(geometry::mended(geometry::Polygon{clean, {}}), kIdleWobble)) {
        add_pieces(without_idle_points(polygon.outer), 1.0, 0, pieces);
        for (const Ring& hole : polygon.holes)
            add_pieces(without_idle_points(hole), -1.0, 0, pieces);
    }
    return cover_of(std::move(pieces));
}

Cover moved(const Cover& cover, const geometry::Affine& map) {
    std::vector<Piece> pieces;
    for (const Piece& piece : cover.pieces)
        pieces.push_back(convex_piece(geometry::transformed(piece.ring, map), piece.sign));
    return cover_of(std::move(pieces));
}

double overlap(const Cover& moving, Vec2 offset, const Cover& fixed) {
    double sum = 0.0;
    for (const Piece& a : moving.pieces)
        for (const Piece& b : fixed.pieces)
            sum += a.sign * b.sign * piece_overlap(a, offset, b);
    return sum;
}

OverlapRange overlap_over(const Cover& moving, Vec2 offset, double half, const Cover& fixed) {
    constexpr double kSliverShare = 0.002;
    const double sliver_mm2 = kSliverShare * std::min(moving.area_mm2, fixed.area_mm2);
    OverlapRange sum;
    for (const Piece& a : moving.pieces) {
        for (const Piece& b : fixed.pieces) {
            const OverlapRange part = piece_range(a, offset, half, b, sliver_mm2);
            const bool adds = a.sign * b.sign > 0.0;
            sum.low += adds ? part.low : -part.high;
            sum.middle += adds ? part.middle : -part.middle;
            sum.high += adds ? part.high : -part.low;
        }
    }
    sum.high = std::min({sum.high, moving.area_mm2, fixed.area_mm2});
    sum.low = std::max(sum.low, 0.0);
    return sum;
}

} // namespace padchart::analysis::fitting
