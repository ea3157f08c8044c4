#pragma once
// Proposals with their reasons, one by one: loose pads to parts, pads made regular.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

void proposals_panel(Ui& ui, Session& session);
/// Elsewhere: that there are some, and the way to them. Nothing where there are none.
void proposals_told(Ui& ui, Session& session);

} // namespace padchart::app
