#pragma once
// Cuts a drawing into parts of about the same length of text.

#include <cstddef>
#include <vector>

#include "svg/walk_part.hpp"

namespace padchart::svg {

/// In document order, together all of it; at least one, and no more than `count`. Cuts lie between the children of
/// groups, links and inner drawings.
[[nodiscard]] std::vector<WalkPart> parts_of(const pugi::xml_node& root, std::size_t bytes, std::size_t count);

} // namespace padchart::svg
