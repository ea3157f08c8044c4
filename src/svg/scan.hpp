#pragma once
// The small pieces SVG attribute texts are made of: blanks, commas, numbers, flags.
// Numbers follow the SVG 1.1 grammar (section 8.3.9): "5." is not one, ".5" and "+.5e-1" are, "1em" is 1 and a unit.
// Single precision bounds what a browser reads, so a number beyond it is an error here too.

#include <string>
#include <string_view>

namespace padchart::svg {

/// A place in a text. `at` moves forward as things are read.
struct Scanner {
    const char* at = nullptr;
    const char* end = nullptr;

    Scanner() = default;
    explicit Scanner(std::string_view text) : at(text.data()), end(text.data() + text.size()) {}

    [[nodiscard]] bool done() const { return at == end; }
    [[nodiscard]] char peek() const { return at == end ? '\0' : *at; }
    [[nodiscard]] std::string_view rest() const { return {at, static_cast<std::string_view::size_type>(end - at)}; }
};

[[nodiscard]] constexpr bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}
[[nodiscard]] constexpr bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
[[nodiscard]] constexpr bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
[[nodiscard]] constexpr char to_lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

// Inline what is done for every number of a drawing.

inline void skip_blanks(Scanner& scanner) {
    while (scanner.at != scanner.end && is_blank(*scanner.at))
        ++scanner.at;
}

/// Blanks, at most one comma, blanks. True when there was a comma.
inline bool skip_separator(Scanner& scanner) {
    skip_blanks(scanner);
    if (scanner.peek() != ',') return false;
    ++scanner.at;
    skip_blanks(scanner);
    return true;
}

/// Reads a number at the very place of the scanner. On failure the scanner stays and `value` too.
[[nodiscard]] bool read_number(Scanner& scanner, double& value);
/// A single 0 or 1.
[[nodiscard]] bool read_flag(Scanner& scanner, bool& value);

/// As XML has it for the value of an attribute (1.0, 3.3.3): every blank is a space.
[[nodiscard]] inline std::string in_one_line(std::string_view text) {
    std::string line(text);
    for (char& c : line)
        if (is_blank(c)) c = ' ';
    return line;
}

[[nodiscard]] inline std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_blank(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && is_blank(text.back()))
        text.remove_suffix(1);
    return text;
}

/// Where `is_end` first says so, asked of each character from `from` on that is neither a quote nor inside quotes (a
/// backslash there guards the next character); the length of the text where it never does.
template <class IsEnd>
[[nodiscard]] std::size_t find_outside_quotes(std::string_view text, std::size_t from, IsEnd is_end) {
    char quote = '\0';
    for (std::size_t i = from; i < text.size(); ++i) {
        const char c = text[i];
        if (quote != '\0') {
            if (c == '\\')
                ++i;
            else if (c == quote)
                quote = '\0';
        } else if (c == '"' || c == '\'') {
            quote = c;
        } else if (is_end(c)) {
            return i;
        }
    }
    return text.size();
}

/// ASCII only, as CSS counts it.
[[nodiscard]] inline bool equal_ignoring_case(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
        if (to_lower(a[i]) != to_lower(b[i])) return false;
    return true;
}

} // namespace padchart::svg
