#pragma once
// A spreadsheet's edits of a table as this program prints it, taken back row by row: which cells may come back, what
// was refused and where. What a cell means is the table's own affair.

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "cli/csv.hpp"
#include "document/id.hpp"

namespace padchart::cli {

struct CellChange {
    document::Id thing;
    std::string name; ///< of the thing, before; empty where it has none
    std::string column;
    std::string before;
    std::string after;
};

struct TakenTable {
    std::vector<CellChange> changes;
    Diagnostics refusals;            ///< `where` is "row 5, class"; what stands there was left out, the rest taken
    std::size_t rows = 0;            ///< that named a thing
    std::vector<document::Id> added; ///< things of rows without an id
};

struct TakenBack {
    std::string_view column;
    bool is_number = false; ///< 1.400 and 1,4 are the same
};

/// What take_table() needs to know of the table.
struct TableShape {
    std::string_view thing; ///< "part"
    std::vector<TakenBack> columns;
    bool comma_is_decimal = true; ///< else "1,200" could be either number, and is refused
    std::function<std::string(std::size_t position)> name_of;
    /// Puts a cell into the thing at that position. Errors: the message says what would be right.
    std::function<Result<void>(std::size_t position, std::string_view column, const std::string& cell)> set;
    /// Makes a thing of a row without an id, from its cells by column. Not set: such rows are refused.
    std::function<Result<document::Id>(const std::map<std::string, std::string>& cells)> add;
};

/// `as_printed`: the table of the chart itself, headings first, so that edits of columns that are not taken back are
/// seen and refused instead of being lost. Its first column is "id".
/// Errors: no row, no column "id", a heading twice, none of the columns that are taken back.
[[nodiscard]] Result<TakenTable> take_table(const std::vector<CsvRow>& rows, const std::vector<CsvRow>& as_printed,
                                            const TableShape& shape);

// For the tables' own setters -------------------------------------------------------------------------------------

[[nodiscard]] std::string trimmed(const std::string& text);
/// With '.' or ',' as decimal sign; nothing where it is none or not finite.
[[nodiscard]] std::optional<double> number_in(std::string text);

} // namespace padchart::cli
