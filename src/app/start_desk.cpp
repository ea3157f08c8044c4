#include "app/start_desk.hpp"

#include "app/documents.hpp"
#include "app/drafts.hpp"
#include "app/import_flow.hpp"
#include "app/keeper.hpp"
#include "app/remembered.hpp"
#include "app/two_versions.hpp"
#include "base/embedded.hpp"
#include "cli/user_folders.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {

void StartDesk::refresh() {
    lost = lost_work(Keeper::journal_folder(cli::state_folder()));
    recent = recent_charts();
}

namespace {

/// Nothing is charted or being brought in that a page would cover.
bool is_bare(const Session& s) {
    return s.editor.path().empty() && s.editor.chart().parts.empty() && !is_importing(s);
}

} // namespace

void show_start_page(Session& s) {
    s.desks.get<StartDesk>().refresh();
    s.panel = Panel::Start;
}

void offer_lost_work(Session& s) {
    StartDesk& desk = s.desks.get<StartDesk>();
    desk.refresh();
    if (desk.lost.empty()) return;
    if (is_bare(s)) {
        s.panel = Panel::Start;
        return;
    }
    // Who opened a chart or a trace by name wants to see that.
    s.editor.tell(Severity::Warning, "Unsaved work was left behind by a window that did not come to its end. "
                                     "\"Restore unsaved work\" in the list of actions, /, brings it back.");
}

void open_recent(Session& s, const std::filesystem::path& path) {
    if (!is_all_kept(s)) return s.editor.tell(Severity::Warning, "Save or discard the chart in hand first.");
    if (const Result<void> begun = begin_open(s, path.string()); !begun)
        s.editor.tell(Severity::Fault, describe(begun.error()));
}

void list_recent(Session& s) {
    ActionsDialog dialog;
    dialog.filter = kRecentWords;
    s.dialog = dialog;
}

void greet(Session& s) {
    if (is_bare(s)) show_start_page(s);
}

Result<void> open_demo(Session& s) {
    for (const embedded::EmbeddedFile& file : embedded::demo()) {
        Result<document::Chart> chart = json::read_chart(file.bytes, "the demo");
        if (!chart) return chart.error();
        s.editor.start_from(std::move(chart).value(), "Open the demo");
        reset_view(s);
        s.editor.tell(Severity::Note, "A copy of the demo: try anything. Saving asks for a name.");
    }
    return {};
}

namespace {

/// Work that began from another file than the one there now: saving it is refused as between two windows. False where
/// the file is the same, or it is not known which it was.
bool take_back_beside_newer(Editor& editor, const document::Chart& chart, const LostWork& work) {
    if (!work.began_from || work.file.empty()) return false;
    Result<OpenedChart> opened = Editor::read(work.file);
    if (!opened || opened->fingerprint == work.began_from) return false;
    opened->fingerprint = work.began_from;
    editor.take(std::move(*opened));
    editor.commit(chart, "Restore unsaved work");
    return true;
}

} // namespace

Result<void> take_back(Session& s, const LostWork& work) {
    const Result<document::Chart> chart = chart_of(work);
    if (!chart) return chart.error();
    const bool is_newer = take_back_beside_newer(s.editor, *chart, work);
    if (!is_newer) s.editor.take_back(*chart, work.file);
    reset_view(s);
    // The old journal goes once the new one is on the disk (Keeper): a second crash in between costs nothing either.
    s.desks.get<StartDesk>().taken.push_back(work);
    const std::string restored = "Restored as it was at " + work.written + ". ";
    if (is_newer)
        s.editor.tell(Severity::Warning, restored + work.file.filename().string() +
                                             " has changed since, so it will not be written over. " +
                                             std::string(kTwoVersions));
    else
        s.editor.tell(Severity::Note, restored + "It is not saved yet.");
    return {};
}

} // namespace padchart::app
