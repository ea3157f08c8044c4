#pragma once
// What lies over the whole window until it is answered. Escape always leaves without a change.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

/// Draws the dialog that session.dialog holds, if any.
void dialogs(Ui& ui, Session& session);

/// A sheet of paper in the middle of the window, the rest darkened. Call end_dialog() whatever it answers.
bool begin_dialog(Ui& ui, const char* name, double width, double height);
/// Within a dialog: the darkness round it was clicked. The keys stay the dialog's; a field that had them wants them
/// back.
[[nodiscard]] bool is_clicked_beside();
void end_dialog();

void file_dialog(Ui& ui, Session& session, FileDialog dialog);
void unsaved_dialog(Ui& ui, Session& session, UnsavedDialog dialog);
void leave_import_dialog(Ui& ui, Session& session, LeaveImportDialog dialog);
void actions_dialog(Ui& ui, Session& session, ActionsDialog dialog);
void help_dialog(Ui& ui, Session& session);

} // namespace padchart::app
