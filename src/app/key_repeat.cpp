#include "app/key_repeat.hpp"

#include <algorithm>
#include <array>

namespace padchart::app {

bool may_repeat(std::string_view id) {
    constexpr std::array<std::string_view, 12> kBeginnings = {"left",        "right",     "up",        "down",
                                                              "turn-",       "aim-",      "zoom-",     "part-after",
                                                              "part-before", "next-step", "last-step", "heat-later"};
    constexpr std::array<std::string_view, 3> kWhole = {"undo", "redo", "heat-earlier"};
    const bool begins = std::any_of(kBeginnings.begin(), kBeginnings.end(),
                                    [&](std::string_view beginning) { return id.starts_with(beginning); });
    return begins || std::find(kWhole.begin(), kWhole.end(), id) != kWhole.end();
}

} // namespace padchart::app
