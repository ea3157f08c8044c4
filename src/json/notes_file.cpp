#include "json/notes_file.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/base64.hpp"
#include "document/edits.hpp"
#include "json/field_reader.hpp"
#include "json/field_writer.hpp"

namespace padchart::json {

using document::Chart;
using document::Items;
using document::Note;
using document::Reading;
using document::Tick;

namespace {

/// 2 brought readings and ticks.
constexpr int kNotesVersion = 2;

template <class Io, Is<NotesFile> T>
void fields(Io& io, T& file) {
    io.text("chart_title", file.title);
    io.text("chart_board", file.board);
    io.text("chart_sha256", file.sha256);
    io.text("author", file.author);
    io.list("notes", file.notes);
    io.list("readings", file.readings);
    io.list("ticks", file.ticks);
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
    if (!state.has_failed && version != 1 && version != kNotesVersion)
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

std::string known(const std::string& author) {
    return author.empty() ? "unnamed colleague" : author;
}

/// As when a part is removed: words and place stay. True where that was so.
template <class T>
bool let_go_of_target(const Chart& chart, T& thing) {
    if (thing.target.is_empty() || document::is_taken(chart, thing.target)) return false;
    thing.target = {};
    return true;
}

void add(Note note, const std::string& author, AddedNotes& out) {
    if (note.author.empty()) note.author = known(author);
    const bool is_orphan = let_go_of_target(out.chart, note);
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

/// A reading says nothing of who took it: that goes into its remark.
void add(Reading reading, const std::string& author, AddedNotes& out) {
    if (reading.note.empty()) reading.note = "read by " + known(author);
    const bool is_orphan = let_go_of_target(out.chart, reading);
    for (const Reading& other : out.chart.readings) {
        Reading same = reading;
        same.id = other.id;
        if (!(same == other)) continue;
        ++out.already_there;
        return;
    }
    if (is_orphan)
        remark(out, "notes-target-gone",
               fmt::format("A {} reading is of a thing the chart no longer has.", document::to_text(reading.quantity)),
               reading.id);
    if (document::is_taken(out.chart, reading.id))
        reading.id = document::free_id(out.chart, "reading", reading.id.text + reading.note);
    out.chart.readings.add(std::move(reading));
    ++out.readings_added;
}

/// "R. Avel, 2031-05-01: done"; empty where nobody has said anything.
std::string who_says(const Tick& tick) {
    std::string text = tick.by;
    if (!tick.date.empty()) text += (text.empty() ? "" : ", ") + tick.date;
    return text.empty() && !tick.done ? text : text + (tick.done ? ": done" : ": not done");
}

void append_once(std::string& text, const std::string& more) {
    if (more.empty() || text.find(more) != std::string::npos) return;
    text += (text.empty() ? "" : "; ") + more;
}

/// A person's own line is known by its id alone: many bear the same task.
bool is_same_line(const Tick& a, const Tick& b) {
    constexpr std::string_view kOwnLine = "own";
    return a.id == b.id || (a.task == b.task && a.target == b.target && a.task != kOwnLine);
}

/// The first who ticked the line off stays; what the other says is kept in words.
Tick joined(Tick there, Tick tick) {
    if (tick.done && !there.done) {
        std::swap(there.done, tick.done);
        std::swap(there.by, tick.by);
        std::swap(there.date, tick.date);
    }
    append_once(there.note, tick.note);
    const bool says_the_same = there.done == tick.done && there.by == tick.by && there.date == tick.date;
    if (!says_the_same) append_once(there.note, who_says(tick));
    return there;
}

void add(Tick tick, const std::string& author, AddedNotes& out) {
    if (tick.by.empty()) tick.by = known(author);
    Items<Tick>& ticks = out.chart.ticks;
    for (std::size_t i = 0; i < ticks.size(); ++i) {
        if (!is_same_line(ticks[i], tick)) continue;
        Tick both = joined(ticks[i], tick);
        if (both == ticks[i])
            ++out.already_there;
        else if (both.done && !ticks[i].done)
            ++out.ticks_added;
        ticks.replace(i, std::move(both));
        return;
    }
    let_go_of_target(out.chart, tick);
    if (document::is_taken(out.chart, tick.id))
        tick.id = document::free_id(out.chart, "tick", tick.task + tick.target.text);
    out.ticks_added += tick.done ? 1U : 0U;
    ticks.add(std::move(tick));
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
    const bool has_only_notes = notes.readings.empty() && notes.ticks.empty();
    out.member("format", kNotesFormat).member("version", has_only_notes ? 1 : kNotesVersion);
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
    for (const document::Reading& reading : notes.readings)
        add(reading, notes.author, out);
    for (const document::Tick& tick : notes.ticks)
        add(tick, notes.author, out);
    if (const auto fault = document::fault_of(out.chart))
        return Error{"these notes may not stand in a chart: " + fault->message, fault->where};
    return out;
}

} // namespace padchart::json
