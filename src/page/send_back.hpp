#pragma once
// What a colleague can write on the page and send back: the list after rework, readings, notes. The script keeps it.

#include <string>

#include "document/chart.hpp"

namespace padchart::page {

[[nodiscard]] std::string send_back_markup(const document::Chart& chart);

} // namespace padchart::page
