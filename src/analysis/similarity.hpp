#pragma once
// A picture taken straight from above: turned, moved, of another size, perhaps mirrored, and nothing else.

#include <span>

#include "analysis/registration.hpp"

namespace padchart::analysis {

/// Least squares of the distances on the board. Requires: two points or more, no two of them at one place.
[[nodiscard]] geometry::Homography similarity(std::span<const PointMatch> points, bool mirrored);

} // namespace padchart::analysis
