#pragma once
// Do lands of one part lie over each other? Lands that only touch do not count.

#include <optional>
#include <span>
#include <utility>

#include "document/footprint.hpp"

namespace padchart::patterns {

/// Positions of the first two lands that overlap, in list order of the first; nothing when none do.
[[nodiscard]] std::optional<std::pair<std::size_t, std::size_t>> first_overlap(std::span<const document::Pad> pads);

} // namespace padchart::patterns
