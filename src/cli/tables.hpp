#pragma once
// Readings and keep-outs as tables, for spreadsheets and for people.

#include <string>
#include <vector>

#include "cli/csv.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

struct TextTable {
    CsvRow headings;
    std::vector<CsvRow> rows;
};

[[nodiscard]] TextTable readings_table(const document::Chart& chart);
[[nodiscard]] TextTable keep_outs_table(const document::Chart& chart);

} // namespace padchart::cli
