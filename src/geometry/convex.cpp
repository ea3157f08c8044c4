#include "geometry/convex.hpp"
#include "geometry/segment.hpp"

#include <algorithm>
#include <cassert>
#include <limits>

namespace padchart::geometry {
namespace {

double across(Vec2 a, Vec2 b, Vec2 c) {
    return cross(b - a, c - a);
}

/// Half of Andrew's chain: the corners that turn one way only, in the order of the points.
template <class Iterator>
void add_chain(Ring& hull, Iterator begin, Iterator end) {
    const std::size_t start = hull.size();
    for (Iterator at = begin; at != end; ++at) {
        while (hull.size() >= start + 2 && across(hull[hull.size() - 2], hull.back(), *at) <= 0.0)
            hull.pop_back();
        hull.push_back(*at);
    }
    hull.pop_back();
}

bool cross_properly(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
    const double c_side = across(a, b, c), d_side = across(a, b, d);
    const double a_side = across(c, d, a), b_side = across(c, d, b);
    return ((c_side > 0) != (d_side > 0)) && ((a_side > 0) != (b_side > 0)) && (c_side != d_side || a_side != b_side);
}

/// Of b along the normals of a's edges: the least reach into a.
double least_reach(std::span<const Vec2> a, std::span<const Vec2> b) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < a.size(); ++i) {
        const Vec2 from = a[i], edge = a[(i + 1) % a.size()] - from;
        const double long_mm = length(edge);
        if (long_mm < 1e-12) continue;
        const Vec2 outward = Vec2{edge.y, -edge.x} / long_mm;
        double reach = -std::numeric_limits<double>::infinity();
        for (const Vec2 point : b)
            reach = std::max(reach, dot(outward, from - point));
        least = std::min(least, reach);
    }
    return least;
}

} // namespace

Ring convex_hull(std::span<const Vec2> points) {
    Ring sorted(points.begin(), points.end());
    std::sort(sorted.begin(), sorted.end(), [](Vec2 a, Vec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    sorted.erase(std::unique(sorted.begin(), sorted.end()), sorted.end());
    if (sorted.size() < 3) return sorted;
    Ring hull;
    add_chain(hull, sorted.begin(), sorted.end());
    add_chain(hull, sorted.rbegin(), sorted.rend());
    return hull;
}

Ring minkowski_sum(std::span<const Vec2> a, std::span<const Vec2> b) {
    assert(!a.empty() && !b.empty());
    Ring sums;
    sums.reserve(a.size() * b.size());
    for (const Vec2 p : a)
        for (const Vec2 q : b)
            sums.push_back(p + q);
    return convex_hull(sums);
}

double segment_distance(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
    if (cross_properly(a, b, c, d)) return 0.0;
    return std::min(std::min(distance_to_segment(a, c, d), distance_to_segment(b, c, d)),
                    std::min(distance_to_segment(c, a, b), distance_to_segment(d, a, b)));
}

double overlap_depth(std::span<const Vec2> a, std::span<const Vec2> b) {
    assert(a.size() >= 3 && b.size() >= 3);
    return std::min(least_reach(a, b), least_reach(b, a));
}

} // namespace padchart::geometry
