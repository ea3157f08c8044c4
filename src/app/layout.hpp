#pragma once
// Where the pieces of the window lie, px.

#include "app/ui.hpp"
#include "geometry/box.hpp"

namespace padchart::app {

// Of the status bar, design px: at either end, and from one line to the next.
constexpr double kStatusMargin = 16.0, kStatusLine = 18.0;

struct Layout {
    geometry::Box top, rail, status, panel;
    geometry::Box ruler_top, ruler_left;
    geometry::Box canvas;  ///< inside the rulers
    int caution_lines = 0; ///< of the status bar, above the rest; 0 where the caution stands beside it
};

[[nodiscard]] Layout layout_of(const Ui& ui, double width_px, double height_px);

} // namespace padchart::app
