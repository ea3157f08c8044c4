#include "base/day.hpp"

#include <algorithm>
#include <charconv>
#include <chrono>

namespace padchart {
namespace {

/// Requires: digits only.
int number_of(std::string_view digits) {
    int value = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), value);
    return value;
}

} // namespace

bool is_day(std::string_view text) {
    constexpr std::string_view kPattern = "dddd-dd-dd";
    const auto fits = [](char c, char wanted) { return wanted == 'd' ? c >= '0' && c <= '9' : c == wanted; };
    if (!std::equal(text.begin(), text.end(), kPattern.begin(), kPattern.end(), fits)) return false;
    const auto part = [&](std::size_t at, std::size_t length) { return number_of(text.substr(at, length)); };
    return std::chrono::year_month_day{std::chrono::year{part(0, 4)},
                                       std::chrono::month{static_cast<unsigned>(part(5, 2))},
                                       std::chrono::day{static_cast<unsigned>(part(8, 2))}}
        .ok();
}

} // namespace padchart
