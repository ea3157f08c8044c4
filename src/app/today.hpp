#pragma once
// The day it is, for records that say when something was seen.

#include <string>
#include <string_view>

namespace padchart::app {

/// ISO 8601 day by the clock of this machine, local time: "2026-11-25".
[[nodiscard]] std::string today();

/// True for what is written as an ISO 8601 day and may be one: "2031-05-01".
[[nodiscard]] bool is_day(std::string_view text);

} // namespace padchart::app
