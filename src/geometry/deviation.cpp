#include "geometry/deviation.hpp"

#include <algorithm>
#include <limits>

#include "geometry/segment.hpp"

namespace padchart::geometry {
namespace {

/// Pairs of a corner and a straight piece looked at in one direction: well below a second.
constexpr std::size_t kMostPairs = 20'000'000;

double farthest_from(std::span<const Vec2> a, std::span<const Vec2> b) {
    const std::size_t stride = 1 + a.size() * b.size() / kMostPairs;
    double farthest = 0.0;
    for (std::size_t i = 0; i < a.size(); i += stride) {
        const Vec2 next = a[(i + 1) % a.size()];
        farthest =
            std::max({farthest, distance_to_closed_line(a[i], b), distance_to_closed_line(lerp(a[i], next, 0.5), b)});
    }
    return farthest;
}

} // namespace

double outline_deviation(std::span<const Vec2> a, std::span<const Vec2> b) {
    if (a.empty() || b.empty()) return std::numeric_limits<double>::infinity();
    return std::max(farthest_from(a, b), farthest_from(b, a));
}

} // namespace padchart::geometry
