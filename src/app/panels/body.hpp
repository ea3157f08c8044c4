#pragma once
// A panel whose last lines stay in sight while the rest scrolls: what a hand needs for every part must never be below
// the fold, whatever the size of the window.

#include "app/ui.hpp"

namespace padchart::app {

/// The next body is shown from its top, wherever it was scrolled to.
void begin_body_at_top();
/// Begins the part that scrolls. `footer_height` is what end_body() has measured in an earlier frame, 0 at first.
/// Requires: called in a panel, before anything that scrolls; a begin_footer() and an end_footer() follow.
void begin_body(const Ui& ui, float footer_height);
/// Ends the part that scrolls and draws the line above the footer.
void begin_footer(const Ui& ui);
/// True once after a footer has been found to be of another height than it was laid out for: the panels stand right
/// when they are laid out again, and until then nothing should be painted.
[[nodiscard]] bool take_footer_change();
/// Measures the footer; asks for another frame where it has become another.
void end_footer(Ui& ui, float& footer_height);

} // namespace padchart::app
