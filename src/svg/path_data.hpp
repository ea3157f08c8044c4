#pragma once
// Path data by SVG 1.1 section 8.3 and appendix F.6 (arcs). An error ends the path, what precedes it is kept, as the
// standard asks ("error handling", 8.3.1) and browsers do.

#include <optional>
#include <string>
#include <string_view>

#include "svg/outline.hpp"

namespace padchart::svg {

struct PathFault {
    std::size_t at = 0;  ///< characters from the start of the text
    std::string message; ///< "a number was expected"
};

/// Adds to `outline`.
[[nodiscard]] std::optional<PathFault> read_path_data(std::string_view text, Outline& outline);

/// An elliptical arc given by its ends. Takes part of the rules of appendix F.6: a radius of 0 gives a line, equal ends
/// give nothing, radii too small are scaled up.
void add_arc(Outline& outline, Vec2 from, Vec2 radii, double turn_deg, bool large, bool sweep, Vec2 to);

} // namespace padchart::svg
