#pragma once
// What everything begins with.

#include "document/chart.hpp"

namespace padchart::app {

/// A chart for a new region: empty, drawn in mm.
[[nodiscard]] document::Chart new_chart();

} // namespace padchart::app
