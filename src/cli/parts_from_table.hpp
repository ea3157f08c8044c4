#pragma once
// A spreadsheet's edits of the part table come back: name, class, role and value, by id.

#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "cli/csv.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

struct CellChange {
    document::Id part;
    std::string name; ///< of the part, before
    std::string column;
    std::string before;
    std::string after;
};

struct TableEdits {
    document::Chart chart;
    std::vector<CellChange> changes;
    Diagnostics refusals;  ///< `where` is "row 5, class"; what stands there was left out, the rest taken
    std::size_t parts = 0; ///< rows that named a part
};

/// `as_printed`: the part table of the chart itself, headings first, so that edits of columns that are not taken back
/// are seen and refused instead of being lost.
/// Errors: no row, no column "id", a heading twice, none of the columns that are taken back.
[[nodiscard]] Result<TableEdits> edits_from_table(const document::Chart& chart, const std::vector<CsvRow>& rows,
                                                  const std::vector<CsvRow>& as_printed);

} // namespace padchart::cli
