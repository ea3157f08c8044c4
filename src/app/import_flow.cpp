#include "app/import_flow.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "app/documents.hpp"
#include "app/file_names.hpp"
#include "app/scale_desk.hpp"
#include "app/tools/import_tool.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

constexpr const char* kNotTaken = "The scale you measured is not taken yet. Take it, or empty its field.";

struct ImportWish {
    bool corrected = false;
};

/// What the import desk shows now.
struct ImportView {
    std::uint64_t shown = 0;      ///< revision of the preview
    std::uint64_t remembered = 0; ///< what was said up to here is in the memory
    bool told = false;            ///< that the memory cannot be written
    Clock::time_point drawn;      ///< when the progress was
};

const TraceReader* reader_of(const Session& s) {
    return s.desks.find<TraceReader>();
}

const ImportDesk* desk_of(const Session& s) {
    return s.desks.find<ImportDesk>();
}

bool is_reading(const Session& s) {
    return reader_of(s) != nullptr && reader_of(s)->is_reading();
}

bool is_loaded(const Session& s) {
    return desk_of(s) != nullptr && desk_of(s)->is_loaded();
}

void keep_meanings(Session& s) {
    const ImportDesk& desk = s.desks.get<ImportDesk>();
    ImportView& view = s.desks.get<ImportView>();
    if (view.remembered == desk.times_said()) return;
    view.remembered = desk.times_said();
    MeaningMemory memory = load_meanings(meaning_file());
    const std::string before = memory.text();
    desk.remember(memory);
    if (memory.text() == before) return;
    const Result<void> kept = save_meanings(memory, meaning_file());
    if (kept || std::exchange(view.told, true)) return;
    s.editor.tell(Severity::Warning, "What you say here cannot be kept for the next trace: " + describe(kept.error()));
}

void show_trace(Session& s, FoundTrace found) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    const bool corrects = s.desks.get<ImportWish>().corrected;
    desk.take(std::move(found), corrects ? s.editor.snapshot() : nullptr);
    s.desks.get<ImportView>() = {};
    s.desks.get<ImportView>().remembered = desk.times_said();
    s.wants_fit = true;
    if (const MemoryAccount& memory = desk.from_memory(); memory.shapes > 0)
        trace("import remembers", fmt::format("{} shapes, {} left out", memory.shapes, memory.left_out));
    trace("import begun", fmt::format("{} with {} shapes", desk.file_name(), desk.drawing().shapes.size()));
}

void clear_away(Session& s) {
    s.desks.get<TraceReader>().cancel();
    s.desks.get<ImportDesk>().forget();
    s.editor.drop_preview();
    s.use_tool(s.resting_tool());
    if (s.panel == Panel::Import) s.panel = Panel::Stage;
    s.wants_fit = true;
}

/// The dialog comes back with what was typed and what is wrong with it.
void show_failure(Session& s, const fs::path& path, const Error& error) {
    clear_away(s);
    FileDialog dialog;
    dialog.task = FileTask::ImportTrace;
    dialog.path = path.string();
    dialog.error = describe(error);
    s.dialog = dialog;
    trace("import failed", dialog.error);
}

/// Often enough to be seen moving; seldom enough to leave the processor to the work.
bool is_time_for_progress(Session& s) {
    constexpr std::chrono::milliseconds kBetween{100};
    ImportView& view = s.desks.get<ImportView>();
    if (Clock::now() - view.drawn < kBetween) return false;
    view.drawn = Clock::now();
    return true;
}

} // namespace

bool is_importing(const Session& s) {
    return is_reading(s) || is_loaded(s);
}

bool is_live_while_importing(std::string_view action) {
    static constexpr std::array<std::string_view, 17> kLive{
        "accept-import", "leave-import", "take-scale", "new",    "open",        "import", "quit", "flip-side", "fit",
        "zones",         "zoom-in",      "zoom-out",   "legend", "pad-numbers", "theme",  "help", "actions"};
    return std::find(kLive.begin(), kLive.end(), action) != kLive.end();
}

bool is_correction_wanted(const Session& s) {
    const ImportWish* wish = s.desks.find<ImportWish>();
    return wish != nullptr && wish->corrected;
}

void ask_for_trace(Session& s, bool corrected) {
    s.desks.get<ImportWish>().corrected = corrected;
    show_file_dialog(s, FileTask::ImportTrace);
}

bool take_scale_for_import(Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    if (!desk.is_loaded() || desk.is_making() || !desk.outcome()->result) return false;
    ScaleDesk& scale = s.desks.get<ScaleDesk>();
    auto outcome = scale.foreseen(desk.outcome()->result->chart);
    if (!outcome || !*outcome) return false;
    desk.set_scale((*outcome)->chart.scale, std::move((*outcome)->findings));
    scale.begin_anew();
    if (s.editor.notice() && s.editor.notice()->text == kNotTaken) s.editor.clear_notice();
    s.wants_fit = true;
    trace("import scale", analysis::scale_words(*desk.scale()));
    return true;
}

Result<void> begin_import(Session& s, const std::string& path) {
    std::error_code ignored;
    if (!fs::exists(path, ignored)) return Error{"is not there", path};
    leave_import(s);
    s.desks.get<TraceReader>().begin(path, load_meanings(meaning_file()));
    s.desks.get<ImportView>() = {};
    s.desks.get<ScaleDesk>().begin_anew();
    s.editor.select({});
    s.editor.drop_preview();
    s.panel = Panel::Import;
    s.use_tool(make_import_tool(s.desks.get<ImportDesk>()));
    trace("import reads", fs::path(path).filename().string());
    return {};
}

bool update_import(Session& s) {
    if (!is_importing(s)) return false;
    TraceReader& reader = s.desks.get<TraceReader>();
    ImportDesk& desk = s.desks.get<ImportDesk>();
    if (auto found = reader.take()) {
        if (*found)
            show_trace(s, std::move(**found));
        else
            show_failure(s, reader.path(), found->error());
        return true;
    }
    if (desk.update()) return s.wants_fit = true;
    return (reader.is_reading() || desk.is_making()) && is_time_for_progress(s);
}

void wait_for_import(Session& s) {
    if (!is_importing(s)) return;
    s.desks.get<TraceReader>().wait();
    update_import(s);
    if (!is_loaded(s)) return;
    s.desks.get<ImportDesk>().wait();
    hold_import(s);
}

bool hold_import(Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    if (!desk.is_loaded()) return false;
    keep_meanings(s);
    if (s.tool->is_selecting()) s.use_tool(make_import_tool(desk));
    ImportView& view = s.desks.get<ImportView>();
    if (desk.outcome() == nullptr || (view.shown == desk.revision() && s.editor.has_preview())) return false;
    view.shown = desk.revision();
    if (const Result<document::Chart>& chart = desk.outcome()->chart)
        s.editor.preview(chart);
    else
        s.editor.preview(document::Chart{}); // the panel says why
    trace("import preview",
          fmt::format("{} parts, {} changed", s.editor.shown().parts.size(), desk.outcome()->changed.size()));
    return true;
}

void leave_import(Session& s) {
    if (!is_importing(s)) return;
    if (is_loaded(s)) keep_meanings(s);
    clear_away(s);
    trace("import left", "");
}

void ask_to_leave_import(Session& s, std::optional<AfterSaving> then) {
    if (!is_importing(s)) return;
    if (!is_loaded(s) || !desk_of(s)->is_touched()) {
        leave_import(s);
        if (then) ask_or_do(s, *then);
        return;
    }
    s.panel = Panel::Import;
    s.dialog = LeaveImportDialog{then};
}

namespace {

/// Measured to the end and left lying: a chart made now would have another scale than its maker believes.
bool has_scale_to_take(Session& s) {
    const ImportDesk& desk = s.desks.get<ImportDesk>();
    if (desk.is_correction() || !desk.outcome()->result) return false;
    const auto outcome = s.desks.get<ScaleDesk>().foreseen(desk.outcome()->result->chart);
    return outcome && outcome->has_value();
}

} // namespace

void leave_import_report(Session& s) {
    if (s.findings_title.empty()) return; // another list is on show
    s.findings.clear();
    s.findings_title.clear();
    if (s.panel == Panel::Findings) s.panel = Panel::Stage;
}

bool import_key(Session& s, const Chord& chord) {
    if (!is_loaded(s) || chord.ctrl || chord.shift || chord.alt) return false;
    ImportDesk& desk = s.desks.get<ImportDesk>();
    switch (chord.key) {
    case Key::Up: desk.step(-1); return true;
    case Key::Down: desk.step(1); return true;
    case Key::Right: desk.fold_chosen(true); return true;
    case Key::Left: desk.fold_chosen(false); return true;
    default: return false;
    }
}

const char* word_of_taking(const Session& s) {
    return desk_of(s) != nullptr && desk_of(s)->is_correction() ? "Take the corrections" : "Make the chart";
}

bool accept_import(Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    if (!desk.is_loaded() || desk.is_making()) return false;
    const Result<document::Chart>& chart = desk.outcome()->chart;
    if (!chart) {
        s.editor.tell(Severity::Fault, padchart::describe(chart.error()));
        return false;
    }
    if (has_scale_to_take(s)) {
        s.editor.tell(Severity::Warning, kNotTaken);
        return false;
    }
    keep_meanings(s);
    Diagnostics findings = desk.outcome()->findings;
    const std::string name = desk.file_name();
    s.editor.drop_preview();
    if (desk.is_correction()) {
        s.editor.commit(*chart, std::string(kCorrectedTrace) + name);
    } else {
        s.editor.start_from(*chart, "Import " + name);
        note_trace(s, s.desks.get<TraceReader>().path());
    }
    desk.forget();
    reset_view(s);
    s.findings = std::move(findings);
    s.findings_title = name;
    s.panel = Panel::Findings;
    trace("import", fmt::format("{} with {} findings", name, s.findings.size()));
    return true;
}

} // namespace padchart::app
