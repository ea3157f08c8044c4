#include "patterns/table.hpp"

#include <algorithm>
#include <cassert>
#include <charconv>
#include <map>
#include <string>

#include "base/embedded.hpp"

namespace padchart::patterns {
namespace {

std::vector<std::string_view> split(std::string_view text, char at) {
    std::vector<std::string_view> parts;
    while (true) {
        const std::size_t end = text.find(at);
        parts.push_back(text.substr(0, end));
        if (end == std::string_view::npos) return parts;
        text.remove_prefix(end + 1);
    }
}

std::map<std::string, Table, std::less<>> load_all() {
    std::map<std::string, Table, std::less<>> tables;
    for (const embedded::EmbeddedFile& file : embedded::tables()) {
        const std::size_t slash = file.path.rfind('/') + 1;
        tables.emplace(file.path.substr(slash, file.path.rfind('.') - slash), Table(file.bytes));
    }
    return tables;
}

} // namespace

Table::Table(std::string_view text) {
    for (std::string_view line : split(text, '\n')) {
        if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
        if (line.empty() || line.front() == '#') continue;
        if (columns_.empty()) {
            columns_ = split(line, '\t');
            continue;
        }
        rows_.push_back(split(line, '\t'));
        assert(rows_.back().size() == columns_.size());
        rows_.back().resize(columns_.size());
    }
}

bool Table::has_column(std::string_view column) const {
    return std::find(columns_.begin(), columns_.end(), column) != columns_.end();
}

std::string_view Table::text(std::size_t row, std::string_view column) const {
    const auto at = std::find(columns_.begin(), columns_.end(), column);
    if (at == columns_.end()) return {};
    return rows_[row][static_cast<std::size_t>(at - columns_.begin())];
}

std::optional<double> Table::number(std::size_t row, std::string_view column) const {
    const std::string_view cell = text(row, column);
    double value = 0.0;
    const auto [end, fault] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    if (fault != std::errc{} || end != cell.data() + cell.size()) return std::nullopt;
    return value;
}

std::optional<std::size_t> Table::find(std::string_view column, std::string_view value) const {
    for (std::size_t row = 0; row < rows_.size(); ++row)
        if (text(row, column) == value) return row;
    return std::nullopt;
}

const Table& table(std::string_view name) {
    static const std::map<std::string, Table, std::less<>> kTables = load_all();
    const auto found = kTables.find(name);
    assert(found != kTables.end());
    return found->second;
}

} // namespace padchart::patterns
