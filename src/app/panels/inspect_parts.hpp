#pragma once
// The pieces of the inspect panel, from the top down.

#include "app/inspect_edits.hpp"
#include "app/ui.hpp"

namespace padchart::app {

/// Whether everything is back, and how far somebody has looked.
void inspect_outcome(Ui& ui, const Session& session, const Inspection& inspection);
/// In a low window: what was left out of it.
void inspect_reason(const Ui& ui, const Session& session, const Inspection& inspection);
/// The part in hand, before and now, what is told of it, and what was said.
void inspect_step(Ui& ui, Session& session, const Inspection& inspection);
/// The two answers and the way from part to part, always in sight.
void inspect_footer(Ui& ui, Session& session, const Inspection& inspection);
/// How the canvas shows it.
void inspect_views(const Ui& ui, Session& session);
/// Every change of the comparison; a click goes there.
void inspect_changes(Ui& ui, Session& session, const Inspection& inspection);
/// The list after rework.
void inspect_checklist(Ui& ui, Session& session);
/// Which chart is before, how the two lie on each other, freezing anew.
void inspect_source(Ui& ui, Session& session);

} // namespace padchart::app
