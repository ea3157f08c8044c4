#pragma once
// A part that a corrected trace draws turned in its place, told by its pads. For svg/reimport alone.

#include <vector>

#include "document/footprint.hpp"

namespace padchart::svg {

/// How far the pads of a part went round their middle as one, degrees counter-clockwise as seen from the part's side,
/// in (-180, 180]; both in one frame. Pads are known by their numbers; without numbers by a quarter turn that lays all
/// of them on the others where they do not lie so already. 0 where they stayed, went their own ways, or cannot tell.
[[nodiscard]] double turn_of_pads(const std::vector<document::Pad>& current, const std::vector<document::Pad>& fresh);

} // namespace padchart::svg
