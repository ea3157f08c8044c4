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

} // namespace padchart::app
