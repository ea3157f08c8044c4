#pragma once
// What Escape leaves where neither a dialog, a field nor a tool has taken it.

namespace padchart::app {

struct Session;

/// One thing at a time, what was begun last first: the import, a panel of its own, the selection, and where nothing of
/// these is there the work behind the window. The notice goes with it.
void leave_by_escape(Session& session);

} // namespace padchart::app
