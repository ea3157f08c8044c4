#pragma once
// Where lifted parts wait: a place for each part the air is felt at, in the order of the board, with how it sat and
// boxes to tick when it comes off and when it is back. Laid under clear tape with the sticky side up, it holds the
// parts. Private to the sheet.

#include <vector>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

/// Parts that could be lifted: on the board, with lands, and within the air of some heat plan (all where there is no
/// plan). In the order of the grid: row by row from the up edge as the side is seen.
[[nodiscard]] std::vector<const document::Footprint*> parts_to_park(const document::Chart& chart, document::Side side,
                                                                    std::size_t columns);

[[nodiscard]] std::vector<Page> parking_pages(const document::Chart& chart, const Reports& reports,
                                              const PageFormat& format);

} // namespace padchart::scene
