#include "app/edge_colour.hpp"

namespace padchart::app {

paint::Colour edge_colour(const paint::Palette& palette) {
    constexpr double kLeast = 3.0;
    for (int share = 0; share < 255; share += 5) {
        paint::Colour ink = palette.muted;
        ink.a = static_cast<std::uint8_t>(share);
        const paint::Colour edge = paint::over(ink, palette.rule);
        if (paint::contrast_ratio(edge, palette.panel) >= kLeast &&
            paint::contrast_ratio(edge, palette.paper) >= kLeast)
            return edge;
    }
    return palette.muted;
}

paint::Colour ink_on(paint::Colour ground, const paint::Palette& palette) {
    const bool is_dark = paint::contrast_ratio(palette.panel, ground) > paint::contrast_ratio(palette.ink, ground);
    return is_dark ? palette.panel : palette.ink;
}

} // namespace padchart::app
