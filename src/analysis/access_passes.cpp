#include "analysis/access_passes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "analysis/access_turning.hpp"
#include "geometry/convex.hpp"

namespace padchart::analysis {
namespace {

using geometry::Ring;
using geometry::Vec2;

constexpr double kLeastHeight_mm = 1e-3;
constexpr int kHalvings = 24;

double gap_at(const ToolPose::Below& below, const Standing& standing, double bearing_deg) {
    double gap = kMostGap_mm;
    for (const Ring& ring : below.rings)
        gap = std::min(gap, signed_gap(turned(ring, bearing_deg), standing.area));
    return gap;
}

/// A sector of a disc about the origin, pointing to -x, round the true one.
Ring forward_fan(double slip_mm, double spread_deg) {
    constexpr int kSteps = 8;
    const double step = 2.0 * spread_deg / kSteps;
    const double radius = slip_mm / std::cos(step / 2.0 * std::numbers::pi / 180.0);
    Ring fan{{0, 0}};
    for (int i = 0; i <= kSteps; ++i) {
        const double angle = (180.0 - spread_deg + step * i) * std::numbers::pi / 180.0;
        fan.push_back({radius * std::cos(angle), radius * std::sin(angle)});
    }
    return fan;
}

} // namespace

const ToolPose::Below& ToolPose::below(std::optional<double> height_mm) const {
    const double height = height_mm.value_or(kTallest_mm);
    const auto [found, is_new] = below_.try_emplace(height);
    if (!is_new) return found->second;
    found->second.rings = tool_below(tool_, opening_mm_, height);
    for (const Ring& ring : found->second.rings)
        for (const Vec2 p : ring)
            found->second.far_mm = std::max(found->second.far_mm, geometry::length(p));
    return found->second;
}

Bearings ToolPose::blocked_by(const Standing& standing, double margin_mm) const {
    const Below& meets = below(standing.height_mm);
    Bearings blocked;
    if (standing.near_mm > meets.far_mm + margin_mm) return blocked;
    for (const Ring& ring : meets.rings)
        blocked = blocked.together_with(blocked_bearings(ring, standing.area, margin_mm));
    return blocked;
}

double ToolPose::gap_to(const Standing& standing, double bearing_deg) const {
    const Below& meets = below(standing.height_mm);
    if (standing.near_mm > meets.far_mm + kMostGap_mm) return kMostGap_mm;
    return gap_at(meets, standing, bearing_deg);
}

bool ToolPose::passes_over(const Standing& standing, double height_mm, double bearing_deg, double margin_mm) const {
    Below part;
    part.rings = tool_below(tool_, opening_mm_, height_mm);
    return gap_at(part, standing, bearing_deg) >= margin_mm;
}

double ToolPose::passing_height_mm(const Standing& standing, double bearing_deg, double margin_mm) const {
    double low = kLeastHeight_mm, high = kTallest_mm;
    if (!passes_over(standing, low, bearing_deg, margin_mm)) return 0.0;
    if (passes_over(standing, high, bearing_deg, margin_mm)) return high;
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = (low + high) / 2.0;
        (passes_over(standing, middle, bearing_deg, margin_mm) ? low : high) = middle;
    }
    return low;
}

Ring slip_area(const ToolPose& pose, std::optional<double> height_mm, double bearing_deg, double slip_mm,
               double spread_deg) {
    Ring points;
    for (const Ring& ring : pose.below(height_mm).rings)
        points.insert(points.end(), ring.begin(), ring.end());
    const Ring whole = geometry::convex_hull(points);
    return turned(geometry::minkowski_sum(whole, forward_fan(slip_mm, spread_deg)), bearing_deg);
}

} // namespace padchart::analysis
