#include "scene/sheet_cards.hpp"

#include <algorithm>

#include "scene/card.hpp"
#include "scene/sheet_blocks.hpp"
#include "scene/sheet_grid.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;

namespace {

constexpr double kHeading_mm = 10.0;

} // namespace

std::vector<Page> card_pages(const Chart& chart, const Reports& reports, const PageFormat& format,
                             const std::vector<EvidencePicture>& evidence) {
    std::vector<Page> pages;
    if (reports.fit == nullptr) return pages;
    // Two columns by three rows on upright A4, three by two on oblong A4.
    const PageGrid grid = grid_on(format, kHeading_mm, kLeastCardWidth_mm, kLeastCardHeight_mm);
    std::size_t place = 0;
    for (const document::Id& id : parts_that_need_a_card(chart, *reports.fit)) {
        if (place % grid.cells() == 0) {
            pages.push_back(format.blank(pages.empty() ? "Which way round" : "Which way round, continued"));
            write(pages.back().scenes.back().scene, {grid.area.min.x + 2.0, grid.area.min.y - kHeading_mm / 2.0},
                  "Which way round: parts that also fit turned",
                  {.role = Role::PageHeading, .height_mm = kHeadingHeight_mm});
        }
        const Footprint& part = chart.parts[*document::find_part(chart, id)];
        const auto fit = std::find_if(reports.fit->parts.begin(), reports.fit->parts.end(),
                                      [&id](const analysis::PartFit& other) { return other.part == id; });
        add_card(pages.back(), grid.cell(place++), chart, part, *fit, evidence_of(evidence, id));
    }
    return pages;
}

} // namespace padchart::scene
