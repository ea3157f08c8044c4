#pragma once
// Bodies, pads and marks of a trace put together as parts.

#include "svg/trace_items.hpp"

namespace padchart::svg {

/// Adds the parts to the chart of `log.result`.
void add_parts(const std::vector<TraceItem>& items, double tolerance_mm, TraceLog& log);

} // namespace padchart::svg
