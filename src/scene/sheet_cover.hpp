#pragma once
// The first page of a sheet whose maps stand alone on their pages: title block, what is on which page, cautions, what
// is not mapped, the legend of all maps, and how the scale was set. Private to the sheet.

#include <vector>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

/// `rest`: the pages that will follow.
[[nodiscard]] std::vector<Page> cover_pages(const document::Chart& chart, const SheetOptions& options,
                                            const std::vector<LegendEntry>& legend, const std::vector<Page>& rest);

} // namespace padchart::scene
