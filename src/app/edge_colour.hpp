#pragma once
// Colours that follow from a palette by contrast: the line round a field or a box to be ticked, since what cannot be
// seen cannot be found by a hand, and words on a coloured ground.

#include "paint/theme.hpp"

namespace padchart::app {

/// Between the palette's rule and its muted ink, as faint as a contrast of 3 to 1 against panel and paper allows (WCAG
/// 2.x, 1.4.11).
[[nodiscard]] paint::Colour edge_colour(const paint::Palette& palette);
/// For words on that ground: ink or panel, whichever is read better.
[[nodiscard]] paint::Colour ink_on(paint::Colour ground, const paint::Palette& palette);

} // namespace padchart::app
