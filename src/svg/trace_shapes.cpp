#include "svg/trace_shapes.hpp"
#include "geometry/segment.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

namespace padchart::svg {
namespace {

using document::ShapeKind;
using geometry::Ring;
using geometry::Vec2;

/// How far a flattened curve may lie inside its chord's shape on top of the tolerance.
constexpr double kFlattening = 0.006;
constexpr double kSimplify = 0.002;

void keep_farthest(const Ring& points, std::size_t first, std::size_t last, double tolerance, std::vector<bool>& keep) {
    std::vector<std::pair<std::size_t, std::size_t>> open{{first, last}};
    while (!open.empty()) {
        const auto [a, b] = open.back();
        open.pop_back();
        double farthest = tolerance;
        std::size_t at = 0;
        for (std::size_t i = a + 1; i < b; ++i) {
            const double d = geometry::distance_to_segment(points[i], points[a], points[b % points.size()]);
            if (d > farthest) {
                farthest = d;
                at = i;
            }
        }
        if (at == 0) continue;
        keep[at] = true;
        open.emplace_back(a, at);
        open.emplace_back(at, b);
    }
}

std::optional<PlacedShape> as_rectangle(const Ring& corners, double tolerance) {
    if (corners.size() != 4) return std::nullopt;
    const Vec2 along = (corners[1] - corners[0] + corners[2] - corners[3]) / 2.0;
    const Vec2 across = (corners[3] - corners[0] + corners[2] - corners[1]) / 2.0;
    const double width = geometry::length(along);
    const double height = geometry::length(across);
    if (width <= 0.0 || height <= 0.0) return std::nullopt;
    PlacedShape placed;
    placed.axis = along / width;
    placed.at = (corners[0] + corners[1] + corners[2] + corners[3]) / 4.0;
    placed.shape = {ShapeKind::Rectangle, width, height, {}};
    const double side = cross(along, across) < 0.0 ? -1.0 : 1.0;
    const Vec2 v = Vec2{-placed.axis.y, placed.axis.x} * side;
    const double allowed = std::min(tolerance, 0.05 * std::min(width, height));
    for (std::size_t i = 0; i < 4; ++i) {
        const double sx = i == 1 || i == 2 ? 0.5 : -0.5;
        const double sy = i >= 2 ? 0.5 : -0.5;
        const Vec2 ideal = placed.at + placed.axis * (sx * width) + v * (sy * height);
        if (geometry::distance(ideal, corners[i]) > allowed) return std::nullopt;
    }
    return placed;
}

/// True when every vertex lies within `tolerance` of the outline of the core segment widened by `radius`, and no edge
/// cuts deeper than flattening does.
bool follows_capsule(const Ring& ring, Vec2 a, Vec2 b, double radius, double tolerance) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 next = ring[(i + 1) % ring.size()];
        if (std::abs(geometry::distance_to_segment(ring[i], a, b) - radius) > tolerance) return false;
        if (radius - geometry::distance_to_segment((ring[i] + next) / 2.0, a, b) > tolerance + kFlattening)
            return false;
    }
    return true;
}

Vec2 longest_edge(const Ring& ring) {
    Vec2 longest;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 edge = ring[(i + 1) % ring.size()] - ring[i];
        if (dot(edge, edge) > dot(longest, longest)) longest = edge;
    }
    return longest;
}

struct Circle {
    Vec2 centre;
    double radius = 0.0;
};

/// What lies nearest to all corners (Kåsa 1976: least squares of the squared radii). The corners of a flattened circle
/// lie on it, however it was cut into pieces and turned; its box and its area depend on both. Nothing for a line.
std::optional<Circle> circle_through(const Ring& ring) {
    const auto count = static_cast<double>(ring.size());
    Vec2 mean;
    for (const Vec2 p : ring)
        mean += p / count;
    double xx = 0.0, xy = 0.0, yy = 0.0;
    Vec2 cubes;
    for (const Vec2 p : ring) {
        const Vec2 q = p - mean;
        xx += q.x * q.x;
        xy += q.x * q.y;
        yy += q.y * q.y;
        cubes += q * (dot(q, q) / 2.0);
    }
    const double determinant = xx * yy - xy * xy;
    if (!(determinant > 0.0)) return std::nullopt;
    const Vec2 off = Vec2{yy * cubes.x - xy * cubes.y, xx * cubes.y - xy * cubes.x} / determinant;
    return Circle{mean + off, std::sqrt(dot(off, off) + (xx + yy) / count)};
}

std::optional<PlacedShape> as_round(const Ring& ring, double tolerance) {
    const auto circle = circle_through(ring);
    if (!circle) return std::nullopt;
    const auto [centre, radius] = *circle;
    if (!follows_capsule(ring, centre, centre, radius, std::min(tolerance / 2.0, 0.05 * radius))) return std::nullopt;
    PlacedShape placed;
    placed.at = centre;
    placed.axis = {1.0, 0.0}; // a circle has no direction: any will do, the page's is the plainest
    placed.shape = {ShapeKind::Round, 2.0 * radius, 2.0 * radius, {}};
    return placed;
}

std::optional<PlacedShape> as_oblong(const Ring& ring, double tolerance) {
    const Vec2 edge = longest_edge(ring);
    const Vec2 u = edge / geometry::length(edge), v{-u.y, u.x};
    geometry::Box own;
    for (const Vec2 p : ring)
        own.add(Vec2{dot(p, u), dot(p, v)});
    const double length = std::max(own.width(), own.height());
    const double width = std::min(own.width(), own.height());
    const Vec2 axis = own.height() > own.width() ? v : u;
    const Vec2 centre = u * own.centre().x + v * own.centre().y;
    const Vec2 half = axis * ((length - width) / 2.0);
    if (!follows_capsule(ring, centre - half, centre + half, width / 2.0, std::min(tolerance, 0.05 * width)))
        return std::nullopt;
    PlacedShape placed;
    placed.at = centre;
    placed.axis = axis;
    placed.shape = {ShapeKind::Oblong, length, width, {}};
    return placed;
}

std::optional<PlacedShape> as_round_or_oblong(const Ring& ring, double tolerance) {
    const Vec2 edge = longest_edge(ring);
    if (ring.size() < 8 || dot(edge, edge) == 0.0) return std::nullopt;
    if (auto round = as_round(ring, tolerance)) return round;
    return as_oblong(ring, tolerance);
}

} // namespace

Ring simplified(const Ring& ring, double tolerance) {
    if (ring.size() <= 3) return ring;
    std::vector<bool> keep(ring.size(), false);
    // Two far points that stay: the corner farthest from the middle and the one farthest from that.
    const auto farthest_from = [&](Vec2 from) {
        return static_cast<std::size_t>(
            std::max_element(ring.begin(), ring.end(),
                             [&](Vec2 a, Vec2 b) { return dot(a - from, a - from) < dot(b - from, b - from); }) -
            ring.begin());
    };
    const std::size_t first = farthest_from(geometry::bounds(ring).centre());
    Ring turned(ring.begin() + static_cast<std::ptrdiff_t>(first), ring.end());
    turned.insert(turned.end(), ring.begin(), ring.begin() + static_cast<std::ptrdiff_t>(first));
    const std::size_t second = static_cast<std::size_t>(std::max_element(turned.begin(), turned.end(),
                                                                         [&](Vec2 a, Vec2 b) {
                                                                             return geometry::distance(a, turned[0]) <
                                                                                    geometry::distance(b, turned[0]);
                                                                         }) -
                                                        turned.begin());
    keep[0] = keep[second] = true;
    keep_farthest(turned, 0, second, tolerance, keep);
    keep_farthest(turned, second, turned.size(), tolerance, keep);
    Ring out;
    // In the drawn order, so that a rectangle keeps its first edge.
    const std::size_t shift = turned.size() - first;
    for (std::size_t i = 0; i < turned.size(); ++i)
        if (const std::size_t at = (i + shift) % turned.size(); keep[at]) out.push_back(turned[at]);
    return out.size() >= 3 ? out : ring;
}

PlacedShape recognised(const Ring& ring, double tolerance) {
    const Ring few = simplified(ring, std::min(kSimplify, tolerance / 2));
    if (auto rectangle = as_rectangle(few, tolerance)) return *rectangle;
    if (auto rounded = as_round_or_oblong(ring, tolerance)) return *rounded;
    PlacedShape placed;
    placed.at = geometry::bounds(few).centre();
    placed.shape.kind = ShapeKind::Polygon;
    for (const Vec2 p : few)
        placed.shape.points.push_back(p - placed.at);
    return placed;
}

double tidy(double mm) {
    const double rounded = std::round(mm * 1e6) / 1e6;
    return rounded == 0.0 ? 0.0 : rounded;
}

Vec2 tidy(Vec2 point) {
    return {tidy(point.x), tidy(point.y)};
}

geometry::Polygon tidy(geometry::Polygon polygon) {
    for (Vec2& point : polygon.outer)
        point = tidy(point);
    for (Ring& hole : polygon.holes)
        for (Vec2& point : hole)
            point = tidy(point);
    return polygon;
}

} // namespace padchart::svg
