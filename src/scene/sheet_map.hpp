#pragma once
// The map pages of a sheet: one side of the board at a standard enlargement, on one page or on tiles that join. Private
// to the sheet.

#include <optional>
#include <vector>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

/// The enlargement the side would get on this paper; what tells upright from oblong paper.
[[nodiscard]] double map_enlargement(const document::Chart& chart, const Reports& reports, const SheetOptions& options,
                                     const PageFormat& format, document::Side side);

/// `is_first`: room is left for the full title block on the first of the pages.
[[nodiscard]] std::vector<Page> map_pages(const document::Chart& chart, const Reports& reports,
                                          const SheetOptions& options, const PageFormat& format, document::Side side,
                                          bool is_first);

/// The surroundings of a heat plan's aim, larger than on the map; nothing where the map shows them as large.
[[nodiscard]] std::optional<Page> heat_area_page(const document::Chart& chart, const Reports& reports,
                                                 const SheetOptions& options, const PageFormat& format,
                                                 const document::HeatPlan& heat_plan);

} // namespace padchart::scene
