#pragma once
// What is told while a tool waits for a click; it goes with the tool.

#include <string_view>

namespace padchart::app {

inline constexpr std::string_view kClickFirst = "Click the place first, then type. Esc leaves.";
inline constexpr std::string_view kClickPad =
    "Click the pad whose land is lifted, on the board or under Pads; by keys: Next pad, then Enter. Esc leaves.";

[[nodiscard]] inline bool asks_for_click(std::string_view text) {
    return text == kClickFirst || text == kClickPad;
}

} // namespace padchart::app
