#pragma once
// Lays one set of points on another although some of them moved. Least squares on its own would spread one moved part
// over all; so motions are tried from pairs of points, the one that most points agree with is kept, and least squares
// with weights that fall with the distance finishes it. The same points give the same answer on every machine.
// Sources: random sample consensus (Fischler and Bolles 1981) and iteratively reweighted least squares (Holland and
// Welsch 1977), both from memory; tests hold the answers against motions that are known.

#include <vector>

#include "analysis/compare.hpp"
#include "analysis/compare_match.hpp"
#include "geometry/affine.hpp"

namespace padchart::analysis {

struct PointPair {
    geometry::Vec2 before;
    geometry::Vec2 after;
    double weight = 1.0;
};

struct MotionLimits {
    double gate_mm = 0.2;         ///< a point farther off than this does not agree
    double scale_freedom = 0.0;   ///< 0.01: lengths may differ by 1 % either way
    bool prefer_mirrored = false; ///< where both explain the points alike
};

struct Motion {
    geometry::Affine before_from_after;
    double scale = 1.0;
    bool mirrored = false;
};

/// The motion that carries `after` nearest `before`, weighted least squares over all pairs (closed form; Horn 1987 for
/// the plane, from memory). Identity without points; a shift alone with one.
[[nodiscard]] Motion least_squares_motion(const std::vector<PointPair>& pairs, bool mirrored, double scale_freedom);

/// As above, but by what most of the weight agrees with. The identity where that holds for more than half exactly.
[[nodiscard]] Motion robust_motion(const std::vector<PointPair>& pairs, const MotionLimits& limits);

/// Lays `after` on `before` by outline, holes and the parts paired so far.
[[nodiscard]] Registration register_charts(const document::Chart& before, const document::Chart& after,
                                           const std::vector<PartPair>& pairs, double moved_mm);

} // namespace padchart::analysis
