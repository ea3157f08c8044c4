#pragma once
// The map pages of a sheet: one side of the board at a standard enlargement, on one page or on tiles that join. Private
// to the sheet.

#include <optional>
#include <vector>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

/// How the maps of a sheet are laid out: with their legend and the scale's story below them, or alone on their pages
/// where that shows them larger; the rest then stands on a cover.
struct MapLayout {
    PageFormat format;
    bool alone = false;
    double enlargement = 1.0;
};

[[nodiscard]] PageFormat upright_paper(Paper paper);

/// The one that shows the side largest; upright paper and the legend below where it makes no difference.
[[nodiscard]] MapLayout map_layout(const document::Chart& chart, const Reports& reports, const SheetOptions& options,
                                   document::Side side);

/// `is_first`: room is left for the full title block on the first of the pages.
[[nodiscard]] std::vector<Page> map_pages(const document::Chart& chart, const Reports& reports,
                                          const SheetOptions& options, const MapLayout& how, document::Side side,
                                          bool is_first);

/// What the maps of these sides have to explain, each once.
[[nodiscard]] std::vector<LegendEntry> legend_of_maps(const document::Chart& chart, const Reports& reports,
                                                      const SheetOptions& options,
                                                      const std::vector<document::Side>& sides);

/// What a plan's air is felt at, and the whole target. Scene mm, as seen from the plan's side.
[[nodiscard]] geometry::Box heat_area(const document::Chart& chart, const document::HeatPlan& plan);

/// The surroundings of a heat plan's aim, larger than on the map; nothing where the map shows them as large.
[[nodiscard]] std::optional<Page> heat_area_page(const document::Chart& chart, const Reports& reports,
                                                 const SheetOptions& options, const MapLayout& how,
                                                 const document::HeatPlan& heat_plan);

} // namespace padchart::scene
