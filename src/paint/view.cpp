#include "paint/view.hpp"

namespace padchart::paint {

using geometry::Box;
using geometry::Vec2;

Box region_round(const View& view, double halves) {
    const Vec2 half = Vec2{view.viewport_px.width(), view.viewport_px.height()} / (2 * view.px_per_mm) * halves;
    return {view.centre_mm - half, view.centre_mm + half};
}

bool serves(const View& made, const View& view, const Around& around) {
    if (made.px_per_mm != view.px_per_mm || made.ui_scale != view.ui_scale) return false;
    const Box there = region_round(made, around.made), needed = region_round(view, around.kept);
    return there.contains(needed.min) && there.contains(needed.max);
}

} // namespace padchart::paint
