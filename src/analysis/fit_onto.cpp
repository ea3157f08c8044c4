#include "analysis/fit_onto.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>

#include "analysis/fit_pattern.hpp"
#include "analysis/fit_seat.hpp"

namespace padchart::analysis {

using document::Footprint;
using fitting::Board;
using fitting::Land;
using fitting::Pattern;
using fitting::Trial;
using geometry::Vec2;

namespace {

/// Turns nearer to each other than this are one: the lands of a trace are never quite on their ring, degrees.
constexpr double kSameTurn_deg = 3.0;
/// Lands whose distances from the middle differ by less may be partners on a ring, mm.
constexpr double kSameRing_mm = 0.1;

double apart_deg(double a, double b) {
    return std::abs(std::remainder(a - b, 360.0));
}

bool are_all_usable(const Footprint& part, const Pattern& pattern) {
    return !part.pads.empty() && part.pads.size() == pattern.lands.size();
}

Vec2 middle_of(const Pattern& pattern) {
    Vec2 middle;
    for (const Land& land : pattern.lands)
        middle += land.at / static_cast<double>(pattern.lands.size());
    return middle;
}

/// The pattern turned about the middle of its lands, which is then put on `middle`.
Pattern turned_onto(const Pattern& moving, Angle angle, Vec2 middle) {
    const Vec2 own = middle_of(moving);
    Pattern result = fitting::turned(moving, {angle, own, false});
    for (Land& land : result.lands)
        land.at += middle - own;
    return result;
}

/// Turns that bring the moving part's outermost land onto a land as far out, quarters left out.
std::vector<double> ring_turns(const Pattern& moving, const Pattern& fixed) {
    const Vec2 from = middle_of(moving);
    const Vec2 to = middle_of(fixed);
    const auto farthest = std::max_element(moving.lands.begin(), moving.lands.end(), [&](const Land& a, const Land& b) {
        return geometry::distance(a.at, from) < geometry::distance(b.at, from);
    });
    const Vec2 outermost = farthest->at - from;
    std::vector<double> turns;
    for (const Land& land : fixed.lands) {
        const Vec2 arm = land.at - to;
        if (std::abs(geometry::length(arm) - geometry::length(outermost)) > kSameRing_mm) continue;
        const double turn = (geometry::bearing(arm) - geometry::bearing(outermost)).wrapped().degrees();
        const auto is_same = [turn](double other) { return apart_deg(turn, other) < kSameTurn_deg; };
        if (std::abs(std::remainder(turn, 90.0)) < kSameTurn_deg) continue;
        if (std::none_of(turns.begin(), turns.end(), is_same)) turns.push_back(turn);
    }
    return turns;
}

std::vector<std::size_t> partners(const Pattern& turned, Vec2 shift, const Pattern& fixed) {
    std::vector<std::size_t> partner;
    for (const Land& land : turned.lands) {
        const auto nearest =
            std::min_element(fixed.lands.begin(), fixed.lands.end(), [&](const Land& a, const Land& b) {
                return geometry::distance(a.at, land.at + shift) < geometry::distance(b.at, land.at + shift);
            });
        partner.push_back(static_cast<std::size_t>(nearest - fixed.lands.begin()));
    }
    return partner;
}

/// Between the parts' frames, from one between their own axes; the rounding of the axes taken off.
double between_frames(double own_deg, const Pattern& moving, const Pattern& fixed) {
    const double turn = (fixed.axes + Angle::degrees(own_deg) - moving.axes).wrapped().degrees();
    const double round = std::round(turn);
    return std::abs(turn - round) < 1e-9 ? Angle::degrees(round).wrapped().degrees() : turn;
}

} // namespace

std::vector<OntoTurn> turns_onto(const Footprint& moving_part, const Footprint& fixed_part, double tolerance_mm) {
    assert(tolerance_mm >= 0.0);
    const Pattern moving = fitting::pattern_of(moving_part);
    const Pattern fixed = fitting::pattern_of(fixed_part);
    std::vector<OntoTurn> found;
    if (!are_all_usable(moving_part, moving) || !are_all_usable(fixed_part, fixed)) return found;
    if (moving.lands.size() != fixed.lands.size()) return found;
    const Board board(fixed);
    const auto try_turn = [&](double own_deg, const Pattern& turned) {
        const std::optional<Vec2> shift = Trial(board, turned).find_shift();
        if (shift)
            found.push_back({between_frames(own_deg, moving, fixed), matches(board, turned, tolerance_mm),
                             partners(turned, *shift, fixed)});
    };
    for (const double quarter : {0.0, 90.0, 180.0, 270.0})
        try_turn(quarter, fitting::turned(moving, {Angle::degrees(quarter), {}, false}));
    for (const double turn : ring_turns(moving, fixed))
        try_turn(turn, turned_onto(moving, Angle::degrees(turn), middle_of(fixed)));
    std::sort(found.begin(), found.end(), [](const OntoTurn& a, const OntoTurn& b) { return a.turn_deg < b.turn_deg; });
    return found;
}

bool seats_mirrored(const Footprint& moving_part, const Footprint& fixed_part) {
    const Pattern moving = fitting::pattern_of(moving_part);
    const Pattern fixed = fitting::pattern_of(fixed_part);
    if (moving.lands.empty() || moving.lands.size() != fixed.lands.size()) return false;
    const Board board(fixed);
    for (const double quarter : {0.0, 90.0, 180.0, 270.0})
        if (Trial(board, fitting::turned(moving, {Angle::degrees(quarter), {}, true})).find_shift()) return true;
    return false;
}

} // namespace padchart::analysis
