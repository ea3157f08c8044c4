#include "analysis/similarity.hpp"

#include <vector>

#include "geometry/turn_fit.hpp"

namespace padchart::analysis {

using geometry::Affine;
using geometry::Homography;

Homography similarity(std::span<const PointMatch> points, bool mirrored) {
    const Affine flip = mirrored ? Affine::scaling(1, -1) : Affine{};
    std::vector<geometry::Step> steps;
    for (const PointMatch& point : points)
        steps.push_back({flip(point.pixel), point.board});
    const geometry::TurnFit fit = geometry::turn_fit(steps);
    return Homography::of(fit.map(fit.turn(), fit.factor()) * flip);
}

} // namespace padchart::analysis
