#pragma once
// `padchart photo --over`: the chart laid over one of its photographs as it was taken.

#include "cli/command.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

[[nodiscard]] int write_chart_over_photo(const document::Chart& chart, const Arguments& arguments, Streams streams);

} // namespace padchart::cli
