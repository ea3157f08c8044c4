#pragma once
// Bytes as letters that no mail program alters: RFC 4648, section 4.

#include <optional>
#include <string>
#include <string_view>

namespace padchart {

/// With its padding. `line_length` above 0: a line break after so many letters (76 is what mail allows, RFC 2045).
[[nodiscard]] std::string to_base64(std::string_view bytes, std::size_t line_length = 0);

/// Blanks and line breaks are passed over. Nothing where another character stands, or where the end is missing.
[[nodiscard]] std::optional<std::string> from_base64(std::string_view text);

} // namespace padchart
