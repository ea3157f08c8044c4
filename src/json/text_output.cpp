#include "json/text_output.hpp"

#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <cstddef>

namespace padchart::json {
namespace {

unsigned byte_at(std::string_view text, std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
}

bool is_continuation(unsigned byte) {
    return (byte & 0xC0U) == 0x80U;
}

/// Smallest second byte that is neither an overlong form nor (with `largest_second`) a surrogate or beyond U+10FFFF.
/// Table 3-7 of the Unicode Standard, chapter 3.9.
unsigned smallest_second(unsigned first) {
    return first == 0xE0U ? 0xA0U : first == 0xF0U ? 0x90U : 0x80U;
}
unsigned largest_second(unsigned first) {
    return first == 0xEDU ? 0x9FU : first == 0xF4U ? 0x8FU : 0xBFU;
}

/// Bytes of the well-formed multi-byte character at `i`, or 0.
std::size_t multi_byte_length(std::string_view text, std::size_t i) {
    const unsigned first = byte_at(text, i);
    const std::size_t length = first >= 0xC2U && first <= 0xDFU   ? 2
                               : first >= 0xE0U && first <= 0xEFU ? 3
                               : first >= 0xF0U && first <= 0xF4U ? 4
                                                                  : 0;
    if (length == 0) return 0;
    const unsigned second = byte_at(text, i + 1);
    if (second < smallest_second(first) || second > largest_second(first)) return 0;
    for (std::size_t k = 2; k < length; ++k)
        if (!is_continuation(byte_at(text, i + k))) return 0;
    return length;
}

void append_control(std::string& out, unsigned char c) {
    constexpr std::string_view kHex = "0123456789abcdef";
    switch (c) {
    case '\n': out += "\\n"; return;
    case '\t': out += "\\t"; return;
    case '\r': out += "\\r"; return;
    case '\b': out += "\\b"; return;
    case '\f': out += "\\f"; return;
    default: break;
    }
    out += "\\u00";
    out += kHex[c >> 4U];
    out += kHex[c & 0xFU];
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
    const std::size_t length = multi_byte_length(text, i);
    if (length == 0) {
        out += "\xEF\xBF\xBD";
        return 1;
    }
    out.append(text, i, length);
    return length;
}

bool is_plain(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0x20U && byte < 0x80U && c != '"' && c != '\\';
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
