#include "svg/reimport_edge.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/deviation.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Ring;
using geometry::Vec2;

/// Of a curve every piece could be the one: it tells no turn.
constexpr std::size_t kMostTurns = 16;
/// Nearer turns are one.
constexpr double kSameTurn_deg = 0.5;

struct Piece {
    Vec2 along;
    [[nodiscard]] double length() const { return geometry::length(along); }
};

/// Its straight pieces, all the same way round.
std::vector<Piece> pieces_of(const Ring& ring) {
    const double way = geometry::signed_area(ring) < 0.0 ? -1.0 : 1.0;
    std::vector<Piece> pieces;
    for (std::size_t i = 0; i < ring.size(); ++i)
        pieces.push_back({(ring[(i + 1) % ring.size()] - ring[i]) * way});
    return pieces;
}

/// The turns by which the longest piece of the one comes to lie along a piece of the other that is as long.
std::vector<double> turns_between(const Ring& was, const Ring& is, double off) {
    const std::vector<Piece> before = pieces_of(was);
    const Piece longest = *std::max_element(before.begin(), before.end(),
                                            [](const Piece& a, const Piece& b) { return a.length() < b.length(); });
    std::vector<double> turns;
    for (const Piece& piece : pieces_of(is)) {
        if (std::abs(piece.length() - longest.length()) > off) continue;
        const double turn =
            squared((geometry::bearing(piece.along) - geometry::bearing(longest.along)).signed_turn().degrees());
        const bool is_known = std::any_of(turns.begin(), turns.end(), [&](double other) {
            return std::abs(std::remainder(other - turn, 360.0)) < kSameTurn_deg;
        });
        if (!is_known) turns.push_back(turn);
    }
    return turns;
}

double length_round(const Ring& ring) {
    double sum = 0.0;
    for (const Piece& piece : pieces_of(ring))
        sum += piece.length();
    return sum;
}

} // namespace

double squared(double turn_deg) {
    constexpr double kSquare_deg = 0.02;
    const double square = 90.0 * std::round(turn_deg / 90.0);
    return std::abs(turn_deg - square) < kSquare_deg ? square : turn_deg;
}

Affine motion_of(const std::vector<geometry::Step>& steps) {
    const geometry::TurnFit fit = geometry::turn_fit(steps);
    return fit.map(Angle::degrees(squared(fit.turn().degrees())), 1.0);
}

bool lies_on(const Ring& ring, const Ring& other, double off) {
    const geometry::Box a = geometry::bounds(ring), b = geometry::bounds(other);
    return geometry::distance(a.min, b.min) <= 2.0 * off && geometry::distance(a.max, b.max) <= 2.0 * off &&
           geometry::outline_deviation(ring, other) <= off;
}

std::vector<Affine> edge_motions(const Ring& was, const Ring& is, double off) {
    if (was.size() < 3 || is.size() < 3) return {};
    const std::vector<double> turns = turns_between(was, is, off);
    if (turns.size() > kMostTurns) return {};
    const Vec2 from = geometry::centroid(was), to = geometry::centroid(is);
    std::vector<Affine> motions;
    for (const double turn : turns) {
        const Affine rotation = Affine::rotation(Angle::degrees(turn));
        const Affine motion = Affine::translation(to - rotation(from)) * rotation;
        if (lies_on(geometry::transformed(was, motion), is, off)) motions.push_back(motion);
    }
    return motions;
}

std::optional<double> edge_factor(const Ring& was, const Ring& is) {
    const double area_was = std::abs(geometry::signed_area(was)), area_is = std::abs(geometry::signed_area(is));
    const double round_was = length_round(was), round_is = length_round(is);
    if (!(area_was > 0.0 && area_is > 0.0 && round_was > 0.0)) return std::nullopt;
    constexpr double kAlike = 0.01; // two hands that draw one edge
    const double by_area = std::sqrt(area_is / area_was), by_length = round_is / round_was;
    return std::abs(by_area / by_length - 1.0) < kAlike ? std::optional(by_area) : std::nullopt;
}

} // namespace padchart::svg
