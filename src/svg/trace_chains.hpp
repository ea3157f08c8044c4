#pragma once
// Loops drawn as several open lines whose ends touch: for svg/trace_items alone.

#include <set>
#include <vector>

#include "svg/trace_items.hpp"

namespace padchart::svg {

/// Open lines of one role, one group and one part's name that meet end to end within `touching` (lengths of the chart)
/// become one ring of the first of them, with a finding. Answers Subpath::first of every line that went into one; a
/// line that meets no other is left to be closed by itself. `factor` takes drawing lengths to chart lengths.
[[nodiscard]] std::set<std::size_t> chain_open_lines(std::vector<TraceItem>& items, double factor, double touching,
                                                     TraceLog& log);

} // namespace padchart::svg
