#include "geometry/polygon.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace padchart::geometry {

namespace {

/// Edges of a full circle, a multiple of four so that it is as wide as it is high. Few enough that a careless
/// tolerance cannot eat the memory.
int circle_edges(double radius, double tolerance, ArcSide side) {
    constexpr int kMost = 1 << 14;
    if (!(radius > 0.0)) return 8;
    const double cosine = side == ArcSide::Inside ? 1.0 - tolerance / radius : radius / (radius + tolerance);
    const double half_step = std::acos(std::clamp(cosine, 0.0, 1.0));
    const double edges = half_step > 0.0 ? std::ceil(std::numbers::pi / half_step) : kMost;
    const int quarter = static_cast<int>(std::ceil(std::min<double>(edges, kMost) / 4.0));
    return 4 * std::max(quarter, 2);
}

Vec2 on_circle(double radius, double degrees) {
    const CosSin t = cos_sin(Angle::degrees(degrees));
    return {radius * t.cos, radius * t.sin};
}

} // namespace

Box bounds(std::span<const Vec2> points) {
    Box box;
    for (const Vec2 p : points)
        box.add(p);
    return box;
}

Box bounds(const Polygon& polygon) {
    return bounds(polygon.outer);
}

Box bounds(const Region& region) {
    Box box;
    for (const Polygon& polygon : region)
        box.add(bounds(polygon));
    return box;
}

double signed_area(std::span<const Vec2> ring) {
    // Measured from the first point: far from the origin the digits would go to the place, not to the area.
    double twice = 0.0;
    for (std::size_t i = 1; i + 1 < ring.size(); ++i)
        twice += cross(ring[i] - ring[0], ring[i + 1] - ring[0]);
    return twice / 2.0;
}

double area(const Polygon& polygon) {
    double sum = std::abs(signed_area(polygon.outer));
    for (const Ring& hole : polygon.holes)
        sum -= std::abs(signed_area(hole));
    return sum;
}

double area(const Region& region) {
    double sum = 0.0;
    for (const Polygon& polygon : region)
        sum += area(polygon);
    return sum;
}

Vec2 centroid(std::span<const Vec2> ring) {
    assert(!ring.empty());
    const Vec2 origin = ring[0];
    double twice = 0.0;
    Vec2 moment;
    Vec2 sum;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 p = ring[i] - origin;
        const Vec2 q = ring[(i + 1) % ring.size()] - origin;
        const double part = cross(p, q);
        twice += part;
        moment += (p + q) * part;
        sum += p;
    }
    const Vec2 by_area = moment / (3.0 * twice);
    // A ring all but without area has no centroid worth the name: rounding throws it anywhere.
    if (twice != 0.0 && is_finite(by_area) && bounds(ring).grown(1e-9).contains(origin + by_area))
        return origin + by_area;
    return origin + sum / static_cast<double>(ring.size());
}

bool is_convex_ring(std::span<const Vec2> ring) {
    std::vector<Vec2> edges;
    edges.reserve(ring.size());
    for (std::size_t i = 0; i < ring.size(); ++i)
        if (const Vec2 edge = ring[(i + 1) % ring.size()] - ring[i]; !(edge == Vec2{})) edges.push_back(edge);
    if (edges.size() < 3) return false;
    // One way round all along, and the heading passes from left to right once only: the ring turns once, not twice.
    const auto heads_right = [](Vec2 e) { return e.x > 0.0 || (e.x == 0.0 && e.y > 0.0); };
    int left_turns = 0;
    int right_turns = 0;
    int changes = 0;
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const Vec2 a = edges[i];
        const Vec2 b = edges[(i + 1) % edges.size()];
        const double turn = cross(a, b);
        if (!std::isfinite(turn) || (turn == 0.0 && dot(a, b) < 0.0)) return false;
        left_turns += turn < 0.0 ? 1 : 0;
        right_turns += turn > 0.0 ? 1 : 0;
        changes += heads_right(a) != heads_right(b) ? 1 : 0;
    }
    return (left_turns == 0) != (right_turns == 0) && changes == 2;
}

bool contains(std::span<const Vec2> ring, Vec2 point) {
    bool inside = false;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i];
        const Vec2 b = ring[(i + 1) % ring.size()];
        if ((a.y > point.y) == (b.y > point.y)) continue;
        const double x = a.x + (point.y - a.y) * (b.x - a.x) / (b.y - a.y);
        if (point.x < x) inside = !inside;
    }
    return inside;
}

bool contains(const Polygon& polygon, Vec2 point) {
    if (!contains(polygon.outer, point)) return false;
    for (const Ring& hole : polygon.holes)
        if (contains(hole, point)) return false;
    return true;
}

bool contains(const Region& region, Vec2 point) {
    for (const Polygon& polygon : region)
        if (contains(polygon, point)) return true;
    return false;
}

Ring transformed(std::span<const Vec2> ring, const Affine& map) {
    Ring result;
    result.reserve(ring.size());
    for (const Vec2 p : ring)
        result.push_back(map(p));
    return result;
}

Polygon transformed(const Polygon& polygon, const Affine& map) {
    Polygon result{transformed(polygon.outer, map), {}};
    result.holes.reserve(polygon.holes.size());
    for (const Ring& hole : polygon.holes)
        result.holes.push_back(transformed(hole, map));
    return result;
}

Ring rectangle(double width, double height) {
    const double x = width / 2.0;
    const double y = height / 2.0;
    return {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
}

Ring circle(double radius, double tolerance, ArcSide side) {
    assert(tolerance > 0.0);
    const int edges = circle_edges(radius, tolerance, side);
    const double step = 360.0 / edges;
    const bool outside = side == ArcSide::Outside;
    const double reach = outside ? radius / std::cos(std::numbers::pi / edges) : radius;
    Ring ring;
    ring.reserve(static_cast<std::size_t>(edges));
    for (int i = 0; i < edges; ++i)
        ring.push_back(on_circle(reach, (outside ? i + 0.5 : i) * step));
    return ring;
}

Ring oblong(double width, double height, double tolerance) {
    assert(tolerance > 0.0);
    if (width == height) return circle(width / 2.0, tolerance);
    const double radius = std::min(width, height) / 2.0;
    const Vec2 shift = width > height ? Vec2{width / 2.0 - radius, 0.0} : Vec2{0.0, height / 2.0 - radius};
    const double first = width > height ? -90.0 : 0.0;
    const int half = circle_edges(radius, tolerance, ArcSide::Inside) / 2;
    Ring ring;
    ring.reserve(2 * static_cast<std::size_t>(half) + 2);
    for (int i = 0; i <= half; ++i)
        ring.push_back(on_circle(radius, first + 180.0 * i / half) + shift);
    for (int i = 0; i <= half; ++i)
        ring.push_back(on_circle(radius, first + 180.0 + 180.0 * i / half) - shift);
    return ring;
}

} // namespace padchart::geometry
