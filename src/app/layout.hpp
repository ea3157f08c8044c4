#pragma once
// Where the pieces of the window lie, px.

#include "app/ui.hpp"
#include "geometry/box.hpp"

namespace padchart::app {

struct Layout {
    geometry::Box top, rail, status, panel;
    geometry::Box ruler_top, ruler_left;
    geometry::Box canvas; ///< inside the rulers
};

[[nodiscard]] Layout layout_of(const Ui& ui, double width_px, double height_px);

} // namespace padchart::app
