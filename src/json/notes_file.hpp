#pragma once
// What a colleague wrote on a one-file page and sent back: notes, each at a place of the board or on a part, with who
// wrote it and when. Two forms: NAME.notes.json, and the same in a text that was pasted into a mail, where it stands
// in Base64 between two lines, so that broken lines and quotation marks of mail programs do no harm.

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
    std::string author; ///< of every note that names nobody
    document::Items<document::Note> notes;
    document::Extras extras;
};

/// Whether the text looks like either form.
[[nodiscard]] bool is_notes(std::string_view text);

/// Errors: neither form, cut, or not as it should be; `where` as read_chart says it.
[[nodiscard]] Result<NotesFile> read_notes(std::string_view text, std::string_view file_name = {});
/// Canonical text of the first form.
[[nodiscard]] std::string write_notes(const NotesFile& notes);

struct AddedNotes {
    document::Chart chart;
    std::size_t added = 0;
    std::size_t already_there = 0;
    Diagnostics remarks; ///< written on another state of the chart, on another board, on a part that is gone
};

/// The chart with the notes in it. None is lost and none stands twice: a note of the same words, author, day and place
/// is there already; one that came by a taken id gets a new one. A note without an author gets the file's, else
/// "unnamed colleague". `chart_sha256`: hash of the bytes `chart` was read from, to tell whether it has changed since.
/// Errors: a note that may not stand in a chart.
[[nodiscard]] Result<AddedNotes> add_notes(const document::Chart& chart, const NotesFile& notes,
                                           std::string_view chart_sha256);

} // namespace padchart::json
