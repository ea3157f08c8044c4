#include "cli/csv.hpp"

#include <algorithm>
#include <array>

namespace padchart::cli {
namespace {

constexpr std::string_view kMark = "\xEF\xBB\xBF"; // UTF-8 byte order mark

char delimiter_of(std::string_view text) {
    static constexpr std::array<char, 3> kDelimiters{',', ';', '\t'};
    std::array<std::size_t, 3> counts{};
    bool quoted = false;
    for (const char c : text) {
        if (c == '"') quoted = !quoted;
        if (!quoted && (c == '\n' || c == '\r')) break;
        for (std::size_t i = 0; i < kDelimiters.size(); ++i)
            if (!quoted && c == kDelimiters[i]) ++counts[i];
    }
    return kDelimiters[static_cast<std::size_t>(std::max_element(counts.begin(), counts.end()) - counts.begin())];
}

class CsvReader {
public:
    CsvReader(std::string_view text, char delimiter) : text_(text), delimiter_(delimiter) {}

    Result<std::vector<CsvRow>> read() {
        while (at_ < text_.size()) {
            rows_.emplace_back();
            if (const Result<void> row = read_row(); !row) return row.error();
        }
        return std::move(rows_);
    }

private:
    Result<void> read_row() {
        for (;;) {
            rows_.back().emplace_back();
            if (const Result<void> cell = read_cell(rows_.back().back()); !cell) return cell.error();
            if (at_ == text_.size()) return {};
            if (text_[at_] == delimiter_) {
                ++at_;
                continue;
            }
            if (text_.substr(at_, 2) == "\r\n") ++at_;
            ++at_;
            return {};
        }
    }

    Result<void> read_cell(std::string& cell) {
        if (at_ == text_.size() || text_[at_] != '"') {
            const std::size_t begin = at_;
            while (at_ < text_.size() && !ends_cell(text_[at_]))
                ++at_;
            cell = text_.substr(begin, at_ - begin);
            return {};
        }
        ++at_;
        for (;;) {
            if (at_ == text_.size()) return fault("a quote is opened and never closed");
            const char c = text_[at_++];
            if (c != '"') {
                cell += c;
            } else if (at_ < text_.size() && text_[at_] == '"') {
                cell += '"';
                ++at_;
            } else {
                break;
            }
        }
        if (at_ == text_.size() || ends_cell(text_[at_])) return {};
        return fault("something stands after the closing quote; a quote inside quotes is written twice");
    }

    [[nodiscard]] bool ends_cell(char c) const { return c == delimiter_ || c == '\n' || c == '\r'; }
    [[nodiscard]] Error fault(std::string message) const {
        return {std::move(message),
                "row " + std::to_string(rows_.size()) + ", column " + std::to_string(rows_.back().size())};
    }

    std::string_view text_;
    char delimiter_;
    std::size_t at_ = 0;
    std::vector<CsvRow> rows_;
};

std::string csv_cell(const std::string& text) {
    const bool blank_end = !text.empty() && (text.front() == ' ' || text.back() == ' ');
    if (!blank_end && text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text)
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + '"';
}

} // namespace

Result<std::vector<CsvRow>> read_csv(std::string_view utf8) {
    if (utf8.substr(0, kMark.size()) == kMark) utf8.remove_prefix(kMark.size());
    return CsvReader(utf8, delimiter_of(utf8)).read();
}

std::string csv_line(std::span<const std::string> cells) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i)
        line += (i == 0 ? "" : ",") + csv_cell(cells[i]);
    return line + "\r\n";
}

} // namespace padchart::cli
