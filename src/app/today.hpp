#pragma once
// The day it is, for records that say when something was seen.

#include <string>

namespace padchart::app {

/// ISO 8601 day by the clock of this machine, local time: "2026-11-25".
[[nodiscard]] std::string today();

} // namespace padchart::app
