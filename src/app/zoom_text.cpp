#include "app/zoom_text.hpp"

#include <fmt/format.h>

namespace padchart::app {

std::string zoom_text(double px_per_mm, bool has_scale) {
    const char* unit = has_scale ? "mm" : "unit";
    const char* units = has_scale ? "mm" : "units";
    // In whole px where there are enough of them, and never 0 of them.
    if (px_per_mm >= 10.0) return fmt::format("{:.0f} px = 1 {}", px_per_mm, unit);
    if (px_per_mm >= 1.0) return fmt::format("{:.1f} px = 1 {}", px_per_mm, unit);
    return fmt::format("1 px = {:.1f} {}", 1.0 / px_per_mm, units);
}

} // namespace padchart::app
