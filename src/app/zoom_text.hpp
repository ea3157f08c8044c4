#pragma once
// How large the board is on the screen, in words.

#include <string>

namespace padchart::app {

/// "25 px = 1 mm"; from far away the other way round: "1 px = 3.2 mm". "unit" where the chart has no scale.
/// Requires: px_per_mm > 0.
[[nodiscard]] std::string zoom_text(double px_per_mm, bool has_scale);

} // namespace padchart::app
