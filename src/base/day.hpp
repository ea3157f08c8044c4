#pragma once
// A day as charts write it: ISO 8601, calendar date, extended format.

#include <string_view>

namespace padchart {

/// True for a day that the calendar has, written like "2031-05-01".
[[nodiscard]] bool is_day(std::string_view text);

} // namespace padchart
