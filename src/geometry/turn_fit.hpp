#pragma once
// How points went from here to there as one: shifted, turned, perhaps larger. Least squares of what is left, in closed
// form (own arithmetic: the same as a = sum(conj(p) q) / sum(|p|^2) of complex numbers about the two middles).

#include <span>

#include "geometry/affine.hpp"

namespace padchart::geometry {

struct Step {
    Vec2 from, to;
};

struct TurnFit {
    Vec2 from, to; ///< the middles of both
    double along = 0.0, across = 0.0, squares = 0.0;

    /// Counter-clockwise as seen on a page with y down; 0 where the points tell none.
    [[nodiscard]] Angle turn() const { return Angle::radians(std::atan2(-across, along)); }
    /// How many times as far they lie apart; 1 where they all lay in one place.
    [[nodiscard]] double factor() const { return squares > 0.0 ? std::hypot(along, across) / squares : 1.0; }
    /// About the middles, by a turn and a factor that may be others than those found.
    [[nodiscard]] Affine map(Angle turn, double factor) const {
        const Affine linear = Affine::scaling(factor, factor) * Affine::rotation(turn);
        return Affine::translation(to - linear(from)) * linear;
    }
};

/// Requires: not empty.
[[nodiscard]] TurnFit turn_fit(std::span<const Step> steps);

} // namespace padchart::geometry
