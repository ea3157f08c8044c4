#pragma once
// Where a hint stands: near what it explains, over none of the buttons round it and inside the window. No drawing.

#include <span>

#include "geometry/box.hpp"

namespace padchart::app {

struct TipRoom {
    geometry::Vec2 screen; ///< px, as all of it
    geometry::Box panel;   ///< that holds what is pointed at: beside it nothing of the panel is covered
    double gap = 4;
};

/// The upper left corner for a hint of that size: below the item, else above it, else beside the panel or in the
/// nearest free space, else where it covers least. `x`: where it begins if there is room to its right.
/// Requires: the hint is smaller than the screen.
[[nodiscard]] geometry::Vec2 tip_place(const geometry::Box& item, double x, geometry::Vec2 size, const TipRoom& room,
                                       std::span<const geometry::Box> buttons);

} // namespace padchart::app
