#pragma once
// Outlines to polylines with a proven bound, true boxes and true lengths, all after the transform.
//
// Cubics: a cubic leaves its chord by at most max|B''|/8, and B'' runs between 6(P0-2P1+P2) and 6(P1-2P2+P3); in n
// equal steps of the parameter by an n-th of an n-th of that. Elliptical arcs: the image of a unit circle's arc of
// angle s leaves its chord by at most (1 - cos(s/2)) times the map's largest stretch. Lengths by Gauss-Legendre
// quadrature on each piece; of circles in closed form.

#include <cstddef>
#include <vector>

#include "geometry/affine.hpp"
#include "geometry/box.hpp"
#include "svg/drawing.hpp"
#include "svg/outline.hpp"

namespace padchart::svg {

struct FlatShape {
    std::size_t first_subpath = 0;
    std::size_t subpath_count = 0;
    bool closed = true;
    double length = 0.0;
    geometry::Box bbox;
    bool finite = true;       ///< false: a coordinate left the range of numbers; nothing was added
    bool within_bound = true; ///< false: a curve hit the limit of pieces and is coarser than asked
    bool fits = true;         ///< false: `max_points` was reached; nothing was added
};

struct FlattenOptions {
    double tolerance = 0.005; ///< above 0
    std::size_t max_points = 40'000'000;
    bool measure_length = true; ///< takes as long as the points themselves
};

/// Appends to `points` and `subpaths`. Moves of the pen that draw nothing give nothing.
[[nodiscard]] FlatShape flatten(const Outline& outline, const geometry::Affine& map, const FlattenOptions& options,
                                std::vector<Vec2>& points, std::vector<Subpath>& subpaths);

/// The true box alone.
[[nodiscard]] geometry::Box bounds_of(const Outline& outline);
/// The box `transform-box` means, as browsers take it: a trailing move of the pen counts where there are curves or
/// nothing else.
[[nodiscard]] geometry::Box reference_box_of(const Outline& outline);

} // namespace padchart::svg
