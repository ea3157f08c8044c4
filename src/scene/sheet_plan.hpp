#pragma once
// One page for each heat plan: its surroundings with the estimate drawn in, the settings, what to do in which order
// with room for initials, and how hot everything near is estimated to get. Private to the sheet.

#include <vector>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

[[nodiscard]] std::vector<Page> plan_pages(const document::Chart& chart, const Reports& reports,
                                           const SheetOptions& options, const document::HeatPlan& plan,
                                           const analysis::HeatReport& heat);

} // namespace padchart::scene
