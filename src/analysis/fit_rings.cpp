// Which turns are worth trying: quarters, and those that bring a ring of lands onto itself; see fit_pattern.hpp.

#include <algorithm>
#include <cmath>

#include "analysis/fit_pattern.hpp"

namespace padchart::analysis::fitting {

using geometry::Affine;
using geometry::Vec2;

namespace {

/// Lands whose distances from the centre differ by less lie on one ring, mm.
constexpr double kRingThickness_mm = 0.05;
/// As many make a ring even when it is as thick as a hand slides the part, for a traced ring is never quite round.
/// Fewer do not: the three lands of a small transistor lie nearly at the corners of an even triangle.
constexpr std::size_t kClearRingLands = 5;

/// The mean of the land centres and the lands farthest from it.
struct OuterRing {
    Vec2 centre;
    std::vector<Vec2> lands; ///< from the centre
    double thickness_mm = 0.0;
};

OuterRing outer_ring(const Pattern& pattern, double thickness_mm) {
    OuterRing ring;
    ring.thickness_mm = thickness_mm;
    for (const Land& land : pattern.lands)
        ring.centre += land.at / static_cast<double>(pattern.lands.size());
    double radius = 0.0;
    for (const Land& land : pattern.lands)
        radius = std::max(radius, distance(land.at, ring.centre));
    for (const Land& land : pattern.lands)
        if (distance(land.at, ring.centre) >= radius - thickness_mm) ring.lands.push_back(land.at - ring.centre);
    return ring;
}

/// The ring comes to lie on itself, land centre on land centre.
bool maps_ring(const OuterRing& ring, const Affine& turn) {
    return std::all_of(ring.lands.begin(), ring.lands.end(), [&](Vec2 land) {
        return std::any_of(ring.lands.begin(), ring.lands.end(),
                           [&](Vec2 other) { return distance(turn.linear(land), other) <= 2.0 * ring.thickness_mm; });
    });
}

bool is_quarter(Angle angle) {
    return std::abs(std::remainder(angle.degrees(), 90.0)) < 1e-6;
}

/// Rings of more lands than this are not made; fewer than three have no turn of their own.
constexpr std::size_t kMostRingLands = 64;

bool has_ring_turns(const OuterRing& ring) {
    return ring.lands.size() >= 3 && ring.lands.size() != 4 && ring.lands.size() <= kMostRingLands;
}

/// The ring as drawn, and as a shaky hand may have drawn it.
std::vector<OuterRing> outer_rings(const Pattern& pattern) {
    std::vector<OuterRing> rings;
    for (const double thickness : {kRingThickness_mm, std::max(kRingThickness_mm, pattern.reach_mm)}) {
        OuterRing ring = outer_ring(pattern, thickness);
        const bool is_clear = thickness == kRingThickness_mm || ring.lands.size() >= kClearRingLands;
        if (is_clear && has_ring_turns(ring)) rings.push_back(std::move(ring));
    }
    return rings;
}

bool is_same_angle(Angle a, Angle b) {
    return std::abs(std::remainder((a - b).degrees(), 360.0)) < 1e-6;
}

void add_once(std::vector<Turn>& turns, const Turn& turn) {
    const auto is_same = [&](const Turn& other) { return is_same_angle(other.angle, turn.angle); };
    if (std::none_of(turns.begin(), turns.end(), is_same)) turns.push_back(turn);
}

void add_ring_turns(const OuterRing& ring, std::vector<Turn>& turns) {
    const auto count = static_cast<double>(ring.lands.size());
    for (double step = 1.0; step < count; step += 1.0) {
        const Angle angle = Angle::degrees(360.0 * step / count);
        if (!is_quarter(angle) && maps_ring(ring, Affine::rotation(angle)))
            add_once(turns, {angle, ring.centre, false});
    }
}

void add_mirror_turns(const OuterRing& ring, std::vector<Turn>& turns) {
    // Where the first land of the ring has gone by the mirror, and from there to each land of the ring.
    const Vec2 first{-ring.lands.front().x, ring.lands.front().y};
    const Vec2 mirrored_centre{-ring.centre.x, ring.centre.y};
    for (const Vec2 land : ring.lands) {
        const Angle angle = (geometry::bearing(land) - geometry::bearing(first)).wrapped();
        // About the point that brings the mirrored mean onto the mean: c with R(m - c) + c = mean, for R not 1.
        const Affine r = Affine::rotation(angle);
        const Affine system{1.0 - r.a, -r.b, -r.c, 1.0 - r.d, 0.0, 0.0};
        if (is_quarter(angle) || !maps_ring(ring, r * Affine::scaling(-1.0, 1.0))) continue;
        add_once(turns, {angle, system.inverse().linear(ring.centre - r.linear(mirrored_centre)), true});
    }
}

} // namespace

std::vector<Turn> candidate_turns(const Pattern& pattern) {
    std::vector<Turn> turns;
    for (const double quarter : {90.0, 180.0, 270.0})
        turns.push_back({Angle::degrees(quarter), {}, false});
    for (const OuterRing& ring : outer_rings(pattern))
        add_ring_turns(ring, turns);
    std::sort(turns.begin(), turns.end(), [](const Turn& a, const Turn& b) { return a.angle < b.angle; });
    return turns;
}

std::vector<Turn> candidate_mirror_turns(const Pattern& pattern) {
    std::vector<Turn> turns;
    for (const double quarter : {0.0, 90.0, 180.0, 270.0})
        turns.push_back({Angle::degrees(quarter), {}, true});
    for (const OuterRing& ring : outer_rings(pattern))
        add_mirror_turns(ring, turns);
    return turns;
}

} // namespace padchart::analysis::fitting
