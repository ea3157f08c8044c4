#pragma once
// Areas cut into pieces that graphics hardware can fill, and into rows for hatching. Works on any ring, crossing itself
// or not (even-odd), with holes; units are those of the input.

#include <vector>

#include "geometry/polygon.hpp"

namespace padchart::paint {

/// A piece between two horizontal lines. Pieces of one polygon do not overlap and leave no gap.
struct Band {
    double top = 0.0, bottom = 0.0;
    double top_left = 0.0, top_right = 0.0;
    double bottom_left = 0.0, bottom_right = 0.0;
};

[[nodiscard]] std::vector<Band> bands_of(const geometry::Polygon& polygon);

/// The part inside the polygon of the horizontal line y = row * step.
struct RowSpan {
    long row = 0;
    double left = 0.0, right = 0.0;
};

/// All rows inside `limits` (y only), in rising order, left before right.
/// Requires: step > 0.
[[nodiscard]] std::vector<RowSpan> row_spans(const geometry::Polygon& polygon, double step,
                                             const geometry::Box& limits);

} // namespace padchart::paint
