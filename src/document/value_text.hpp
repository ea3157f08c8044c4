#pragma once
// Values of parts as people type them, written as the trade prints them.

#include <string>
#include <string_view>

namespace padchart::document {

/// "10 uF" is "10 µF" and "4u7" is "4µ7": a u behind a digit that stands for micro. The rest stays as typed.
[[nodiscard]] std::string value_as_printed(std::string_view typed);

} // namespace padchart::document
