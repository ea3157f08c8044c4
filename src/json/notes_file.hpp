#pragma once
// What a colleague wrote on a one-file page and sent back: notes and readings, each at a place of the board or on a
// part, and lines of the list after rework that were ticked off, with who did it and when. Two forms: NAME.notes.json,
// and the same in a text that was pasted into a mail, where it stands in Base64 between two lines, so that broken lines
// and quotation marks of mail programs do no harm.

#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::json {

inline constexpr std::string_view kNotesFormat = "padchart-notes";
inline constexpr std::string_view kNotesBegin = "-----BEGIN PADCHART NOTES-----";
inline constexpr std::string_view kNotesEnd = "-----END PADCHART NOTES-----";

struct NotesFile {
    std::string title;  ///< of the chart they were written on
    std::string board;  ///< of the same
    std::string sha256; ///< of the very bytes of that chart
    std::string author; ///< of all that names nobody
    document::Items<document::Note> notes;
    document::Items<document::Reading> readings; ///< since version 2
    document::Items<document::Tick> ticks;       ///< since version 2
    document::Extras extras;
};

/// Whether the text looks like either form.
[[nodiscard]] bool is_notes(std::string_view text);

/// Errors: neither form, cut, or not as it should be; `where` as read_chart says it.
[[nodiscard]] Result<NotesFile> read_notes(std::string_view text, std::string_view file_name = {});
/// Canonical text of the first form; version 1 where notes are all there is.
[[nodiscard]] std::string write_notes(const NotesFile& notes);

struct AddedNotes {
    document::Chart chart;
    std::size_t added = 0; ///< notes
    std::size_t readings_added = 0;
    std::size_t ticks_added = 0;   ///< lines that are ticked off now and were not before
    std::size_t already_there = 0; ///< of any kind
    Diagnostics remarks;           ///< written on another state of the chart, on another board, on a part that is gone
};

/// The chart with all that in it. Nothing is lost and nothing stands twice: a note of the same words, author, day and
/// place is there already, and so is a reading that says the same; one that came by a taken id gets a new one. A line
/// of the list that the chart has a tick for already keeps the first who ticked it off; the other is added to its
/// remark. What names nobody gets the file's author, else "unnamed colleague". `chart_sha256`: hash of the bytes
/// `chart` was read from, to tell whether it has changed since. Errors: a note, reading or tick that may not stand in a
/// chart.
[[nodiscard]] Result<AddedNotes> add_notes(const document::Chart& chart, const NotesFile& notes,
                                           std::string_view chart_sha256);

} // namespace padchart::json
