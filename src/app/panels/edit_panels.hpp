#pragma once
// The panels of editing: history, what is shown and met, and the section that arranges what is selected.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

void history_panel(Ui& ui, Session& session);
/// Up, Down, Home, End. True where the key meant something.
bool history_key(Session& session, const Chord& chord);

/// Layers of the stage, hidden parts, and what moved parts meet.
void layers_panel(Ui& ui, Session& session);

/// Lines, distances, copies, the far side: for one selected part or several.
void arrange_section(Ui& ui, Session& session);

} // namespace padchart::app
