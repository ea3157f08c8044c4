#pragma once
// Words and numbers as people read them.

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include <fmt/format.h>

namespace padchart::app {

/// "not-checked" as people read it: "not checked".
[[nodiscard]] inline std::string in_speech(std::string_view word) {
    std::string text(word);
    std::replace(text.begin(), text.end(), '-', ' ');
    return text;
}

/// To a thousandth and without an exponent: "1000000", "0.42", "0" of what is less than half of that.
[[nodiscard]] inline std::string plain_number(double value) {
    std::string text = fmt::format("{:.3f}", value);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return text == "-0" ? "0" : text;
}

} // namespace padchart::app
