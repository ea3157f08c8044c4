#pragma once
// Tables as spreadsheets exchange them: RFC 4180, and what spreadsheets make of it (a byte order mark, semicolons or
// tabs where the locale's decimal sign is a comma, lines ending with a line feed alone).

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace padchart::cli {

using CsvRow = std::vector<std::string>;

/// Cells without their guard against formulas (see csv_line). Rows as they stand, empty ones included, so that the
/// first row is row 1 as a spreadsheet counts. The delimiter is the one of comma, semicolon and tab that stands most
/// often in the first line outside quotes. Errors: a quote that never ends, characters after a closing quote; `where`
/// is "row 3, column 2".
[[nodiscard]] Result<std::vector<CsvRow>> read_csv(std::string_view utf8);

/// Which of the two a table's comma is: a separator, so that "1,200" within quotes is one thousand two hundred to some
/// and 1.2 to others; or, where semicolons or tabs separate, a decimal sign.
[[nodiscard]] bool separates_by_comma(std::string_view utf8);

/// A cell that a spreadsheet would take for a formula (it begins with = + - @, a tab or a line break and is no
/// number) gets an apostrophe in front, which read_csv takes off again: nobody's part name runs on a colleague's
/// machine. Control characters and those that turn the direction of writing are spelled \u001b, which read_csv reads
/// back; where a text has those very six letters of its own, its backslash is spelled \u005c. Line feeds and tabs stay.
/// With CRLF at its end; cells in quotes where a comma, a quote or a line break stands inside, or a blank at an end.
[[nodiscard]] std::string csv_line(std::span<const std::string> cells);

} // namespace padchart::cli
