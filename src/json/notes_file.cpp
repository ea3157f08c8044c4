#include "json/notes_file.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/base64.hpp"
#include "document/edits.hpp"
#include "json/field_reader.hpp"
#include "json/field_writer.hpp"

namespace padchart::json {

using document::Chart;
using document::Note;

namespace {

constexpr int kNotesVersion = 1;

template <class Io, Is<NotesFile> T>
void fields(Io& io, T& file) {
    io.text("chart_title", file.title);
    io.text("chart_board", file.board);
    io.text("chart_sha256", file.sha256);
    io.text("author", file.author);
    io.list("notes", file.notes);
    io.extras(file.extras);
}

/// Without the marks a mail program puts before lines it quotes.
std::string unquoted(std::string_view text) {
    std::string out;
    bool at_start = true;
    for (const char c : text) {
        if (at_start && (c == '>' || c == ' ')) continue;
        at_start = c == '\n';
        out += c;
    }
    return out;
}

std::optional<std::string> from_mail(std::string_view text) {
    const std::size_t begin = text.find(kNotesBegin);
    const std::size_t end = text.find(kNotesEnd);
    if (begin == std::string_view::npos || end == std::string_view::npos || end < begin) return std::nullopt;
    const std::size_t from = begin + kNotesBegin.size();
    return from_base64(unquoted(text.substr(from, end - from)));
}

Result<NotesFile> notes_from(Tree& tree, std::string_view text) {
    ReadState state{tree, {}, false, 0, {}};
    FieldReader root(state, 0);
    NotesFile notes;
    double version = 0.0;
    if (!state.has_failed) root.exact_text("format", kNotesFormat);
    if (!state.has_failed) root.number("version", version, range::kNumber);
    if (!state.has_failed && version != kNotesVersion)
        state.fail(node_at(tree, "/version"), "these notes are of a version this program does not read");
    if (!state.has_failed) fields(root, notes);
    if (state.has_failed) return Error{state.fault, place_of(tree, state.fault_node, text)};
    return notes;
}

Error in_file(Error error, std::string_view file_name) {
    if (!file_name.empty()) error.where = std::string(file_name) + (error.where.empty() ? "" : ": " + error.where);
    return error;
}

bool is_same(const Note& a, const Note& b) {
    return a.text == b.text && a.author == b.author && a.date == b.date && a.side == b.side && a.at == b.at &&
           a.target == b.target;
}

bool has(const Chart& chart, const Note& note) {
    return std::any_of(chart.notes.begin(), chart.notes.end(), [&](const Note& other) { return is_same(other, note); });
}

void remark(AddedNotes& out, std::string_view code, std::string message, const document::Id& target = {}) {
    out.remarks.push_back({Severity::Warning, std::string(code), std::move(message), {}, target.text});
}

/// What tells the receiver that the colleague may have had something else before him.
void compare_charts(const Chart& chart, const NotesFile& notes, std::string_view chart_sha256, AddedNotes& out) {
    const bool other_board = notes.title != chart.title.title || notes.board != chart.title.board;
    if (other_board)
        remark(out, "notes-other-chart",
               fmt::format("These notes were written on \"{}\" of \"{}\"; this chart is \"{}\" of \"{}\".", notes.title,
                           notes.board, chart.title.title, chart.title.board));
    else if (!notes.sha256.empty() && notes.sha256 != chart_sha256)
        out.remarks.push_back({Severity::Note,
                               "notes-other-state",
                               "The chart has changed since the page was written that these notes come from.",
                               {},
                               {}});
}

void add(Note note, const std::string& author, AddedNotes& out) {
    if (note.author.empty()) note.author = author.empty() ? "unnamed colleague" : author;
    const bool is_orphan = !note.target.is_empty() && !document::is_taken(out.chart, note.target);
    if (is_orphan) note.target = {}; // as when a part is removed: words and place stay
    if (has(out.chart, note)) {
        ++out.already_there;
        return;
    }
    if (is_orphan)
        remark(out, "notes-target-gone", fmt::format("\"{}\" speaks of a thing the chart no longer has.", note.text),
               note.id);
    if (document::is_taken(out.chart, note.id))
        note.id = document::free_id(out.chart, "note", note.id.text + note.author + note.text);
    out.chart.notes.add(std::move(note));
    ++out.added;
}

} // namespace

bool is_notes(std::string_view text) {
    if (text.find(kNotesBegin) != std::string_view::npos) return true;
    const std::size_t first = text.find_first_not_of(" \t\r\n\xEF\xBB\xBF");
    if (first == std::string_view::npos || text[first] != '{') return false;
    return text.substr(0, first + 400).find("\"" + std::string(kNotesFormat) + "\"") != std::string_view::npos;
}

Result<NotesFile> read_notes(std::string_view text, std::string_view file_name) {
    std::string json(text);
    if (text.find(kNotesBegin) != std::string_view::npos) {
        std::optional<std::string> inner = from_mail(text);
        if (!inner)
            return in_file(Error{fmt::format("the letters between \"{}\" and \"{}\" were cut or altered; ask for the "
                                             "notes as a file",
                                             kNotesBegin, kNotesEnd),
                                 {}},
                           file_name);
        json = std::move(*inner);
    }
    Result<Tree> tree = parse_tree(json);
    if (!tree) return in_file(tree.error(), file_name);
    Result<NotesFile> notes = notes_from(*tree, json);
    if (!notes) return in_file(notes.error(), file_name);
    return notes;
}

std::string write_notes(const NotesFile& notes) {
    JsonWriter out;
    out.begin_object();
    out.member("format", kNotesFormat).member("version", kNotesVersion);
    FieldWriter writer(out);
    fields(writer, notes);
    out.end_object();
    return std::move(out).str();
}

Result<AddedNotes> add_notes(const Chart& chart, const NotesFile& notes, std::string_view chart_sha256) {
    AddedNotes out;
    out.chart = chart;
    compare_charts(chart, notes, chart_sha256, out);
    for (const Note& note : notes.notes)
        add(note, notes.author, out);
    if (const auto fault = document::fault_of(out.chart))
        return Error{"these notes may not stand in a chart: " + fault->message, fault->where};
    return out;
}

} // namespace padchart::json
