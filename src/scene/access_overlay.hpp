#pragma once
// What the access stage draws over a chart: a rose of bearings round the part, the best way in with the tool as it
// lies, who stands in the way, what a slip sweeps over, and who must not be touched.

#include <optional>

#include "analysis/access.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::scene {

/// The chart's picture with the report over it; without one (null) the chart's picture alone. From the other side than
/// the report's only the place is marked. What the rose says stands within `words_within` (scene mm) where that holds
/// the part.
[[nodiscard]] Scene access_scene(const document::Chart& chart, const Reports& reports, const ViewOptions& options,
                                 const analysis::AccessReport* access,
                                 const std::optional<geometry::Box>& words_within = std::nullopt);

/// What the access stage explains.
[[nodiscard]] bool is_about_access(Role role);

} // namespace padchart::scene
