#include "app/today.hpp"

#include <ctime>

#include <fmt/format.h>

namespace padchart::app {

std::string today() {
    const std::time_t now = std::time(nullptr);
    std::tm day{};
    if (localtime_r(&now, &day) == nullptr) return {};
    return fmt::format("{:04}-{:02}-{:02}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday);
}

bool is_day(std::string_view text) {
    constexpr std::string_view kPattern = "dddd-dd-dd";
    if (text.size() != kPattern.size()) return false;
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    for (std::size_t i = 0; i < text.size(); ++i)
        if (kPattern[i] == 'd' ? !digit(text[i]) : text[i] != '-') return false;
    const auto two = [&](std::size_t i) { return (text[i] - '0') * 10 + (text[i + 1] - '0'); };
    return two(5) >= 1 && two(5) <= 12 && two(8) >= 1 && two(8) <= 31;
}

} // namespace padchart::app
