#include "base/plain_text.hpp"

namespace padchart {
namespace {

unsigned byte_at(std::string_view text, std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
}

/// Smallest second byte that is neither an overlong form nor (with `largest_second`) a surrogate or beyond U+10FFFF.
unsigned smallest_second(unsigned first) {
    return first == 0xE0U ? 0xA0U : first == 0xF0U ? 0x90U : 0x80U;
}
unsigned largest_second(unsigned first) {
    return first == 0xEDU ? 0x9FU : first == 0xF4U ? 0x8FU : 0xBFU;
}

} // namespace

std::size_t utf8_length(std::string_view text, std::size_t i) {
    const unsigned first = byte_at(text, i);
    if (first < 0x80U) return 1;
    const std::size_t length = first >= 0xC2U && first <= 0xDFU   ? 2
                               : first >= 0xE0U && first <= 0xEFU ? 3
                               : first >= 0xF0U && first <= 0xF4U ? 4
                                                                  : 0;
    if (length == 0) return 0;
    const unsigned second = byte_at(text, i + 1);
    if (second < smallest_second(first) || second > largest_second(first)) return 0;
    for (std::size_t k = 2; k < length; ++k)
        if ((byte_at(text, i + k) & 0xC0U) != 0x80U) return 0;
    return length;
}

char32_t code_point_of(std::string_view character) {
    const unsigned first = byte_at(character, 0);
    if (character.size() < 2) return first;
    char32_t out = first & (0xFFU >> (character.size() + 1));
    for (std::size_t i = 1; i < character.size(); ++i)
        out = out << 6U | (byte_at(character, i) & 0x3FU);
    return out;
}

void append_utf8(std::string& out, char32_t c) {
    const auto add = [&out](char32_t byte) { out += static_cast<char>(static_cast<unsigned char>(byte)); };
    if (c < 0x80U) return add(c);
    if (c < 0x800U) {
        add(0xC0U | c >> 6U);
    } else if (c < 0x10000U) {
        add(0xE0U | c >> 12U);
        add(0x80U | (c >> 6U & 0x3FU));
    } else {
        add(0xF0U | c >> 18U);
        add(0x80U | (c >> 12U & 0x3FU));
        add(0x80U | (c >> 6U & 0x3FU));
    }
    add(0x80U | (c & 0x3FU));
}

std::string on_one_line(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = utf8_length(text, i);
        const std::string_view character = text.substr(i, length);
        if (length == 0 || acts_on_a_terminal(code_point_of(character)))
            out += "\xEF\xBF\xBD";
        else
            out += character;
        i += length == 0 ? 1 : length;
    }
    return out;
}

} // namespace padchart
