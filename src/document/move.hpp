#pragma once
// The whole chart laid elsewhere on the page, as when a corrected trace was drawn off from where the first one lay.

#include "document/chart.hpp"

namespace padchart::document {

/// Every place and direction of the chart through a motion of the board frame; photos go along with what they show.
/// What is said in a part's own frame, its pads and its mark, stays as it is. Requires: `motion` keeps lengths and does
/// not mirror.
[[nodiscard]] Chart moved(const Chart& chart, const geometry::Affine& motion);

[[nodiscard]] Side other_side(Side side);

/// The chart as it is drawn from the other side: every place through a mirror of the board frame, everything that lies
/// on a side on the other one. What is said in a part's own frame stays as it is: on its side it looks as it did.
/// Requires: `mirror` keeps lengths and mirrors.
[[nodiscard]] Chart laid_over(const Chart& chart, const geometry::Affine& mirror);

} // namespace padchart::document
