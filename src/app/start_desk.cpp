#include "app/start_desk.hpp"

#include <utility>

#include "app/documents.hpp"
#include "app/draft_journal.hpp"
#include "app/drafts.hpp"
#include "app/file_names.hpp"
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
    binned = in_bin(bin_beside(Keeper::journal_folder(cli::state_folder())));
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
    const std::string of = desk.lost.size() == 1 ? "Unsaved work on " + name_of(desk.lost.front())
                                                 : "Unsaved work on " + name_of(desk.lost.front()) + " and more";
    s.editor.tell(Severity::Warning, of + " was left behind by a window that did not come to its end. "
                                          "\"Restore unsaved work\" in the list of actions, /, brings it back.");
}

std::string name_of(const LostWork& work) {
    if (!work.title.empty()) return work.title;
    return work.file.empty() ? "a chart that was never saved" : work.file.filename().string();
}

void ask_then_start(Session& s, std::function<void(Session&)> what) {
    s.desks.get<StartDesk>().follows = std::move(what);
    ask_or_do(s, AfterSaving::New);
}

bool go_on_starting(Session& s) {
    const auto what = std::exchange(s.desks.get<StartDesk>().follows, {});
    if (what) what(s);
    return static_cast<bool>(what);
}

void open_recent(Session& s, const std::filesystem::path& path) {
    ask_then_start(s, [path](Session& session) {
        if (const Result<void> begun = begin_open(session, path.string()); !begun)
            session.editor.tell(Severity::Fault, describe(begun.error()));
    });
}

void restore(Session& s, const LostWork& work) {
    ask_then_start(s, [work](Session& session) {
        if (const Result<void> taken = take_back(session, work); !taken)
            session.editor.tell(Severity::Fault, describe(taken.error()));
        session.desks.get<StartDesk>().refresh();
    });
}

void show_bin(Session& s) {
    show_start_page(s);
    s.desks.get<StartDesk>().wants_bin = true;
}

namespace {

Result<void> take_from_bin(Session& s, const std::filesystem::path& file) {
    Result<document::Chart> chart = json::load_chart(file);
    if (!chart) return chart.error();
    const auto drafts = take_drafts(*chart);
    const std::filesystem::path former = take_former_file(*chart);
    s.editor.start_from(std::move(*chart), "Fetch back what was thrown away");
    note_former_file(s, former);
    reset_view(s);
    if (drafts) await_drafts(s, *drafts);
    s.editor.tell(Severity::Note, "Fetched back. It is in no file yet: saving asks for a name.");
    return {};
}

} // namespace

void fetch_from_bin(Session& s, const std::filesystem::path& file) {
    ask_then_start(s, [file](Session& session) {
        if (const Result<void> taken = take_from_bin(session, file); !taken)
            session.editor.tell(Severity::Fault, describe(taken.error()));
    });
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

/// What of the work taken back is in no file, or not even on the chart.
std::string what_is_missing(const Session& s) {
    const std::vector<Draft> drafts = drafts_in_hand(s);
    if (drafts.empty()) return "It is not saved yet.";
    return (s.editor.is_saved() ? "" : "It is not saved yet. ") + std::string("Not on the chart: ") + names_of(drafts) +
           ".";
}

} // namespace

Result<void> take_back(Session& s, const LostWork& work) {
    const Result<document::Chart> chart = chart_of(work);
    if (!chart) return chart.error();
    const bool is_newer = take_back_beside_newer(s.editor, *chart, work);
    if (!is_newer) s.editor.take_back(*chart, work.file);
    reset_view(s);
    if (work.drafts) await_drafts(s, *work.drafts);
    // The old journal goes once the new one is on the disk (Keeper): a second crash in between costs nothing either.
    s.desks.get<StartDesk>().taken.push_back(work);
    const std::string restored = "Restored as it was at " + work.written + ". ";
    if (is_newer)
        s.editor.tell(Severity::Warning, restored + work.file.filename().string() +
                                             " has changed since, so it will not be written over. " +
                                             std::string(kTwoVersions));
    else
        s.editor.tell(Severity::Note, restored + what_is_missing(s));
    return {};
}

} // namespace padchart::app
