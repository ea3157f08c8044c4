#pragma once
// How far two outlines lie apart.

#include <span>

#include "geometry/vec2.hpp"

namespace padchart::geometry {

/// At the most, both ways (Hausdorff's distance, over vertices and middles of edges; infinity where one has no points).
/// Of outlines with very many corners only every n-th is asked.
[[nodiscard]] double outline_deviation(std::span<const Vec2> a, std::span<const Vec2> b);

} // namespace padchart::geometry
