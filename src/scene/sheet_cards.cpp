#include "scene/sheet_cards.hpp"

#include <algorithm>

#include "scene/card.hpp"
#include "scene/sheet_blocks.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kHeading_mm = 10.0;

/// As many cards as the paper holds: two columns by three rows on upright A4, three by two on oblong A4.
struct Grid {
    Box area;
    std::size_t columns = 2;
    std::size_t rows = 3;

    [[nodiscard]] Box cell(std::size_t i) const {
        const Vec2 size{area.width() / static_cast<double>(columns), area.height() / static_cast<double>(rows)};
        const std::size_t row = i / columns;
        const std::size_t column = i % columns;
        const Vec2 at{area.min.x + static_cast<double>(column) * size.x,
                      area.min.y + static_cast<double>(row) * size.y};
        return {at, at + size};
    }
};

Grid grid_on(const PageFormat& format) {
    const Box frame = format.frame();
    Grid grid;
    grid.area = {{frame.min.x + 2.0, frame.min.y + kHeading_mm},
                 {frame.max.x - 2.0, frame.max.y - kTitleStrip_mm - 1.0}};
    grid.columns = static_cast<std::size_t>(grid.area.width() / kLeastCardWidth_mm);
    grid.rows = static_cast<std::size_t>(grid.area.height() / kLeastCardHeight_mm);
    return grid;
}

} // namespace

std::vector<Page> card_pages(const Chart& chart, const Reports& reports, const PageFormat& format) {
    std::vector<Page> pages;
    if (reports.fit == nullptr) return pages;
    const Grid grid = grid_on(format);
    std::size_t place = 0;
    for (const document::Id& id : parts_that_need_a_card(chart, *reports.fit)) {
        if (place % (grid.columns * grid.rows) == 0) {
            pages.push_back(format.blank(pages.empty() ? "Which way round" : "Which way round, continued"));
            write(pages.back().scenes.back().scene, {grid.area.min.x + 2.0, grid.area.min.y - kHeading_mm / 2.0},
                  "Which way round: parts that also fit turned",
                  {.role = Role::PageHeading, .height_mm = kHeadingHeight_mm});
        }
        const Footprint& part = chart.parts[*document::find_part(chart, id)];
        const auto fit = std::find_if(reports.fit->parts.begin(), reports.fit->parts.end(),
                                      [&id](const analysis::PartFit& other) { return other.part == id; });
        add_card(pages.back(), grid.cell(place++ % (grid.columns * grid.rows)), chart, part, *fit);
    }
    return pages;
}

} // namespace padchart::scene
