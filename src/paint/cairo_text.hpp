#pragma once
// Letters on a cairo context: faces by weight, a stand-in face for characters ours has not, hinting off so that a text
// has one width on every medium.

#include <string>

#include <cairo.h>

#include "base/result.hpp"
#include "paint/theme.hpp"

namespace padchart::paint {

/// Not nothing when the fonts for all weights are there.
[[nodiscard]] Result<void> fonts_are_there();

/// Requires: fonts_are_there(). In the context's units.
[[nodiscard]] double text_width(cairo_t* context, const std::string& text, FontWeight weight, double height);
/// `x` is the left end, `baseline` the foot of the letters. Takes the context's current colour.
void show_text(cairo_t* context, const std::string& text, FontWeight weight, double height, double x, double baseline);

} // namespace padchart::paint
