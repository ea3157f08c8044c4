#pragma once
// A trace from the file dialog to the chart: the import panel begins, the preview stands over the chart in hand, and
// either it is accepted or nothing has happened.

#include <string>

#include "app/import_desk.hpp"
#include "app/session.hpp"

namespace padchart::app {

/// Reads the trace and opens the import panel. Errors: as reading it; then all stays as it was.
[[nodiscard]] Result<void> begin_import(Session& session, const std::string& path);
/// Makes the preview the chart (a new one, or one step of the chart in hand), remembers what was said, shows the
/// findings. False, with a notice, where that cannot be.
bool accept_import(Session& session);
/// Gives up the preview. Nothing where no import is under way.
void leave_import(Session& session);
/// Keeps preview and pointer those of the import; called while its panel shows.
void hold_import(Session& session);

/// Asks for the file: of a new chart, or of a corrected trace of the chart in hand.
void ask_for_trace(Session& session, bool corrected);
/// The scale measured on the preview becomes the import's. False where there is none yet.
bool take_scale_for_import(Session& session);

} // namespace padchart::app
