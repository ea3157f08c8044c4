#pragma once
// The themes as style rules of a page: light, dark where the reader's system is dark, grey where it is printed. Both
// painters and the page ask the same theme, so that a colour means the same everywhere.

#include <string>

namespace padchart::page {

/// Variables (--paper, --ink, ...) and one rule for each role and kind of element that svg_scene.hpp writes.
[[nodiscard]] std::string theme_style();

} // namespace padchart::page
