#pragma once
// Another number of pads for a family that can have it: what changes is the family's own count, and a body that grows
// with its pads; every other measure stays as given.

#include <optional>
#include <span>
#include <vector>

#include "patterns/family.hpp"

namespace padchart::patterns {

/// The full parameter list that makes `pads` pads; a land in the middle is kept where the number allows it. Nothing
/// where the family has no count of its own, cannot have so many, or is a grid: which balls are there is for the eye.
/// Requires: the parameters are such that generate() takes them.
[[nodiscard]] std::optional<std::vector<double>>
parameters_for_pads(const Family& family, std::span<const double> parameters, std::size_t pads);

} // namespace padchart::patterns
