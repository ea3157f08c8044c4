#include "json/text_output.hpp"

#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <cstddef>

#include "base/plain_text.hpp"

namespace padchart::json {
namespace {

void append_with_letters(std::string& out, char32_t code_point) {
    constexpr std::string_view kHex = "0123456789abcdef";
    out += "\\u";
    for (int shift = 12; shift >= 0; shift -= 4)
        out += kHex[(code_point >> static_cast<unsigned>(shift)) & 0xFU];
}

void append_control(std::string& out, unsigned char c) {
    switch (c) {
    case '\n': out += "\\n"; return;
    case '\t': out += "\\t"; return;
    case '\r': out += "\\r"; return;
    case '\b': out += "\\b"; return;
    case '\f': out += "\\f"; return;
    default: break;
    }
    append_with_letters(out, c);
}

/// Appends the character at `i` and says how many bytes of `text` that was.
std::size_t append_character(std::string& out, std::string_view text, std::size_t i) {
    const auto c = static_cast<unsigned char>(text[i]);
    if (c == '"' || c == '\\') {
        out += '\\';
        out += text[i];
        return 1;
    }
    if (c < 0x20U) {
        append_control(out, c);
        return 1;
    }
    const std::size_t length = utf8_length(text, i);
    if (length == 0) {
        out += "\xEF\xBF\xBD";
        return 1;
    }
    const std::string_view character = text.substr(i, length);
    if (const char32_t code_point = code_point_of(character); acts_on_a_terminal(code_point))
        append_with_letters(out, code_point);
    else
        out += character;
    return length;
}

bool is_plain(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0x20U && byte < 0x7FU && c != '"' && c != '\\';
}

} // namespace

void append_number(std::string& out, double number) {
    assert(std::isfinite(number));
    if (number == 0.0) {
        out += '0';
        return;
    }
    const double size = std::abs(number);
    // Between these bounds people read 0.00001 and 100000 more easily than powers of ten.
    const auto format = size >= 1e-6 && size < 1e15 ? std::chars_format::fixed : std::chars_format::scientific;
    std::array<char, 40> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number, format);
    out.append(buffer.data(), end.ptr);
}

void append_quoted(std::string& out, std::string_view text) {
    out += '"';
    std::size_t i = 0;
    while (i < text.size()) {
        std::size_t end = i;
        while (end < text.size() && is_plain(text[end]))
            ++end;
        out.append(text, i, end - i);
        i = end;
        if (i < text.size()) i += append_character(out, text, i);
    }
    out += '"';
}

} // namespace padchart::json
