#include "cli/csv.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>

#include <fmt/format.h>

#include "base/plain_text.hpp"

namespace padchart::cli {
namespace {

// Spreadsheets take a cell that begins with an apostrophe for text, whatever follows (common practice, no source).
constexpr char kGuard = '\'';
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

bool is_number(std::string_view text) {
    double number = 0.0;
    if (text.size() > 1 && text.front() == '+') text.remove_prefix(1);
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), number);
    return fault == std::errc() && end == text.data() + text.size();
}

/// Also as wide characters, which some locales read alike.
bool begins_a_formula(std::string_view text) {
    static constexpr std::array<std::string_view, 11> kBeginnings{"=",  "+",      "-",      "@",      "\t",    "\r",
                                                                  "\n", "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"};
    return !is_number(text) && std::any_of(kBeginnings.begin(), kBeginnings.end(),
                                           [&](std::string_view sign) { return text.starts_with(sign); });
}

/// A text that already begins with the guard before something guarded gets another, so that it reads back.
std::string guarded(const std::string& text) {
    const bool looks_guarded = text.size() > 1 && text.front() == kGuard &&
                               (text[1] == kGuard || begins_a_formula(std::string_view(text).substr(1)));
    return begins_a_formula(text) || looks_guarded ? kGuard + text : text;
}

void take_guard_off(std::string& text) {
    if (text.size() < 2 || text.front() != kGuard) return;
    if (text[1] == kGuard || begins_a_formula(std::string_view(text).substr(1))) text.erase(0, 1);
}

// Characters that no spreadsheet and no terminal shows as they are ----------------------------------------------

constexpr std::size_t kSpelledLength = 6; ///< \u001b

std::optional<char32_t> spelled_at(std::string_view text, std::size_t i) {
    const std::string_view word = text.substr(i, kSpelledLength);
    if (word.size() < kSpelledLength || word[0] != '\\' || word[1] != 'u') return std::nullopt;
    unsigned code_point = 0;
    const auto [end, fault] = std::from_chars(word.data() + 2, word.data() + word.size(), code_point, 16);
    if (fault != std::errc() || end != word.data() + word.size()) return std::nullopt;
    return char32_t{code_point};
}

/// Characters that act on a terminal, but for line breaks and tabs, which a table shows well.
std::string spelled(const std::string& text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = std::max<std::size_t>(utf8_length(text, i), 1);
        const std::string_view character = std::string_view(text).substr(i, length);
        const bool stays = character == "\n" || character == "\t" || text.compare(i, 2, "\r\n") == 0;
        if (const char32_t c = code_point_of(character); acts_on_a_terminal(c) && !stays)
            out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
        else if (spelled_at(text, i))
            out += "\\u005c";
        else
            out += character;
        i += length;
    }
    return out;
}

/// Only what `spelled` spells: other letters behind a backslash are somebody's own.
std::string unspelled(const std::string& text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const auto code_point = spelled_at(text, i);
        if (code_point && (*code_point == U'\\' || acts_on_a_terminal(*code_point))) {
            append_utf8(out, *code_point);
            i += kSpelledLength;
        } else {
            out += text[i++];
        }
    }
    return out;
}

std::string csv_cell(const std::string& plain) {
    const std::string text = spelled(guarded(plain));
    const bool blank_end = !text.empty() && (text.front() == ' ' || text.back() == ' ');
    if (!blank_end && text.find_first_of(",;\t\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text)
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + '"';
}

} // namespace

bool separates_by_comma(std::string_view utf8) {
    return delimiter_of(utf8) == ',';
}

Result<std::vector<CsvRow>> read_csv(std::string_view utf8) {
    if (utf8.substr(0, kMark.size()) == kMark) utf8.remove_prefix(kMark.size());
    Result<std::vector<CsvRow>> rows = CsvReader(utf8, delimiter_of(utf8)).read();
    if (!rows) return rows;
    for (CsvRow& row : *rows)
        for (std::string& cell : row) {
            cell = unspelled(cell);
            take_guard_off(cell);
        }
    return rows;
}

std::string csv_line(std::span<const std::string> cells) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i)
        line += (i == 0 ? "" : ",") + csv_cell(cells[i]);
    return line + "\r\n";
}

} // namespace padchart::cli
