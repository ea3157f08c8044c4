#include "app/import_flow.hpp"

#include <utility>

#include <fmt/format.h>

#include "app/documents.hpp"
#include "app/scale_desk.hpp"
#include "app/tools/import_tool.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

struct ImportWish {
    bool corrected = false;
};

/// What the import desk shows now.
struct ImportView {
    std::uint64_t shown = 0; ///< revision of the preview
    std::uint64_t of = 0;    ///< version of the editor right after it was shown
};

} // namespace

void ask_for_trace(Session& s, bool corrected) {
    s.desks.get<ImportWish>().corrected = corrected;
    show_file_dialog(s, FileTask::ImportTrace);
}

bool take_scale_for_import(Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    if (!desk.is_loaded() || !desk.result()) return false;
    ScaleDesk& scale = s.desks.get<ScaleDesk>();
    auto outcome = scale.outcome(desk.result()->chart);
    if (!outcome || !*outcome) return false;
    desk.set_scale((*outcome)->chart.scale, std::move((*outcome)->findings));
    scale.forget_picks();
    s.wants_fit = true;
    trace("import scale", analysis::scale_words(*desk.scale()));
    return true;
}

Result<void> begin_import(Session& s, const std::string& path) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    ImportDesk fresh;
    fresh.into_current = s.desks.get<ImportWish>().corrected;
    if (Result<void> read = fresh.load(path, load_meanings(meaning_file())); !read) return read;
    desk = std::move(fresh);
    s.desks.get<ImportView>() = {};
    s.desks.get<ScaleDesk>().forget_picks();
    s.editor.select({});
    s.panel = Panel::Import;
    s.wants_fit = true;
    hold_import(s);
    trace("import begun", fmt::format("{} with {} shapes", desk.file_name(), desk.drawing().shapes.size()));
    return {};
}

void hold_import(Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    if (!desk.is_loaded()) return;
    if (s.tool->is_selecting()) s.use_tool(make_import_tool(desk));
    ImportView& view = s.desks.get<ImportView>();
    if (view.shown == desk.revision() && s.editor.has_preview()) return;
    view.shown = desk.revision();
    Result<document::Chart> chart = desk.outcome(s.editor.chart());
    if (chart)
        s.editor.preview(std::move(chart));
    else
        s.editor.preview(document::Chart{}); // the panel says why
}

void leave_import(Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    if (!desk.is_loaded()) return;
    desk.forget();
    s.editor.drop_preview();
    s.use_tool(s.resting_tool());
    s.wants_fit = true;
    trace("import left", "");
}

bool accept_import(Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    if (!desk.is_loaded()) return false;
    Result<document::Chart> chart = desk.outcome(s.editor.chart());
    if (!chart) {
        s.editor.tell(Severity::Fault, padchart::describe(chart.error()));
        return false;
    }
    Diagnostics findings = desk.findings(s.editor.chart());
    MeaningMemory memory = load_meanings(meaning_file());
    const std::string before = memory.text();
    desk.remember(memory);
    const Result<void> kept = memory.text() == before ? Result<void>() : save_meanings(memory, meaning_file());
    const std::string name = desk.file_name();
    const bool into = desk.into_current;
    desk.forget();
    s.editor.drop_preview();
    if (into)
        s.editor.commit(std::move(chart), "Corrected trace " + name);
    else
        s.editor.start_from(std::move(*chart), "Import " + name);
    reset_view(s);
    if (!kept) findings.push_back({Severity::Warning, "not-remembered", padchart::describe(kept.error()), "", ""});
    s.findings = std::move(findings);
    s.findings_title = name;
    s.panel = Panel::Findings;
    trace("import", fmt::format("{} with {} findings", name, s.findings.size()));
    return true;
}

} // namespace padchart::app
