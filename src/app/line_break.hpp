#pragma once
// Text broken into lines at blanks only: the panels' own wrapping would also break after a point or a comma, and half a
// number at the end of a line reads as a whole one.

#include <functional>
#include <string>
#include <string_view>

namespace padchart::app {

/// Each blank at which a line would grow wider than `room` becomes a line break; breaks that are there stay. A word
/// that is wider by itself stays whole. `width_of`: of one word or blank, in the unit of `room`.
[[nodiscard]] std::string broken_at_blanks(std::string_view text, float room,
                                           const std::function<float(std::string_view)>& width_of);
/// Broken as above, with blanks before the shorter lines, so that all have one middle.
[[nodiscard]] std::string centred_lines(std::string_view text, float room,
                                        const std::function<float(std::string_view)>& width_of);

} // namespace padchart::app
