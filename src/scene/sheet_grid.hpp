#pragma once
// Equal cells on one page of the sheet, row by row, for cards and parking places.

#include <cstddef>

#include "geometry/box.hpp"
#include "scene/page_writer.hpp"

namespace padchart::scene {

/// Paper mm.
struct PageGrid {
    geometry::Box area;
    std::size_t columns = 1;
    std::size_t rows = 1;
    double cell_height_mm = 0.0;

    [[nodiscard]] std::size_t cells() const { return columns * rows; }
    /// The i-th thing's place on its page; after the last cell the next page begins.
    [[nodiscard]] geometry::Box cell(std::size_t i) const;
};

/// As many columns as keep `least_width_mm`, as many rows as keep `least_height_mm`, below a heading of its height and
/// above the title strip. The rows fill the page.
[[nodiscard]] PageGrid grid_on(const PageFormat& format, double heading_mm, double least_width_mm,
                               double least_height_mm);

} // namespace padchart::scene
