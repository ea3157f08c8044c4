#pragma once
// The panel of the access stage: from which side the tool comes.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

void access_panel(Ui& ui, Session& session);

} // namespace padchart::app
