#pragma once
// How many pins must a family have to get a given number of lands? For this module only.

#include <span>
#include <vector>

#include "geometry/vec2.hpp"
#include "patterns/family.hpp"

namespace padchart::patterns {

/// Full parameter lists of the family, counts and names of centre lands adapted, each of which makes `lands` lands; the
/// family's own counts come first. Empty when it cannot have so many. Grids: see grid_variants.
[[nodiscard]] std::vector<std::vector<double>> count_variants(const Family& family, std::size_t lands);

/// For a grid: columns, rows and pitches read from where the lands lie. `lands` must be turned so that rows run along
/// x. The list makes at least as many lands as given; which of its places are empty is for the fit to find out.
[[nodiscard]] std::vector<std::vector<double>> grid_variants(const Family& family,
                                                             std::span<const geometry::Vec2> lands);

/// With other counts than `own` has, the body grows as the lands do: changes the body measures among `values`.
void grow_body(const Family& family, const document::Footprint& own, const std::vector<document::Pad>& pads,
               std::vector<double>& values);

} // namespace padchart::patterns
