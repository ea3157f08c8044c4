#pragma once
// On which side of the board a thing is seen.

#include <optional>

#include "document/chart.hpp"

namespace padchart::document {

/// Nothing where no part, keep-out, shield, note or reading bears the id.
[[nodiscard]] std::optional<Side> side_of(const Chart& chart, const Id& id);

} // namespace padchart::document
