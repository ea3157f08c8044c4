#pragma once
// A spreadsheet's edits come back by id: of the part table name, class, role and value; of keep-outs all but their
// place; of readings everything, and rows without an id are new readings.

#include <vector>

#include "cli/table_taker.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

struct TableEdits {
    document::Chart chart;
    TakenTable taken;
};

/// `as_printed`: the part table of the chart itself, headings first. `comma_is_decimal`: see TableShape. Errors: as
/// take_table.
[[nodiscard]] Result<TableEdits> parts_from_table(const document::Chart& chart, const std::vector<CsvRow>& rows,
                                                  const std::vector<CsvRow>& as_printed);
[[nodiscard]] Result<TableEdits> keep_outs_from_table(const document::Chart& chart, const std::vector<CsvRow>& rows,
                                                      bool comma_is_decimal = true);
[[nodiscard]] Result<TableEdits> readings_from_table(const document::Chart& chart, const std::vector<CsvRow>& rows,
                                                     bool comma_is_decimal = true);

} // namespace padchart::cli
