#include "analysis/fit_pattern.hpp"
#include "geometry/segment.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>

namespace padchart::analysis::fitting {

using document::ShapeKind;
using geometry::Affine;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

/// Far below anything that can be measured: a turn that moves no corner farther than this is no turn, mm.
constexpr double kNothing_mm = 1e-9;
constexpr double kLeastArea_mm2 = 1e-9;

/// The same outline with its turn in [0, 180), and a quarter turn taken up by its sides.
Outline settled(Outline outline) {
    const double arm = std::hypot(outline.width_mm, outline.height_mm) / 2.0;
    double turn = std::fmod(outline.turn.wrapped().degrees(), 180.0);
    const double quarters = std::round(turn / 90.0);
    if (std::abs(turn - 90.0 * quarters) * std::numbers::pi / 180.0 * arm <= kNothing_mm) {
        if (quarters == 1.0) std::swap(outline.width_mm, outline.height_mm);
        turn = 0.0;
    }
    if (outline.kind == Outline::Kind::Oblong && outline.width_mm == outline.height_mm)
        outline.kind = Outline::Kind::Circle;
    outline.turn = Angle::degrees(outline.kind == Outline::Kind::Circle ? 0.0 : turn);
    return outline;
}

/// A ring of four right corners is a rectangle, however it was drawn.
bool is_rectangle(const Ring& ring) {
    if (ring.size() != 4) return false;
    constexpr double kRight = 1e-6;
    for (std::size_t i = 0; i < 4; ++i) {
        const Vec2 in = ring[(i + 1) % 4] - ring[i];
        const Vec2 out = ring[(i + 2) % 4] - ring[(i + 1) % 4];
        if (std::abs(dot(in, out)) > kRight * length(in) * length(out)) return false;
    }
    return cross(ring[1] - ring[0], ring[2] - ring[1]) * cross(ring[3] - ring[2], ring[0] - ring[3]) > 0.0;
}

Outline free_outline(Ring ring) {
    Outline outline;
    outline.kind = Outline::Kind::Free;
    const Box box = geometry::bounds(ring);
    outline.width_mm = box.width();
    outline.height_mm = box.height();
    outline.ring = std::move(ring);
    return outline;
}

struct Placed {
    Vec2 at;
    Outline outline;
};

/// `ring` lies in the wanted axes already.
Placed placed_ring(Ring ring) {
    ring = without_idle_points(ring);
    if (is_rectangle(ring)) {
        Outline box;
        box.width_mm = distance(ring[0], ring[1]);
        box.height_mm = distance(ring[1], ring[2]);
        box.turn = geometry::bearing(ring[1] - ring[0]);
        return {(ring[0] + ring[2]) / 2.0, settled(box)};
    }
    const Vec2 centre = geometry::bounds(ring).centre();
    for (Vec2& p : ring)
        p = p - centre;
    return {centre, free_outline(std::move(ring))};
}

Placed placed_pad(const document::Pad& pad, Angle axes) {
    const Affine to_own = Affine::rotation(-axes);
    if (pad.shape.kind == ShapeKind::Polygon)
        return placed_ring(
            geometry::transformed(pad.shape.points, to_own * Affine::translation(pad.at) * Affine::rotation(pad.turn)));
    Outline outline;
    outline.width_mm = pad.shape.width_mm;
    outline.height_mm = pad.shape.kind == ShapeKind::Round ? pad.shape.width_mm : pad.shape.height_mm;
    outline.turn = pad.turn - axes;
    if (pad.shape.kind == ShapeKind::Round) outline.kind = Outline::Kind::Circle;
    if (pad.shape.kind == ShapeKind::Oblong) outline.kind = Outline::Kind::Oblong;
    return {to_own(pad.at), settled(outline)};
}

/// Half the size of the box round the outline.
Vec2 half_extent(const Outline& outline) {
    if (outline.kind == Outline::Kind::Free || outline.kind == Outline::Kind::Circle)
        return {outline.width_mm / 2.0, outline.height_mm / 2.0};
    const CosSin t = cos_sin(outline.turn);
    const double cos = std::abs(t.cos);
    const double sin = std::abs(t.sin);
    if (outline.kind == Outline::Kind::Box)
        return Vec2{outline.width_mm * cos + outline.height_mm * sin,
                    outline.width_mm * sin + outline.height_mm * cos} /
               2.0;
    const double end = std::min(outline.width_mm, outline.height_mm) / 2.0;
    const double spine = std::max(outline.width_mm, outline.height_mm) / 2.0 - end;
    return outline.width_mm >= outline.height_mm ? Vec2{spine * cos + end, spine * sin + end}
                                                 : Vec2{spine * sin + end, spine * cos + end};
}

/// Gives equal outlines one number.
class OutlineNumbers {
public:
    explicit OutlineNumbers(std::vector<Outline>& outlines) : outlines_(outlines) {}

    std::size_t number(const Outline& outline) {
        const auto [from, to] = known_.equal_range(key(outline));
        for (auto at = from; at != to; ++at)
            if (outlines_[at->second] == outline) return at->second;
        outlines_.push_back(outline);
        known_.emplace(key(outline), outlines_.size() - 1);
        return outlines_.size() - 1;
    }

private:
    using Key = std::tuple<int, double, double, double, std::size_t>;
    static Key key(const Outline& o) {
        return {static_cast<int>(o.kind), o.width_mm, o.height_mm, o.turn.degrees(), o.ring.size()};
    }

    std::vector<Outline>& outlines_;
    std::multimap<Key, std::size_t> known_;
};

/// A number with the noise of a rotation taken off, so that equal pads stay equal.
double without_noise(double mm) {
    constexpr double kGrid = 1e-11;
    return std::round(mm / kGrid) * kGrid;
}

void centre_lands(Pattern& pattern) {
    Box box;
    for (const Land& land : pattern.lands) {
        const Vec2 half = half_extent(pattern.outlines[land.outline]);
        box.add(Box{land.at - half, land.at + half});
    }
    if (box.is_empty()) return;
    for (Land& land : pattern.lands) {
        land.at = land.at - box.centre();
        land.at = {without_noise(land.at.x), without_noise(land.at.y)};
    }
}

Outline turned(Outline outline, const Turn& turn) {
    outline.turn = (turn.mirrored ? -outline.turn : outline.turn) + turn.angle;
    return settled(outline);
}

/// The turn and mirror without their centre.
Affine linear_part(const Turn& turn) {
    return Affine::rotation(turn.angle) * (turn.mirrored ? Affine::scaling(-1.0, 1.0) : Affine{});
}

/// The slit by which the outline of a ring land goes in to its hole and out again: no edge of the copper. No land is so
/// thin, mm.
constexpr double kWidestSlit_mm = 0.06;

bool is_seam(const Ring& ring, std::size_t edge) {
    const auto is_end_of = [&](std::size_t i, Vec2 from, Vec2 to) {
        return distance(ring[i], from) <= kWidestSlit_mm && distance(ring[(i + 1) % ring.size()], to) <= kWidestSlit_mm;
    };
    const Vec2 from = ring[edge];
    const Vec2 to = ring[(edge + 1) % ring.size()];
    if (distance(from, to) <= 2.0 * kWidestSlit_mm) return false;
    for (std::size_t i = 0; i < ring.size(); ++i)
        if (i != edge && is_end_of(i, to, from)) return true;
    return false;
}

/// Every point of a's edge lies near b's edge; looked at in steps of a quarter of the tolerance.
bool lies_along(const Ring& a, const Ring& b, double tolerance) {
    constexpr double kFewestSteps = 1.0;
    constexpr double kMostSteps = 64.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (is_seam(a, i)) continue;
        const Vec2 from = a[i];
        const Vec2 to = a[(i + 1) % a.size()];
        const double steps =
            std::clamp(std::ceil(4.0 * distance(from, to) / std::max(tolerance, 1e-3)), kFewestSteps, kMostSteps);
        for (double step = 0.0; step < steps; step += 1.0)
            if (geometry::distance_to_closed_line(lerp(from, to, step / steps), b) > tolerance) return false;
    }
    return true;
}

Ring ring_of(const Outline& outline) {
    if (outline.kind == Outline::Kind::Free) return outline.ring;
    const Cover cover = cover_of(outline);
    return cover.pieces.empty() ? Ring{} : cover.pieces.front().ring;
}

bool same_sides(const Outline& a, double width, double height, double turn_deg, double tolerance) {
    if (std::abs(a.width_mm - width) > tolerance || std::abs(a.height_mm - height) > tolerance) return false;
    const bool both_round = a.kind != Outline::Kind::Box && std::abs(a.width_mm - a.height_mm) <= tolerance;
    if (both_round) return true;
    const double apart = std::abs(std::remainder(a.turn.degrees() - turn_deg, 180.0)) * std::numbers::pi / 180.0;
    return apart * std::hypot(a.width_mm, a.height_mm) / 2.0 <= tolerance;
}

} // namespace

bool is_usable(const document::Pad& pad) {
    if (!is_finite(pad.at) || !std::isfinite(pad.turn.degrees())) return false;
    if (pad.shape.kind == ShapeKind::Polygon)
        return pad.shape.points.size() >= 3 &&
               std::all_of(pad.shape.points.begin(), pad.shape.points.end(), geometry::is_finite) &&
               (std::abs(geometry::signed_area(pad.shape.points)) > kLeastArea_mm2 ||
                cover_of_ring(pad.shape.points).area_mm2 > kLeastArea_mm2);
    const double height = pad.shape.kind == ShapeKind::Round ? pad.shape.width_mm : pad.shape.height_mm;
    return std::isfinite(pad.shape.width_mm) && std::isfinite(height) && pad.shape.width_mm > 0.0 && height > 0.0 &&
           pad.shape.width_mm * height > kLeastArea_mm2;
}

Pattern pattern_of(const document::Footprint& part) {
    if (!std::all_of(part.pads.begin(), part.pads.end(), is_usable)) {
        document::Footprint usable = part;
        std::erase_if(usable.pads, [](const document::Pad& pad) { return !is_usable(pad); });
        return pattern_of(usable);
    }
    Pattern pattern;
    pattern.axes = own_axes(part);
    OutlineNumbers numbers(pattern.outlines);
    for (const document::Pad& pad : part.pads) {
        Placed placed = placed_pad(pad, pattern.axes);
        placed.outline.width_mm = without_noise(placed.outline.width_mm);
        placed.outline.height_mm = without_noise(placed.outline.height_mm);
        pattern.lands.push_back({placed.at, numbers.number(placed.outline)});
    }
    centre_lands(pattern);
    for (const Outline& outline : pattern.outlines)
        pattern.covers.push_back(cover_of(outline));
    pattern.reach_mm = std::numeric_limits<double>::infinity();
    for (const Outline& outline : pattern.outlines)
        pattern.reach_mm = std::min(pattern.reach_mm, width_of(outline) / 2.0);
    if (pattern.outlines.empty()) pattern.reach_mm = 0.0;
    return pattern;
}

Pattern turned(const Pattern& pattern, const Turn& turn) {
    Pattern result = pattern;
    // A free outline is kept about the middle of its box, and a turn moves that middle.
    std::vector<Vec2> middles(result.outlines.size());
    for (std::size_t i = 0; i < result.outlines.size(); ++i) {
        Outline& outline = result.outlines[i];
        if (outline.kind != Outline::Kind::Free) {
            outline = turned(outline, turn);
            result.covers[i] = cover_of(outline);
            continue;
        }
        Ring ring = geometry::transformed(outline.ring, linear_part(turn));
        middles[i] = geometry::bounds(ring).centre();
        outline = free_outline(geometry::transformed(ring, Affine::translation(-middles[i])));
        result.covers[i] = moved(pattern.covers[i], Affine::translation(-middles[i]) * linear_part(turn));
    }
    const Affine mirror = turn.mirrored ? Affine::scaling(-1.0, 1.0) : Affine{};
    const Affine map = Affine::rotation_about(turn.centre, turn.angle) * mirror;
    for (Land& land : result.lands)
        land.at = map(land.at) + middles[land.outline];
    return result;
}

Cover cover_of(const Outline& outline) {
    if (outline.kind == Outline::Kind::Free) return cover_of_ring(outline.ring);
    if (outline.kind == Outline::Kind::Circle) return cover_of_circle(outline.width_mm);
    if (outline.kind == Outline::Kind::Box && outline.turn.degrees() == 0.0)
        return cover_of_box(outline.width_mm, outline.height_mm);
    if (outline.kind == Outline::Kind::Oblong)
        return cover_of_oblong(outline.width_mm, outline.height_mm, outline.turn);
    return cover_of_ring(geometry::transformed(geometry::rectangle(outline.width_mm, outline.height_mm),
                                               Affine::rotation(outline.turn)));
}

double width_of(const Outline& outline) {
    return std::min(outline.width_mm, outline.height_mm);
}

bool same_outline(const Outline& a, const Outline& b, double tolerance_mm) {
    using Kind = Outline::Kind;
    const double tolerance = tolerance_mm + kNothing_mm;
    if (a.kind == Kind::Free || b.kind == Kind::Free) {
        if (std::abs(2.0 * half_extent(a).x - 2.0 * half_extent(b).x) > tolerance ||
            std::abs(2.0 * half_extent(a).y - 2.0 * half_extent(b).y) > tolerance)
            return false;
        if (a == b) return true;
        const Ring first = ring_of(a);
        const Ring second = ring_of(b);
        return lies_along(first, second, tolerance) && lies_along(second, first, tolerance);
    }
    if ((a.kind == Kind::Box) != (b.kind == Kind::Box)) return false;
    return same_sides(a, b.width_mm, b.height_mm, b.turn.degrees(), tolerance) ||
           same_sides(a, b.height_mm, b.width_mm, b.turn.degrees() + 90.0, tolerance);
}

} // namespace padchart::analysis::fitting
