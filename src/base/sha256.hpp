#pragma once
// SHA-256 (FIPS 180-4, section 6.2): by it a page's content policy knows its own script, and a page the chart it holds.

#include <string>
#include <string_view>

namespace padchart {

/// 32 bytes.
[[nodiscard]] std::string sha256(std::string_view bytes);
/// 64 lower-case hexadecimal digits.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

} // namespace padchart
