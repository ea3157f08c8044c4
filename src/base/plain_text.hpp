#pragma once
// Characters one by one, and which of them no terminal, spreadsheet or file listing should be shown as they are.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace padchart {

/// Bytes of the well-formed character that begins at `i`, or 0 (table 3-7 of the Unicode Standard, chapter 3.9).
/// Requires: i < text.size().
[[nodiscard]] std::size_t utf8_length(std::string_view text, std::size_t i);

/// Requires: `character` is one well-formed character.
[[nodiscard]] char32_t code_point_of(std::string_view character);

/// Requires: a code point of Unicode that is no surrogate.
void append_utf8(std::string& out, char32_t code_point);

/// Moves a cursor, rings, or turns the direction of writing for whatever follows: C0, DEL and C1 (ISO/IEC 6429), U+202A
/// to U+202E and U+2066 to U+2069 (Unicode Standard Annex 9).
[[nodiscard]] constexpr bool acts_on_a_terminal(char32_t code_point) {
    return code_point < 0x20U || (code_point >= 0x7FU && code_point <= 0x9FU) ||
           (code_point >= 0x202AU && code_point <= 0x202EU) || (code_point >= 0x2066U && code_point <= 0x2069U);
}

/// The text on one line for a table or a message: such characters, line breaks and tabs among them, become U+FFFD.
[[nodiscard]] std::string on_one_line(std::string_view text);

} // namespace padchart
