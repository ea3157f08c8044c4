#include "app/layout.hpp"

#include <algorithm>

namespace padchart::app {

Layout layout_of(const Ui& ui, double width, double height) {
    const auto px = [&](double design) { return static_cast<double>(ui.px(design)); };
    const double top = px(56), rail = px(80), status = px(32), ruler = px(18), ruler_wide = px(26);
    // A narrow window keeps at least half of itself for the board.
    const double panel = std::min(px(380), width / 2);
    const double left = rail, right = width - panel, bottom = height - status;
    Layout l;
    l.top = {{0, 0}, {width, top}};
    l.rail = {{0, top}, {rail, height}};
    l.panel = {{right, top}, {width, height}};
    l.status = {{left, bottom}, {right, height}};
    l.ruler_top = {{left, top}, {right, top + ruler}};
    l.ruler_left = {{left, top + ruler}, {left + ruler_wide, bottom}};
    l.canvas = {{left + ruler_wide, top + ruler},
                {std::max(right, left + ruler_wide + 1), std::max(bottom, top + ruler + 1)}};
    return l;
}

} // namespace padchart::app
