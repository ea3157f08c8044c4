#pragma once
// Drawing outlines by hand, and changing those that are there.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

void trace_panel(Ui& ui, Session& session);

} // namespace padchart::app
