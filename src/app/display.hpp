#pragma once
// Is there a screen? No other header comes near this one: X11 makes common words into macros.

#include <optional>
#include <string>

namespace padchart::app {

/// Nothing where a display answers; else why not. Asked before any graphics call, which would end the program.
[[nodiscard]] std::optional<std::string> why_no_display();

} // namespace padchart::app
