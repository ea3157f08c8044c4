#pragma once
// Numbers and texts as JSON spells them, the same on every machine and under every locale.

#include <string>
#include <string_view>

namespace padchart::json {

/// The shortest digits that read back as the same number: 0.1, 35, 1e-09. Minus zero is 0.
/// Requires: finite.
void append_number(std::string& out, double number);

/// In quotes. What JSON demands is escaped, and what acts on a terminal (base/plain_text.hpp), which RFC 8259 reads
/// back alike. Bytes that are not UTF-8 become U+FFFD.
void append_quoted(std::string& out, std::string_view text);

} // namespace padchart::json
