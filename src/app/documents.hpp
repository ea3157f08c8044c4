#pragma once
// Open, save, import, hand over: what the file dialog and the question before losing changes lead to.

#include <functional>
#include <stop_token>

#include "app/session.hpp"

namespace padchart::app {

/// What work in steps asks and says between them.
struct WorkSteps {
    std::stop_token stop;
    std::function<void(std::string)> say = [](const std::string&) {};
};

/// What is to be handed over, and where it goes.
struct SheetWish {
    std::filesystem::path chart_file; ///< empty where the chart has none yet
    std::string path;                 ///< its ending says which kind: .pdf, .html, .svg or .png
    bool with_photos = false;         ///< whole photos go into a page for a browser
};

/// After another chart has come: nothing of the last one may linger.
void reset_view(Session& session);

/// Does it at once where nothing would be lost, else asks first.
void ask_or_do(Session& session, AfterSaving what);
/// As above without asking.
void do_now(Session& session, AfterSaving what);
/// What was typed goes on the chart first; where one of the drafts says too little nothing is saved, and it is shown.
void save_with_drafts(Session& session, AfterSaving then);
/// To the chart's own file, or asks for one. A large chart is written behind the window, while it may be worked on.
void save(Session& session);
/// Writes the chart and does `then`. Errors: those of a small chart, written at once; what is wrong with a large one is
/// told when that is known, and `then` is not done.
[[nodiscard]] Result<void> begin_saving(Session& session, const std::string& path, bool to_own_file,
                                        const std::function<void(Session&)>& then);

void show_file_dialog(Session& session, FileTask task);
/// The file as it is now, as a step of history. What was not saved of one's own goes into a file beside it, and what
/// was done is said. Errors: as loading a chart.
[[nodiscard]] Result<void> take_newer_file(Session& session);
/// Asks where the sheet is to go, beside the chart by default. `ending`: ".pdf".
void ask_for_sheet(Session& session, const std::string& ending);
/// What Enter in the file dialog does. Errors: to be shown in the dialog, which stays open.
/// The path as it will be written, with the ending a chart has: what to ask about before a file is replaced.
[[nodiscard]] std::string completed_path(FileTask task, std::string path);
[[nodiscard]] Result<void> finish_file_dialog(Session& session, FileTask task, const std::string& path);

[[nodiscard]] Result<void> open_chart(Session& session, const std::string& path);
/// As above; a large file is read behind the window, and what is wrong with it is told when that is known.
[[nodiscard]] Result<void> begin_open(Session& session, const std::string& path);

/// Touches no session. Errors: another ending; the file cannot be written; a stop was asked for.
[[nodiscard]] Result<void> write_sheet(const document::Chart& chart, const SheetWish& wish, const WorkSteps& steps);
[[nodiscard]] Result<void> write_sheet(const Session& session, const std::string& path);
/// Behind the window, however small the chart. Errors: another ending; other work. What else goes wrong is told then.
[[nodiscard]] Result<void> begin_sheet(Session& session, const std::string& path);

/// The step of the history that lies in the chart's file; nothing where there is no file yet.
[[nodiscard]] std::optional<std::size_t> saved_step(const Session& session);

} // namespace padchart::app
