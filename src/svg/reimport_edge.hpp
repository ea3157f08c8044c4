#pragma once
// Where a board's edge went as it is. For svg/reimport alone.

#include <optional>
#include <vector>

#include "geometry/polygon.hpp"
#include "geometry/turn_fit.hpp"

namespace padchart::svg {

/// All shifts and turns that lay the one edge on the other, nowhere farther off than that: two of a rectangle, four of
/// a square, none where it is drawn otherwise or has no straight piece longer than its others.
[[nodiscard]] std::vector<geometry::Affine> edge_motions(const geometry::Ring& was, const geometry::Ring& is,
                                                         double off);

/// How many times as large the one is as the other, wherever it lies and however it is turned; nothing where they do
/// not have the same proportions.
[[nodiscard]] std::optional<double> edge_factor(const geometry::Ring& was, const geometry::Ring& is);

/// A hand that turns a drawing turns it square, its lines stay as they were: a turn that is nearly square as square.
[[nodiscard]] double squared(double turn_deg);

/// The motion that comes nearest to what all of them did, its turn squared. Requires: not empty.
[[nodiscard]] geometry::Affine motion_of(const std::vector<geometry::Step>& steps);

/// Nowhere farther off than that.
[[nodiscard]] bool lies_on(const geometry::Ring& ring, const geometry::Ring& other, double off);

} // namespace padchart::svg
