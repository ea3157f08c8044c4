#pragma once
// What was found in a trace, each with a small picture and what it is taken for.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

void import_panel(Ui& ui, Session& session);
/// Keys of the list of what was found, unless a field of the panel has them.
bool import_panel_key(Session& session, const Chord& chord);

} // namespace padchart::app
