#include "app/documents.hpp"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <utility>

#include <fmt/format.h>

#include "app/conflict_desk.hpp"
#include "app/draft_journal.hpp"
#include "app/drafts.hpp"
#include "app/file_names.hpp"
#include "app/heat_edits.hpp"
#include "app/import_flow.hpp"
#include "app/inspect_edits.hpp"
#include "app/journal.hpp"
#include "app/more_words.hpp"
#include "app/orient_desk.hpp"
#include "app/part_files.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"
#include "app/picture.hpp"
#include "app/sheet_name.hpp"
#include "app/start_desk.hpp"
#include "app/survey_desk.hpp"
#include "app/trace_log.hpp"
#include "app/work_desk.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kChartEnding = ".chart.json";

/// "board.own.chart.json" beside "board.chart.json", or the next one that is free.
fs::path free_file_beside(const fs::path& chart) {
    std::string stem = chart.filename().string();
    if (stem.ends_with(kChartEnding)) stem.resize(stem.size() - kChartEnding.size());
    std::error_code ignored;
    for (int i = 1;; ++i) {
        const std::string own = i == 1 ? "own" : fmt::format("own-{}", i);
        fs::path file = chart.parent_path() / fmt::format("{}.{}{}", stem, own, kChartEnding);
        if (!fs::exists(file, ignored)) return file;
    }
}

/// Where dialogs begin: beside the chart, else beside its trace, else where the program was started.
std::string start_folder(const Session& s) {
    std::error_code ignored;
    return fs::absolute(offered_stem(s), ignored).parent_path().string() + "/";
}

/// "Saved as row.chart.json without the note about U4", with the reason where there is one to be mended.
void tell_saved(Session& s) {
    const std::string saved = "Saved as " + s.editor.path().filename().string();
    const std::vector<Draft> left = drafts_in_hand(s);
    if (left.empty()) return s.editor.tell(Severity::Note, saved);
    std::string words = saved + " without " + names_of(left) + ".";
    for (const Draft& draft : left)
        if (!draft.lack.empty()) words += " " + draft.lack;
    s.editor.tell(Severity::Warning, words);
}

/// What was to follow the saving is forgotten when the saving fails: nobody wants to quit minutes later.
Result<void> after(Session& s, Result<void> saved) {
    if (!saved) {
        s.after_saving.reset();
        return saved;
    }
    tell_saved(s);
    if (const auto next = std::exchange(s.after_saving, std::nullopt)) ask_or_do(s, *next);
    return {};
}

/// Photos stay where they are; a chart in another folder names them from there.
void name_photos_from(Session& s, const std::string& path) {
    std::error_code ignored;
    const std::string here = photo_path(s, {}).parent_path().string();
    const std::string there = fs::absolute(path, ignored).lexically_normal().parent_path().string();
    if (here != there && (!s.editor.chart().photos.empty() || s.editor.chart().frozen_before))
        s.editor.commit(with_photos_seen_from(s.editor.chart(), here, there),
                        "What lies beside the chart named from the new folder");
}

// More than a hand waits for.
constexpr std::uintmax_t kLargeFile = 1'000'000;

Error other_work(const WorkDesk& desk) {
    return {"Something else is still being done (" + desk.title() + "); wait for it, or give it up", ""};
}

} // namespace

void reset_view(Session& s) {
    s.heat.forget();
    s.desks.get<InspectDesk>().forget();
    s.desks.get<PhotoDesk>().forget();
    s.use_tool(s.resting_tool());
    s.orient = {};
    s.desks.get<OrientDesk>().waiting.clear();
    drop_pins(s);
    s.findings.clear();
    s.panel = Panel::Stage;
    s.wants_fit = true;
}

namespace {

/// A sheet that is being written would be gone with the window.
bool must_end_first(Session& s, AfterSaving what) {
    const WorkDesk& desk = s.desks.get<WorkDesk>();
    if (what != AfterSaving::Quit || !desk.can_be_given_up() || desk.holds_hands()) return false;
    s.editor.tell(Severity::Warning, desk.title() + " is not done yet. Wait for it, or give it up, then close.");
    return true;
}

} // namespace

void ask_or_do(Session& s, AfterSaving what) {
    if (must_end_first(s, what)) return;
    if (is_importing(s)) return ask_to_leave_import(s, what);
    s.editor.drop_preview();
    rest_plan(s.editor, s.heat);
    const bool has_drafts = !drafts_in_hand(s).empty();
    if (s.editor.is_saved() && !has_drafts)
        do_now(s, what);
    else if (s.editor.will_be_saved() && !has_drafts)
        s.after_saving = what;
    else
        s.dialog = UnsavedDialog{what};
}

void do_now(Session& s, AfterSaving what) {
    s.dialog = std::monostate{};
    switch (what) {
    case AfterSaving::Quit: s.wants_quit = true; break;
    case AfterSaving::New:
        if (go_on_starting(s)) break;
        s.editor.start_new(new_chart());
        reset_view(s);
        break;
    case AfterSaving::Open: show_file_dialog(s, FileTask::Open); break;
    case AfterSaving::Import: ask_for_trace(s, false); break;
    }
}

void save_with_drafts(Session& s, AfterSaving then) {
    s.dialog = std::monostate{};
    if (!put_down_drafts(s)) return;
    s.after_saving = then;
    save(s);
}

void save(Session& s) {
    if (s.editor.path().empty()) return show_file_dialog(s, FileTask::SaveAs);
    const Result<void> begun = begin_saving(s, s.editor.path().string(), true, {});
    if (!begun) s.editor.tell(Severity::Fault, describe(begun.error()));
}

Result<void> take_newer_file(Session& s) {
    s.editor.drop_preview();
    rest_plan(s.editor, s.heat);
    const bool has_own = !s.editor.is_saved();
    const std::shared_ptr<const document::Chart> own = s.editor.snapshot();
    if (Result<void> taken = s.editor.take_newer_file(); !taken) return taken;
    if (!has_own) {
        s.editor.tell(Severity::Note, "The newer file is on show; undo goes back to the older one.");
        return {};
    }
    const fs::path beside = free_file_beside(s.editor.path());
    const Result<void> kept = json::save_chart(*own, beside);
    s.editor.tell(Severity::Warning,
                  "The newer file is on show. What you had not saved is not in it: undo brings it back" +
                      (kept ? ", and it lies in " + beside.filename().string() + " beside it."
                            : ". It could not be written beside it: " + describe(kept.error())));
    trace("own version", kept ? beside.filename().string() : "not written");
    return {};
}

Result<void> begin_saving(Session& s, const std::string& path, bool to_own_file,
                          const std::function<void(Session&)>& then) {
    auto& desk = s.desks.get<WorkDesk>();
    if (s.editor.is_saving()) return other_work(desk);
    rest_plan(s.editor, s.heat);
    put_down_complete_drafts(s);
    const Saving saving = s.editor.begin_saving(path, to_own_file);
    const auto work = [saving, then](const std::stop_token&, const WorkDesk::Say&) -> WorkDesk::Then {
        const auto written = Editor::write(saving);
        return [saving, then, written](Session& session) {
            const Result<void> done = after(session, session.editor.end_saving(saving, written));
            if (!done) return session.editor.tell(Severity::Fault, describe(done.error()));
            if (then) then(session);
        };
    };
    // While a sheet is being written, say, the chart is saved all the same.
    if (!is_drawn_at_once(*saving.chart) && desk.begin_for_good("Saving " + saving.path.filename().string(), work))
        return {};
    Result<void> done = after(s, s.editor.end_saving(saving, Editor::write(saving)));
    if (done && then) then(s);
    return done;
}

void show_file_dialog(Session& s, FileTask task) {
    s.desks.get<InspectDesk>().errand = FileErrand::None;
    FileDialog dialog;
    dialog.task = task;
    dialog.path = start_folder(s);
    if (task == FileTask::SaveAs)
        dialog.path = s.editor.path().empty() ? offered_chart(s, dialog.path) : fs::absolute(s.editor.path()).string();
    if (task == FileTask::WriteSheet && !s.sheet_path.empty()) dialog.path = s.sheet_path;
    s.dialog = dialog;
}

void ask_for_sheet(Session& s, const std::string& ending) {
    s.sheet_path = offered_name(FileTask::WriteSheet, fs::absolute(offered_stem(s) + ending).string());
    show_file_dialog(s, FileTask::WriteSheet);
}

std::string completed_path(FileTask task, std::string path) {
    return with_own_ending(task, std::move(path));
}

Result<void> finish_file_dialog(Session& s, FileTask task, const std::string& path) {
    switch (task) {
    case FileTask::Open: return begin_open(s, path);
    case FileTask::ImportTrace: return begin_import(s, path);
    case FileTask::SaveAs: {
        const bool freezes = s.desks.get<InspectDesk>().errand == FileErrand::FreezeWhenSaved;
        name_photos_from(s, completed_path(task, path));
        return begin_saving(s, completed_path(task, path), false,
                            freezes ? freeze_now : std::function<void(Session&)>());
    }
    case FileTask::LoadPattern: return load_pattern(s, path);
    case FileTask::SavePattern: return save_pattern(s, path);
    case FileTask::OpenDonor:
        return s.desks.get<InspectDesk>().errand == FileErrand::ChooseBefore ? open_before(s, path)
                                                                             : open_donor(s, path);
    case FileTask::WriteCard: return write_card(s, path);
    case FileTask::AddPhoto:
    case FileTask::ReplacePhoto:
        begin_adding(s, path, task == FileTask::AddPhoto ? document::Id{} : s.desks.get<PhotoDesk>().chosen);
        return {};
    case FileTask::WriteSheet: return begin_sheet(s, path);
    }
    return {};
}

namespace {

/// A chart out of the bin brings along what was typed and not put on it.
void take_up_drafts(Session& s, const document::Chart& drafts) {
    if (s.editor.chart().conflicts.empty()) s.editor.clear_notice(); // it spoke of another chart
    await_drafts(s, drafts);
    const std::vector<Draft> waiting = drafts_in_hand(s);
    if (!waiting.empty()) tell_more(s.editor, Severity::Note, "Not on the chart: " + names_of(waiting) + ".");
}

void take_opened(Session& s, OpenedChart opened) {
    const auto drafts = take_drafts(opened.chart);
    (void)take_former_file(opened.chart); // it is opened where it lies
    s.editor.take(std::move(opened));
    reset_view(s);
    if (!s.editor.chart().conflicts.empty())
        s.editor.tell(Severity::Warning,
                      std::string(kToBeSettled) + ", with Ctrl+M: " + conflicts_in_words(s.editor.chart()) + '.');
    if (drafts) take_up_drafts(s, *drafts);
}

void tell_written(Session& s, const std::string& path) {
    s.sheet_path = path;
    s.editor.tell(Severity::Note, "Written: " + fs::path(path).filename().string());
    trace("sheet", fs::path(path).filename().string());
}

} // namespace

Result<void> open_chart(Session& s, const std::string& path) {
    Result<OpenedChart> opened = Editor::read(path);
    if (!opened) return opened.error();
    take_opened(s, std::move(*opened));
    return {};
}

Result<void> begin_open(Session& s, const std::string& path) {
    std::error_code fault;
    const std::uintmax_t size = fs::file_size(path, fault);
    if (fault || size < kLargeFile) return open_chart(s, path);
    auto& desk = s.desks.get<WorkDesk>();
    const auto work = [path](const std::stop_token&, const WorkDesk::Say&) -> WorkDesk::Then {
        // Held by a pointer: what may be done later must be copyable.
        auto opened = std::make_shared<Result<OpenedChart>>(Editor::read(path));
        return [opened](Session& session) {
            if (*opened)
                take_opened(session, std::move(**opened));
            else
                session.editor.tell(Severity::Fault, describe(opened->error()));
        };
    };
    if (!desk.begin("Opening " + fs::path(path).filename().string(), true, work)) return other_work(desk);
    return {};
}

Result<void> begin_sheet(Session& s, const std::string& path) {
    if (auto fault = fault_of_sheet_name(path)) return *fault;
    auto& desk = s.desks.get<WorkDesk>();
    const SheetWish wish{s.editor.path(), path, s.page_has_photos};
    const auto work = [wish, chart = s.editor.snapshot()](const std::stop_token& stop,
                                                          const WorkDesk::Say& say) -> WorkDesk::Then {
        const Result<void> written = write_sheet(*chart, wish, {stop, say});
        return [written, path = wish.path](Session& session) {
            if (written)
                tell_written(session, path);
            else
                session.editor.tell(Severity::Fault, describe(written.error()));
        };
    };
    if (!desk.begin("Writing " + fs::path(path).filename().string(), false, work)) return other_work(desk);
    return {};
}

std::optional<std::size_t> saved_step(const Session& s) {
    return s.editor.path().empty() ? std::nullopt : s.editor.history().saved_position();
}

} // namespace padchart::app
