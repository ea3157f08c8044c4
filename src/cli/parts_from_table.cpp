#include "cli/parts_from_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <unordered_map>

#include "document/edits.hpp"

namespace padchart::cli {
namespace {

using document::Chart;
using document::Footprint;
using document::PartClass;

constexpr std::array<std::string_view, 4> kTakenBack{"name", "class", "role", "value"};

std::string trimmed(const std::string& text) {
    const std::size_t begin = text.find_first_not_of(" \t");
    if (begin == std::string::npos) return {};
    return text.substr(begin, text.find_last_not_of(" \t") - begin + 1);
}

std::optional<double> number_in(std::string text) {
    std::replace(text.begin(), text.end(), ',', '.'); // a locale's decimal sign
    double number = 0.0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (fault != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return number;
}

/// Spreadsheets write 1.400 as 1.4 or 1,4.
bool is_same_shown(const std::string& cell, const std::string& printed) {
    if (trimmed(cell) == printed) return true;
    const auto a = number_in(trimmed(cell));
    const auto b = number_in(printed);
    return a && b && std::abs(*a - *b) < 0.005;
}

/// Spreadsheets break lines inside cells in their own way.
std::string with_plain_breaks(std::string text) {
    for (std::size_t at = text.find("\r\n"); at != std::string::npos; at = text.find("\r\n", at + 1))
        text.erase(at, 1);
    return text;
}

bool is_taken_back(std::string_view column) {
    return std::find(kTakenBack.begin(), kTakenBack.end(), column) != kTakenBack.end();
}

bool is_blank(const CsvRow& row) {
    return std::all_of(row.begin(), row.end(), [](const std::string& cell) { return trimmed(cell).empty(); });
}

/// Words that begin alike; the whole list of classes would fill a screen.
std::string near_classes(const std::string& word) {
    std::string near;
    for (const document::Word<PartClass>& known : document::words<PartClass>())
        if (!word.empty() && known.text.front() == word.front())
            near += (near.empty() ? "" : ", ") + std::string(known.text);
    return near.empty() ? "a class as `padchart parts` prints it" : "one of " + near;
}

using Headings = std::unordered_map<std::string, std::size_t>;

Result<Headings> headings_of(const CsvRow& row) {
    Headings out;
    bool any = false;
    for (std::size_t i = 0; i < row.size(); ++i) {
        const std::string heading = trimmed(row[i]);
        if (heading.empty()) continue;
        if (!out.emplace(heading, i).second) return Error{"the heading \"" + heading + "\" stands twice", "row 1"};
        any = any || is_taken_back(heading);
    }
    if (out.count("id") == 0)
        return Error{"no column is headed \"id\"; right would be the table that `padchart parts --csv` prints",
                     "row 1"};
    if (!any) return Error{"no column is headed name, class, role or value, so there is nothing to take back", "row 1"};
    return out;
}

class TableTaker {
public:
    TableTaker(const Chart& chart, Headings headings, const std::vector<CsvRow>& as_printed)
        : headings_(std::move(headings)), as_printed_(as_printed) {
        out_.chart = chart;
        for (std::size_t i = 0; i < chart.parts.size(); ++i)
            positions_.emplace(chart.parts[i].id.text, i);
        for (std::size_t i = 0; i < as_printed.front().size(); ++i)
            printed_columns_.emplace(as_printed.front()[i], i);
    }

    TableEdits take(const std::vector<CsvRow>& rows) {
        for (std::size_t i = 1; i < rows.size(); ++i)
            if (!is_blank(rows[i])) take_row(rows[i], i + 1, rows.front().size());
        return std::move(out_);
    }

private:
    void refuse(std::size_t row, std::string_view column, std::string message) {
        out_.refusals.push_back({Severity::Warning,
                                 "cell-refused",
                                 std::move(message),
                                 "row " + std::to_string(row) + ", " + std::string(column),
                                 {}});
    }

    void take_row(const CsvRow& row, std::size_t number, std::size_t width) {
        if (row.size() > width)
            return refuse(number, "column " + std::to_string(row.size()),
                          "the row has " + std::to_string(row.size()) + " cells, the headings are " +
                              std::to_string(width) + "; a cell with the separator in it needs quotes");
        const std::size_t id_column = headings_.at("id");
        const std::string id = id_column < row.size() ? trimmed(row[id_column]) : std::string();
        if (id.empty()) return refuse(number, "id", "is empty; a new part is added on the chart, not in the table");
        const auto found = positions_.find(id);
        if (found == positions_.end()) return refuse(number, "id", "no part of the chart bears the id \"" + id + "\"");
        if (const auto [first, is_new] = seen_.emplace(id, number); !is_new)
            return refuse(number, "id", "this part was row " + std::to_string(first->second) + " already");
        ++out_.parts;
        take_cells(row, number, found->second);
    }

    void take_cells(const CsvRow& row, std::size_t number, std::size_t position) {
        for (const std::string& column : as_printed_.front()) {
            const auto heading = headings_.find(column);
            if (column == "id" || heading == headings_.end() || heading->second >= row.size()) continue;
            const std::string& cell = row[heading->second];
            const std::string& printed = as_printed_[position + 1][printed_columns_.at(column)];
            if (with_plain_breaks(cell) == with_plain_breaks(printed)) continue;
            if (is_taken_back(column))
                take_cell(cell, number, position, column, printed);
            else if (!is_same_shown(cell, printed))
                refuse(number, column,
                       fmt::format("\"{}\" is not taken back, the chart has \"{}\"; only name, class, role and value "
                                   "are",
                                   cell, printed));
        }
    }

    void take_cell(const std::string& cell, std::size_t number, std::size_t position, const std::string& column,
                   const std::string& printed) {
        Footprint part = out_.chart.parts[position];
        const std::string name = part.name;
        std::string after = cell;
        if (column == "class") {
            after = trimmed(cell);
            const auto part_class = document::from_text<PartClass>(after);
            if (!part_class)
                return refuse(number, column, "\"" + cell + "\" is no class; right would be " + near_classes(after));
            if (*part_class == part.part_class) return;
            part.part_class = *part_class;
        } else {
            (column == "name" ? part.name : column == "role" ? part.role : part.value) = after;
        }
        out_.changes.push_back({part.id, name, column, printed, after});
        out_.chart.parts.replace(position, std::move(part));
    }

    Headings headings_;
    const std::vector<CsvRow>& as_printed_;
    Headings printed_columns_;
    std::unordered_map<std::string, std::size_t> positions_;
    std::unordered_map<std::string, std::size_t> seen_;
    TableEdits out_;
};

} // namespace

Result<TableEdits> edits_from_table(const Chart& chart, const std::vector<CsvRow>& rows,
                                    const std::vector<CsvRow>& as_printed) {
    if (rows.empty()) return Error{"the table is empty", {}};
    Result<Headings> headings = headings_of(rows.front());
    if (!headings) return headings.error();
    return TableTaker(chart, std::move(*headings), as_printed).take(rows);
}

} // namespace padchart::cli
