#include "scene/sheet_grid.hpp"

#include "scene/sheet_blocks.hpp"

namespace padchart::scene {

using geometry::Box;
using geometry::Vec2;

Box PageGrid::cell(std::size_t i) const {
    const Vec2 size{area.width() / static_cast<double>(columns), cell_height_mm};
    const Vec2 at =
        area.min + Vec2{static_cast<double>(i % columns) * size.x, static_cast<double>(i / columns % rows) * size.y};
    return {at, at + size};
}

PageGrid grid_on(const PageFormat& format, double heading_mm, double least_width_mm, double least_height_mm) {
    const Box frame = format.frame();
    PageGrid grid;
    grid.area = {{frame.min.x + 2.0, frame.min.y + heading_mm},
                 {frame.max.x - 2.0, frame.max.y - kTitleStrip_mm - 1.0}};
    grid.columns = static_cast<std::size_t>(grid.area.width() / least_width_mm);
    grid.rows = static_cast<std::size_t>(grid.area.height() / least_height_mm);
    grid.cell_height_mm = grid.area.height() / static_cast<double>(grid.rows);
    return grid;
}

} // namespace padchart::scene
