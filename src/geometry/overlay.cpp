#include "geometry/overlay.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

#include "geometry/geos_bridge.hpp"

namespace padchart::geometry {

namespace {

constexpr int kQuadrantEdges = 40;

/// A GEOS arc is a chain of chords of the circle, at most one and a half times the asked step long (it rounds the
/// number of steps). Asking for this much more puts the chords outside the true circle.
double rounded_up(double by) {
    const double half_chord = 0.75 * std::numbers::pi / (2.0 * kQuadrantEdges);
    constexpr double kVertexSnap = 4e-6; // GEOS joins curve points nearer than 1e-6 of the distance
    const double factor = 1.0 / std::cos(half_chord) + kVertexSnap;
    assert(factor < 1.0 + kArcExcess);
    return by * factor;
}

/// The part of a convex ring on the left or right of the line from `from` to `to`.
Ring clipped(std::span<const Vec2> ring, Vec2 from, Vec2 to, double side) {
    Ring kept;
    kept.reserve(ring.size() + 2);
    const auto depth = [&](Vec2 p) { return side * cross(to - from, p - from); };
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i];
        const Vec2 b = ring[(i + 1) % ring.size()];
        const double da = depth(a);
        const double db = depth(b);
        if (da >= 0.0) kept.push_back(a);
        if ((da > 0.0 && db < 0.0) || (da < 0.0 && db > 0.0)) kept.push_back(lerp(a, b, da / (da - db)));
    }
    return kept;
}

} // namespace

Region unite(const Region& a) {
    return geos::region_of(geos::area_of(a).get());
}

Region unite(const Region& a, const Region& b) {
    Region all = a;
    all.insert(all.end(), b.begin(), b.end());
    return unite(all);
}

Region intersect(const Region& a, const Region& b) {
    const geos::Geometry first = geos::area_of(a);
    const geos::Geometry second = geos::area_of(b);
    return geos::region_of(geos::owned(GEOSIntersection_r(geos::context(), first.get(), second.get())).get());
}

Region subtract(const Region& a, const Region& b) {
    const geos::Geometry first = geos::area_of(a);
    const geos::Geometry second = geos::area_of(b);
    return geos::region_of(geos::owned(GEOSDifference_r(geos::context(), first.get(), second.get())).get());
}

double convex_overlap_area(std::span<const Vec2> a, std::span<const Vec2> b) {
    const double side = signed_area(b) < 0.0 ? -1.0 : 1.0;
    Ring left(a.begin(), a.end());
    for (std::size_t i = 0; i < b.size() && left.size() >= 3; ++i)
        left = clipped(left, b[i], b[(i + 1) % b.size()], side);
    return left.size() < 3 || b.size() < 3 || signed_area(b) == 0.0 ? 0.0 : std::abs(signed_area(left));
}

Region widen(const Region& region, double by) {
    if (by == 0.0) return unite(region);
    const geos::Geometry shape = by > 0.0 ? geos::shape_of(region) : geos::area_of(region);
    const geos::Geometry wide = geos::owned(GEOSBufferWithStyle_r(
        geos::context(), shape.get(), rounded_up(by), kQuadrantEdges, GEOSBUF_CAP_ROUND, GEOSBUF_JOIN_ROUND, 1.0));
    return geos::region_of(wide.get());
}

Region simplify(const Region& region, double tolerance) {
    assert(tolerance >= 0.0);
    const geos::Geometry shape = geos::area_of(region);
    return geos::region_of(geos::owned(GEOSTopologyPreserveSimplify_r(geos::context(), shape.get(), tolerance)).get());
}

} // namespace padchart::geometry
