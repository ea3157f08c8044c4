#include "analysis/access_turning.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/angle.hpp"
#include "geometry/convex.hpp"
#include "geometry/segment.hpp"

namespace padchart::analysis {
namespace {

using geometry::dot;
using geometry::length;
using geometry::Polygon;
using geometry::Region;
using geometry::Ring;
using geometry::Vec2;

constexpr double kDegree = 180.0 / std::numbers::pi;
// Below this nothing is told apart from touching.
constexpr double kTouch_mm = 1e-7;

struct Edge {
    Vec2 a, b;
    double near = 0.0, far = 0.0; ///< from the origin
};

double polar(Vec2 v) {
    return std::atan2(v.y, v.x);
}

Vec2 turned_by(Vec2 v, double angle) {
    const double c = std::cos(angle), s = std::sin(angle);
    return {c * v.x - s * v.y, s * v.x + c * v.y};
}

void add_edges(std::span<const Vec2> ring, std::vector<Edge>& out) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i], b = ring[(i + 1) % ring.size()];
        if (a == b) continue;
        out.push_back({a, b, geometry::distance_to_segment({0, 0}, a, b), std::max(length(a), length(b))});
    }
}

std::vector<Edge> edges_of(const Region& region) {
    std::vector<Edge> edges;
    for (const Polygon& polygon : region) {
        add_edges(polygon.outer, edges);
        for (const Ring& hole : polygon.holes)
            add_edges(hole, edges);
    }
    return edges;
}

/// Angles at which the turning edge may be exactly the margin away from the still one, radians.
class Crossings {
public:
    Crossings(const Edge& turning, const Edge& still, double margin) : margin_(margin) {
        for (const Vec2 p : {turning.a, turning.b}) {
            for (const Vec2 q : {still.a, still.b})
                corner_to_corner(p, q);
            corner_to_line(p, still);
        }
        for (const Vec2 q : {still.a, still.b})
            line_to_corner(turning, q);
        std::sort(angles_.begin(), angles_.end());
    }

    [[nodiscard]] const std::vector<double>& angles() const { return angles_; }

private:
    void keep(double angle) {
        const double whole = 2 * std::numbers::pi;
        const double rest = std::fmod(angle, whole);
        angles_.push_back(rest < 0 ? rest + whole : rest);
    }

    /// cos(angle - towards) = share, both solutions.
    void solve(double towards, double share) {
        if (!(std::abs(share) <= 1.0)) return;
        const double off = std::acos(share);
        keep(towards + off);
        keep(towards - off);
    }

    void corner_to_corner(Vec2 p, Vec2 q) {
        const double product = 2.0 * length(p) * length(q);
        if (product > 0.0) solve(polar(q) - polar(p), (dot(p, p) + dot(q, q) - margin_ * margin_) / product);
    }

    void corner_to_line(Vec2 p, const Edge& still) {
        const Vec2 along = still.b - still.a;
        const Vec2 normal = Vec2{-along.y, along.x} / length(along);
        const double at = dot(normal, still.a), reach = length(p);
        if (reach <= 0.0) return;
        for (const double side : {-margin_, margin_})
            solve(polar(normal) - polar(p), (at + side) / reach);
    }

    void line_to_corner(const Edge& turning, Vec2 q) {
        const Vec2 along = turning.b - turning.a;
        const Vec2 normal = Vec2{-along.y, along.x} / length(along);
        const double at = dot(normal, turning.a), reach = length(q);
        if (reach <= 0.0) return;
        for (const double side : {-margin_, margin_})
            solve(polar(q) - polar(normal), (at + side) / reach);
    }

    double margin_;
    std::vector<double> angles_;
};

/// Calls `test` in the middle of every piece between the angles, and adds the pieces for which it answers yes.
template <class Test>
void add_pieces(const std::vector<double>& angles, const Test& test, Bearings& out) {
    const double whole = 2 * std::numbers::pi;
    if (angles.empty()) {
        if (test(0.0)) out = Bearings::all();
        return;
    }
    for (std::size_t i = 0; i < angles.size(); ++i) {
        const double from = angles[i];
        const double to = i + 1 < angles.size() ? angles[i + 1] : angles[0] + whole;
        if (to > from && test((from + to) / 2.0)) out.add(from * kDegree - kGuard_deg, to * kDegree + kGuard_deg);
    }
}

void add_edge_pair(const Edge& turning, const Edge& still, double margin, Bearings& out) {
    if (turning.near > still.far + margin || still.near > turning.far + margin) return;
    const Crossings crossings(turning, still, margin);
    add_pieces(
        crossings.angles(),
        [&](double angle) {
            return geometry::segment_distance(turned_by(turning.a, angle), turned_by(turning.b, angle), still.a,
                                              still.b) < margin;
        },
        out);
}

/// One within the other without their edges meeting.
bool holds(std::span<const Vec2> ring, const Region& still) {
    if (geometry::contains(still, ring[0])) return true;
    return std::any_of(still.begin(), still.end(), [&](const Polygon& polygon) {
        return !polygon.outer.empty() && geometry::contains(ring, polygon.outer[0]);
    });
}

} // namespace

Ring turned(std::span<const Vec2> ring, double bearing_deg) {
    const CosSin t = cos_sin(Angle::degrees(bearing_deg));
    Ring out;
    out.reserve(ring.size());
    for (const Vec2 p : ring)
        out.push_back({t.cos * p.x - t.sin * p.y, t.sin * p.x + t.cos * p.y});
    return out;
}

Bearings blocked_bearings(std::span<const Vec2> turning, const Region& still, double margin_mm) {
    assert(turning.size() >= 3 && margin_mm >= 0.0);
    const double margin = std::max(margin_mm, kTouch_mm);
    std::vector<Edge> moving;
    add_edges(turning, moving);
    const std::vector<Edge> resting = edges_of(still);
    Bearings blocked;
    for (const Edge& a : moving)
        for (const Edge& b : resting)
            add_edge_pair(a, b, margin, blocked);
    // Between the bearings at which edges meet, one lies wholly within the other or wholly outside it.
    for (const Sector& sector : blocked.complement().sectors())
        if (holds(turned(turning, sector.middle_deg()), still))
            blocked.add(sector.from_deg, sector.from_deg + sector.width_deg);
    return blocked;
}

double signed_gap(std::span<const Vec2> ring, const Region& still) {
    double least = std::numeric_limits<double>::infinity();
    std::vector<Edge> moving;
    add_edges(ring, moving);
    for (const Edge& b : edges_of(still))
        for (const Edge& a : moving)
            least = std::min(least, geometry::segment_distance(a.a, a.b, b.a, b.b));
    if (least > 0.0 && !holds(ring, still)) return least;
    double depth = 0.0;
    for (const Polygon& polygon : still) {
        const Ring hull = geometry::convex_hull(polygon.outer);
        if (hull.size() >= 3) depth = std::max(depth, geometry::overlap_depth(ring, hull));
    }
    return -depth;
}

} // namespace padchart::analysis
