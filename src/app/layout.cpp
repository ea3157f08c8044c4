#include "app/layout.hpp"

#include <algorithm>

#include "app/caution.hpp"
#include "app/room.hpp"

namespace padchart::app {
namespace {

constexpr double kLeastBeside = 260.0; // for position and counts, design px

int lines_for_cautions(const Ui& ui, double width) {
    ImFont* font = ui.fonts().strong;
    return caution_lines(
        static_cast<float>(width) - 2 * ui.px(kStatusMargin), ui.px(kLeastBeside), [font](std::string_view text) {
            return font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, text.data(), text.data() + text.size()).x;
        });
}

} // namespace

Layout layout_of(const Ui& ui, double width, double height) {
    const auto px = [&](double design) { return static_cast<double>(ui.px(design)); };
    const double top = px(is_low(ui, height) ? 46 : 56), rail = px(80), ruler = px(18), ruler_wide = px(26);
    // A narrow window keeps at least half of itself for the board.
    const double panel = std::min(px(380), width / 2);
    const double left = rail, right = width - panel;
    Layout l;
    l.caution_lines = lines_for_cautions(ui, right - left);
    const double bottom = height - px(32) - l.caution_lines * px(kStatusLine);
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
