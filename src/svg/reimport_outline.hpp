#pragma once
// What a corrected trace draws differently of an area: how far, how large, which hole. For svg/reimport alone.

#include <string>
#include <string_view>
#include <vector>

#include "geometry/polygon.hpp"

namespace padchart::svg {

/// "its edge lies up to 0.35 mm off", "it is 20.00 x 12.00 mm, was 20.00 x 11.50", "the hole at x 3.00, y 4.00 mm is
/// new": nothing where all lies where it lay. `unit`: of the lengths, " mm".
[[nodiscard]] std::vector<std::string> outline_changes(const geometry::Polygon& before, const geometry::Polygon& after,
                                                       std::string_view unit);

} // namespace padchart::svg
