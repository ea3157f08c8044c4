#include "cli/table_taker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <unordered_map>

namespace padchart::cli {
namespace {

/// Spreadsheets write 1.400 as 1.4 or 1,4.
bool is_same_number(const std::string& cell, const std::string& printed, double within) {
    const auto a = number_in(trimmed(cell));
    const auto b = number_in(printed);
    return a && b && std::abs(*a - *b) <= within;
}

/// "1,200", "-12,000": some mean a thousand and more, others a decimal fraction.
bool has_unclear_comma(const std::string& text) {
    const std::size_t first = text.find_first_not_of("+-");
    const std::size_t comma = text.find(',');
    if (first == std::string::npos || comma == std::string::npos || text[first] < '1' || text[first] > '9')
        return false;
    const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
    return comma - first <= 3 && text.size() - comma == 4 &&
           std::all_of(text.begin() + static_cast<std::ptrdiff_t>(comma) + 1, text.end(), is_digit);
}

std::string unclear_comma_in_words(const std::string& text) {
    std::string thousands = text, decimal = text;
    std::erase(thousands, ',');
    std::replace(decimal.begin(), decimal.end(), ',', '.');
    return fmt::format("\"{}\" could be {} or {}; right would be one of them, without a comma", text, thousands,
                       decimal);
}

/// Spreadsheets break lines inside cells in their own way.
std::string with_plain_breaks(std::string text) {
    for (std::size_t at = text.find("\r\n"); at != std::string::npos; at = text.find("\r\n", at + 1))
        text.erase(at, 1);
    return text;
}

bool is_blank(const CsvRow& row) {
    return std::all_of(row.begin(), row.end(), [](const std::string& cell) { return trimmed(cell).empty(); });
}

using Headings = std::unordered_map<std::string, std::size_t>;

std::string columns_in_words(const TableShape& shape, std::string_view last_joint) {
    std::string text;
    for (std::size_t i = 0; i < shape.columns.size(); ++i) {
        if (i > 0) text += i + 1 == shape.columns.size() ? std::string(last_joint) : ", ";
        text += shape.columns[i].column;
    }
    return text;
}

class Taker {
public:
    Taker(const TableShape& shape, Headings headings, const std::vector<CsvRow>& as_printed)
        : shape_(shape), headings_(std::move(headings)), as_printed_(as_printed) {
        for (std::size_t i = 1; i < as_printed.size(); ++i)
            positions_.emplace(as_printed[i].front(), i - 1);
    }

    TakenTable take(const std::vector<CsvRow>& rows) {
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
        if (id.empty()) return add_row(row, number);
        const auto found = positions_.find(id);
        if (found == positions_.end())
            return refuse(number, "id", fmt::format("no {} of the chart bears the id \"{}\"", shape_.thing, id));
        if (const auto [first, is_new] = seen_.emplace(id, number); !is_new)
            return refuse(number, "id", fmt::format("this {} was row {} already", shape_.thing, first->second));
        ++out_.rows;
        take_cells(row, number, found->second);
    }

    void add_row(const CsvRow& row, std::size_t number) {
        if (!shape_.add)
            return refuse(number, "id",
                          fmt::format("is empty; a new {} is added on the chart, not in the table", shape_.thing));
        std::map<std::string, std::string> cells;
        for (const auto& [heading, column] : headings_)
            if (column < row.size() && !trimmed(row[column]).empty()) cells[heading] = trimmed(row[column]);
        for (const auto& [column, cell] : cells)
            if (is_unclear(column, cell)) return refuse(number, column, unclear_comma_in_words(cell));
        const Result<document::Id> added = shape_.add(cells);
        if (!added)
            return refuse(number, added.error().where.empty() ? "new row" : added.error().where, added.error().message);
        out_.added.push_back(*added);
        ++out_.rows;
    }

    [[nodiscard]] bool is_unclear(std::string_view column, const std::string& cell) const {
        const TakenBack* known = taken_back(column);
        return known != nullptr && known->is_number && !shape_.comma_is_decimal && has_unclear_comma(trimmed(cell));
    }

    [[nodiscard]] const TakenBack* taken_back(std::string_view column) const {
        for (const TakenBack& known : shape_.columns)
            if (known.column == column) return &known;
        return nullptr;
    }

    void take_cells(const CsvRow& row, std::size_t number, std::size_t position) {
        const std::string name = shape_.name_of(position);
        for (std::size_t i = 0; i < as_printed_.front().size(); ++i) {
            const std::string& column = as_printed_.front()[i];
            const auto heading = headings_.find(column);
            if (column == "id" || heading == headings_.end() || heading->second >= row.size()) continue;
            const std::string& cell = row[heading->second];
            const std::string& printed = as_printed_[position + 1][i];
            if (with_plain_breaks(cell) == with_plain_breaks(printed)) continue;
            if (const TakenBack* known = taken_back(column)) {
                if (known->is_number && is_same_number(cell, printed, 1e-9)) continue;
                take_cell({position, number, column, name, printed}, cell);
            } else if (trimmed(cell) != printed && !is_same_number(cell, printed, 0.005)) {
                refuse(number, column,
                       fmt::format("\"{}\" is not taken back, the chart has \"{}\"; only {} are", cell, printed,
                                   columns_in_words(shape_, " and ")));
            }
        }
    }

    struct Cell {
        std::size_t position;
        std::size_t row;
        const std::string& column;
        const std::string& name;
        const std::string& printed;
    };

    void take_cell(const Cell& at, const std::string& cell) {
        if (is_unclear(at.column, cell)) return refuse(at.row, at.column, unclear_comma_in_words(trimmed(cell)));
        const Result<void> done = shape_.set(at.position, at.column, cell);
        if (!done) return refuse(at.row, at.column, done.error().message);
        out_.changes.push_back(
            {document::Id{as_printed_[at.position + 1].front()}, at.name, at.column, at.printed, cell});
    }

    const TableShape& shape_;
    Headings headings_;
    const std::vector<CsvRow>& as_printed_;
    std::unordered_map<std::string, std::size_t> positions_;
    std::unordered_map<std::string, std::size_t> seen_;
    TakenTable out_;
};

Result<Headings> headings_of(const CsvRow& row, const TableShape& shape) {
    Headings out;
    bool any = false;
    for (std::size_t i = 0; i < row.size(); ++i) {
        const std::string heading = trimmed(row[i]);
        if (heading.empty()) continue;
        if (!out.emplace(heading, i).second) return Error{"the heading \"" + heading + "\" stands twice", "row 1"};
        any = any || std::any_of(shape.columns.begin(), shape.columns.end(),
                                 [&](const TakenBack& known) { return known.column == heading; });
    }
    if (out.count("id") == 0)
        return Error{"no column is headed \"id\"; right would be the table that `padchart parts --csv` prints",
                     "row 1"};
    if (!any)
        return Error{"no column is headed " + columns_in_words(shape, " or ") + ", so there is nothing to take back",
                     "row 1"};
    return out;
}

} // namespace

std::string trimmed(const std::string& text) {
    const std::size_t begin = text.find_first_not_of(" \t");
    if (begin == std::string::npos) return {};
    return text.substr(begin, text.find_last_not_of(" \t") - begin + 1);
}

std::optional<double> number_in(std::string text) {
    std::replace(text.begin(), text.end(), ',', '.'); // a locale's decimal sign
    const char* begin = text.data();
    if (text.size() > 1 && text.front() == '+') ++begin;
    double number = 0.0;
    const auto [end, fault] = std::from_chars(begin, text.data() + text.size(), number);
    if (fault != std::errc{} || end != text.data() + text.size() || !std::isfinite(number)) return std::nullopt;
    return number;
}

Result<TakenTable> take_table(const std::vector<CsvRow>& rows, const std::vector<CsvRow>& as_printed,
                              const TableShape& shape) {
    if (rows.empty()) return Error{"the table is empty", {}};
    Result<Headings> headings = headings_of(rows.front(), shape);
    if (!headings) return headings.error();
    return Taker(shape, std::move(*headings), as_printed).take(rows);
}

} // namespace padchart::cli
