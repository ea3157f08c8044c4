#pragma once
// The data tables of assets/tables: tab-separated text, one header line, '#' lines are remarks. Every table has a
// column `source` that says where the row comes from and `standing` that says how sure it is: "published", "from
// memory" or "common practice". Compiled into the program.

#include <optional>
#include <string_view>
#include <vector>

namespace padchart::patterns {

class Table {
public:
    /// Requires: `text` outlives the table, every row has as many cells as the header (tests check the shipped ones).
    explicit Table(std::string_view text);

    [[nodiscard]] std::size_t size() const { return rows_.size(); }
    [[nodiscard]] const std::vector<std::string_view>& columns() const { return columns_; }
    [[nodiscard]] bool has_column(std::string_view column) const;
    /// The cell as it stands, "" when empty or when there is no such column.
    [[nodiscard]] std::string_view text(std::size_t row, std::string_view column) const;
    /// Nothing where the cell is empty or "-".
    [[nodiscard]] std::optional<double> number(std::size_t row, std::string_view column) const;
    /// The first row whose cell in `column` is `value`.
    [[nodiscard]] std::optional<std::size_t> find(std::string_view column, std::string_view value) const;

private:
    std::vector<std::string_view> columns_;
    std::vector<std::vector<std::string_view>> rows_;
};

/// A shipped table by its file name without ending: "alloys". Parsed once, kept for the life of the program.
/// Requires: the table exists.
[[nodiscard]] const Table& table(std::string_view name);

} // namespace padchart::patterns
