#include "app/edge_colour.hpp"

#include <doctest/doctest.h>

namespace padchart::app {
namespace {

TEST_CASE("the line round a field stands out from panel and paper in every theme") {
    for (const char* name : {"paper", "dark-room", "grey-print"}) {
        CAPTURE(name);
        const paint::Theme* theme = paint::find_theme(name);
        REQUIRE(theme != nullptr);
        const paint::Palette& palette = theme->palette;
        const paint::Colour edge = edge_colour(palette);
        // WCAG 2.x, 1.4.11 Non-text contrast
        CHECK(paint::contrast_ratio(edge, palette.panel) >= 3.0);
        CHECK(paint::contrast_ratio(edge, palette.paper) >= 3.0);
        // and is no stronger than need be
        CHECK(paint::contrast_ratio(edge, palette.panel) < 4.5);
    }
}

TEST_CASE("numbers on copper are read in every theme in the ink that contrasts more") {
    for (const char* name : {"paper", "dark-room", "grey-print"}) {
        CAPTURE(name);
        const paint::Palette& palette = paint::find_theme(name)->palette;
        // WCAG 2.x, 1.4.3 Contrast (minimum)
        CHECK(paint::contrast_ratio(ink_on(palette.copper, palette), palette.copper) >= 4.5);
        CHECK(ink_on(palette.ink, palette) == palette.panel);
        CHECK(ink_on(palette.panel, palette) == palette.ink);
    }
}

} // namespace
} // namespace padchart::app
