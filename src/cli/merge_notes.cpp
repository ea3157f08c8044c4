#include "cli/merge_notes.hpp"

#include <fmt/format.h>

#include <ostream>

#include "base/counted.hpp"
#include "base/sha256.hpp"
#include "cli/shared.hpp"
#include "json/chart_file.hpp"
#include "json/notes_file.hpp"

namespace padchart::cli {
namespace {

struct Merged {
    document::Chart chart;
    bool has_warnings = false;
};

Result<json::AddedNotes> added(const document::Chart& chart, const std::string& chart_sha256, const std::string& path) {
    const Result<std::string> text = read_file(path);
    if (!text) return text.error();
    const Result<json::NotesFile> notes = json::read_notes(*text, path);
    if (!notes) return notes.error();
    Result<json::AddedNotes> out = json::add_notes(chart, *notes, chart_sha256.empty() ? notes->sha256 : chart_sha256);
    if (!out) return in_file(path, out.error());
    return out;
}

std::string spoken(const json::AddedNotes& notes, const std::string& path) {
    std::string text = path + ": " + counted(notes.added, "note");
    if (notes.readings_added > 0) text += ", " + counted(notes.readings_added, "reading");
    if (notes.ticks_added > 0) text += ", " + counted(notes.ticks_added, "tick");
    text += " added";
    if (notes.already_there > 0) text += fmt::format(", {} there already", notes.already_there);
    return text;
}

Result<Merged> merged(const Arguments& arguments, Streams streams) {
    const std::string path = arguments.text("BASE");
    const Result<std::string> bytes = json::load_chart_text(path);
    if (!bytes) return bytes.error();
    Result<document::Chart> chart = json::read_chart(*bytes, path);
    if (!chart) return chart.error();
    Merged out{std::move(*chart), false};
    const std::string hash = sha256_hex(*bytes);
    for (const std::string& file : arguments.all("notes")) {
        Result<json::AddedNotes> notes = added(out.chart, hash, file);
        if (!notes) return notes.error();
        print(streams.err, notes->remarks);
        if (exit_code_of(notes->remarks) == kFindings) out.has_warnings = true;
        streams.out << spoken(*notes, file) << '\n';
        out.chart = std::move(notes->chart);
    }
    return out;
}

} // namespace

bool is_notes_text(const std::string& text) {
    return json::is_notes(text);
}

Result<document::Chart> with_notes(const document::Chart& chart, const std::string& chart_sha256,
                                   const std::string& path, Streams streams) {
    Result<json::AddedNotes> notes = added(chart, chart_sha256, path);
    if (!notes) return notes.error();
    print(streams.err, notes->remarks);
    return std::move(notes->chart);
}

int run_merge_notes(const Arguments& arguments, Streams streams) {
    if (arguments.has("OURS"))
        return fail(streams,
                    Error{"--notes goes with one CHART; a three-way merge takes the notes as THEIRS", "merge"});
    for (const char* other : {"json", "picture"})
        if (arguments.has(other))
            return fail(streams, Error{fmt::format("--{} goes with three charts", other), "merge"});
    if (const auto refusal =
            would_overwrite(arguments.text("output"), {arguments.text("BASE")}, arguments.has("force")))
        return fail(streams, *refusal);
    const Result<Merged> result = merged(arguments, streams);
    if (!result) return fail(streams, result.error());
    if (const Result<void> saved = json::save_chart(result->chart, arguments.text("output")); !saved)
        return fail(streams, saved.error());
    return result->has_warnings ? kFindings : kFine;
}

} // namespace padchart::cli
