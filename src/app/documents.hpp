#pragma once
// Open, save, import, hand over: what the file dialog and the question before losing changes lead to.

#include "app/session.hpp"

namespace padchart::app {

/// After another chart has come: nothing of the last one may linger.
void reset_view(Session& session);

/// Does it at once where nothing would be lost, else asks first.
void ask_or_do(Session& session, AfterSaving what);
/// As above without asking.
void do_now(Session& session, AfterSaving what);
/// To the chart's own file, or asks for one. True when it has been saved.
bool save(Session& session);

void show_file_dialog(Session& session, FileTask task);
/// What Enter in the file dialog does. Errors: to be shown in the dialog, which stays open.
/// The path as it will be written, with the ending a chart has: what to ask about before a file is replaced.
[[nodiscard]] std::string completed_path(FileTask task, std::string path);
[[nodiscard]] Result<void> finish_file_dialog(Session& session, FileTask task, const std::string& path);

[[nodiscard]] Result<void> open_chart(Session& session, const std::string& path);
/// By the ending of the path: .pdf, .html, .svg or .png.
[[nodiscard]] Result<void> write_sheet(const Session& session, const std::string& path);

} // namespace padchart::app
