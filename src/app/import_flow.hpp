#pragma once
// A trace from the file dialog to the chart: its file is read on a thread, the import panel begins, the preview stands
// over the chart in hand, and either it is accepted or nothing has happened. What was said of layers and shapes is
// remembered for the next trace as it is said, whatever becomes of this one.

#include <string>
#include <string_view>

#include "app/import_desk.hpp"
#include "app/session.hpp"
#include "app/trace_reader.hpp"

namespace padchart::app {

/// Begins to read the trace and opens the import panel. Errors: no such file; then all stays as it was.
[[nodiscard]] Result<void> begin_import(Session& session, const std::string& path);
/// Call once a frame. What has been read goes onto the preview; what cannot be read is told in the file dialog, which
/// comes back. True where something else is to be seen.
bool update_import(Session& session);
/// Blocks until what was begun is on the preview, or has failed.
void wait_for_import(Session& session);

/// How the step of history begins that a corrected drawing makes.
inline constexpr std::string_view kCorrectedTrace = "Corrected trace ";
/// Puts the report of the last import away.
void leave_import_report(Session& session);

/// A trace is being read or on the preview: the chart behind must not be changed.
[[nodiscard]] bool is_importing(const Session& session);
/// Looking about, finishing the import, and what asks first.
[[nodiscard]] bool is_live_while_importing(std::string_view action);

/// "Make the chart", "Take the corrections": what the button says that does so.
[[nodiscard]] const char* word_of_taking(const Session& session);
/// Makes the preview the chart (a new one, or one step of the chart in hand) and shows the findings. False, with a
/// notice, where that cannot be, or where a scale was measured and neither taken nor dropped.
bool accept_import(Session& session);
/// Gives up the reading or the preview. Nothing where no import is under way.
/// Up and Down walk the list of what was found, Right and Left fold its entries out and in. True where the key did.
bool import_key(Session& session, const Chord& chord);

void leave_import(Session& session);
/// As above where nothing was said or measured; else the import stays and the user is asked. `then`: what follows when
/// it is given up.
void ask_to_leave_import(Session& session, std::optional<AfterSaving> then = std::nullopt);
/// Keeps preview and pointer those of the import; called while its panel shows. True where another preview is on show:
/// what was drawn of it in this frame is of the old one.
bool hold_import(Session& session);

/// Asks for the file: of a new chart, or of a corrected trace of the chart in hand.
void ask_for_trace(Session& session, bool corrected);
/// What was asked for last is a corrected trace of the chart in hand.
[[nodiscard]] bool is_correction_wanted(const Session& session);
/// The scale measured on the preview becomes the import's. False where there is none yet.
bool take_scale_for_import(Session& session);

} // namespace padchart::app
