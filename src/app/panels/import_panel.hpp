#pragma once
// What was found in a trace, each with a small picture and what it is taken for.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

void import_panel(Ui& ui, Session& session);

} // namespace padchart::app
