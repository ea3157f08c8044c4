#pragma once
// One page with the picture of a heat estimate or a no-aim map: the side the air comes from, the legend, a scale bar,
// and what must stand beside every estimate. Page mm.

#include <string>

#include "scene/chart_scene.hpp"
#include "scene/page.hpp"

namespace padchart::scene {

/// The page is as large as the picture needs, at most some 280 mm wide. `title` stands at its top.
/// Requires: reports.plan.
[[nodiscard]] Page heat_page(const document::Chart& chart, const Reports& reports, const std::string& title);

} // namespace padchart::scene
