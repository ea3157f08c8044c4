#include "analysis/access_scene.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "geometry/convex.hpp"
#include "geometry/segment.hpp"
#include "geometry/validity.hpp"

namespace padchart::analysis {
namespace {

using document::Footprint;
using document::KeepOut;
using document::KeepOutReason;
using document::Presence;
using geometry::Region;
using geometry::Ring;
using geometry::Vec2;

constexpr double kParallel_deg = 2.0;
// Sides shorter than this give the tips nothing to hold, but for the facets of a drawn circle.
constexpr double kLeastSideShare = 0.02;

bool stands(const Footprint& part) {
    switch (part.condition.presence) {
    case Presence::Missing:
    case Presence::Removed:
    case Presence::Lost:
    case Presence::NotFitted: return false;
    default: return true;
    }
}

/// Nothing: not measured.
std::optional<double> height_of(const Footprint& part) {
    if (part.body && part.body->height_mm) return part.body->height_mm;
    // A test point without a stated body is a bare land.
    if (part.part_class == document::PartClass::TestPoint) return 0.0;
    return std::nullopt;
}

bool is_body(const KeepOut& keep_out) {
    if (keep_out.measure == document::Measure::Removed) return false;
    if (keep_out.height_mm) return true;
    return keep_out.reason != KeepOutReason::Underfill && keep_out.reason != KeepOutReason::Coating &&
           keep_out.reason != KeepOutReason::FarSidePart;
}

double longest_side(const Footprint& part) {
    const geometry::Box box = geometry::bounds(document::extent_in_part(part));
    return std::max(box.width(), box.height());
}

double distance_to_origin(const Region& region) {
    if (geometry::contains(region, Vec2{})) return 0.0;
    double least = std::numeric_limits<double>::infinity();
    for (const geometry::Polygon& polygon : region)
        least = std::min(least, geometry::distance_to_closed_line({}, polygon.outer));
    return least;
}

class Collector {
public:
    Collector(const Footprint& target, Vec2 at, const ToolReach& reach)
        : frame_(at, target.placement.side), side_(target.placement.side), at_(at), reach_(reach),
          own_(geometry::mended({document::extent_on_board(target), {}})) {}

    void add(Standing standing, const geometry::Polygon& outline) {
        if (standing.height_mm && *standing.height_mm <= 0.0) return;
        const geometry::Box box = geometry::bounds(outline);
        const double reach_mm = reach_(standing.height_mm);
        if (box.is_empty() || !box.grown(reach_mm).contains(at_)) return;
        const Region area = geometry::mended(outline);
        if (area.empty()) return;
        standing.area = frame_.from_board(area);
        standing.near_mm = distance_to_origin(standing.area);
        if (standing.near_mm > reach_mm) return;
        standing.gap = geometry::gap_between(own_, area);
        standing.overlaps_target = standing.gap.mm == 0.0 && overlaps(area);
        found_.push_back(std::move(standing));
    }

    void add(const Footprint& part) {
        if (part.placement.side != side_ || !stands(part)) return;
        Standing standing{part.id, access_name(part), false, height_of(part)};
        standing.longest_mm = longest_side(part);
        add(std::move(standing), {document::extent_on_board(part), {}});
    }

    void add(const KeepOut& keep_out) {
        if (keep_out.side != side_ || !is_body(keep_out)) return;
        Standing standing{keep_out.id, keep_out.name.empty() ? "a keep-out" : keep_out.name, true, keep_out.height_mm};
        const geometry::Box box = geometry::bounds(keep_out.outline);
        standing.longest_mm = std::max(box.width(), box.height());
        add(std::move(standing), keep_out.outline);
    }

    std::vector<Standing> take() {
        std::stable_sort(found_.begin(), found_.end(),
                         [](const Standing& a, const Standing& b) { return a.gap.mm < b.gap.mm; });
        return std::move(found_);
    }

private:
    /// Not merely touching: by more than a hundredth of a millimetre in depth.
    [[nodiscard]] bool overlaps(const Region& area) const {
        for (const geometry::Polygon& mine : own_)
            for (const geometry::Polygon& other : area) {
                const Ring a = geometry::convex_hull(mine.outer), b = geometry::convex_hull(other.outer);
                if (a.size() >= 3 && b.size() >= 3 && geometry::overlap_depth(a, b) > 0.01) return true;
            }
        return false;
    }

    AccessFrame frame_;
    document::Side side_;
    Vec2 at_;
    const ToolReach& reach_;
    Region own_;
    std::vector<Standing> found_;
};

double bearing_of(Vec2 v) {
    return wrapped_deg(std::atan2(v.y, v.x) * 180.0 / std::numbers::pi);
}

/// How far along a ray from `from` the ring is left for the last time; 0 where it is not met.
double exit_along(const Ring& ring, Vec2 from, Vec2 way) {
    double last = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i] - from, edge = ring[(i + 1) % ring.size()] - ring[i];
        const double crossing = geometry::cross(way, edge);
        if (std::abs(crossing) < 1e-12) continue;
        const double along = geometry::cross(a, edge) / crossing, t = geometry::cross(a, way) / crossing;
        if (t >= -1e-9 && t <= 1.0 + 1e-9) last = std::max(last, along);
    }
    return last;
}

} // namespace

Ring AccessFrame::from_board(const Ring& ring) const {
    Ring out;
    for (const Vec2 p : ring)
        out.push_back(from_board(p));
    return out;
}

Ring AccessFrame::to_board(const Ring& ring) const {
    Ring out;
    for (const Vec2 p : ring)
        out.push_back(to_board(p));
    return out;
}

Region AccessFrame::from_board(const Region& region) const {
    Region out;
    for (const geometry::Polygon& polygon : region) {
        out.push_back({from_board(polygon.outer), {}});
        for (const Ring& hole : polygon.holes)
            out.back().holes.push_back(from_board(hole));
    }
    return out;
}

std::string access_name(const Footprint& part) {
    return part.name.empty() ? part.id.text : part.name;
}

std::vector<Standing> standing_round(const document::Chart& chart, const Footprint& target, Vec2 at,
                                     const ToolReach& reach) {
    Collector collector(target, at, reach);
    for (const Footprint& part : chart.parts)
        if (part.id != target.id) collector.add(part);
    for (const KeepOut& keep_out : chart.keep_outs)
        collector.add(keep_out);
    return collector.take();
}

std::optional<PadPlace> place_on_pad(const Footprint& part, std::size_t pad) {
    const Ring outline = document::outline_on_board(part, part.pads[pad]);
    if (outline.size() < 3) return std::nullopt;
    const Vec2 middle = geometry::centroid(outline);
    const Vec2 centre = document::board_from_part(part.placement)(document::centre_in_part(part));
    const Vec2 off = middle - centre;
    const double far = geometry::length(off);
    const Ring body = document::body_on_board(part);
    if (far < 1e-6) return body.empty() ? std::optional(PadPlace{middle, 0.0}) : std::nullopt;
    const Vec2 out = off / far;
    const double pad_end = far + exit_along(outline, middle, out);
    const double body_end = body.empty() ? 0.0 : exit_along(body, centre, out);
    if (pad_end <= body_end + 0.02) return std::nullopt;
    const AccessFrame frame(centre, part.placement.side);
    const double along = body_end > far ? (body_end + pad_end) / 2.0 : far;
    return PadPlace{centre + out * along, bearing_of(frame.from_board(middle))};
}

std::vector<SidePair> parallel_sides(const Ring& outline) {
    const Ring hull = geometry::convex_hull(outline);
    std::vector<SidePair> pairs;
    const std::size_t n = hull.size();
    if (n < 3) return pairs;
    double round = 0.0;
    for (std::size_t i = 0; i < n; ++i)
        round += geometry::distance(hull[i], hull[(i + 1) % n]);
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = i + 1; k < n; ++k) {
            const Vec2 a = hull[(i + 1) % n] - hull[i], b = hull[(k + 1) % n] - hull[k];
            if (std::min(geometry::length(a), geometry::length(b)) < kLeastSideShare * round) continue;
            if (std::abs(turn_between(bearing_of(a), bearing_of(-b))) > kParallel_deg) continue;
            const Vec2 longer = geometry::length(a) >= geometry::length(b) ? a : b;
            const double along = wrapped_deg(2.0 * bearing_of(longer)) / 2.0;
            pairs.push_back({along, width_across(hull, along)});
        }
    return pairs;
}

double width_across(const Ring& outline, double bearing_deg) {
    const CosSin t = cos_sin(Angle::degrees(bearing_deg));
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Vec2 p : outline) {
        const double across = -t.sin * p.x + t.cos * p.y;
        low = std::min(low, across);
        high = std::max(high, across);
    }
    return high - low;
}

} // namespace padchart::analysis
