#pragma once
// Proposals with their reasons, one by one: loose pads to parts, pads made regular.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

void proposals_panel(Ui& ui, Session& session);

} // namespace padchart::app
