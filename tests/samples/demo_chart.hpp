#pragma once
// The demo's finished chart, made from its trace by what a technician would say of each part. Invented scenario: river
// logger, revision C, power corner. Nothing here is a fact about a real board.

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::samples {

/// The trace as imported, with names, classes, marks, limits, states, a heat plan, notes and readings added.
/// The geometry is the import's own. Requires: `traced` is the import of demo/power-corner.svg.
[[nodiscard]] Result<document::Chart> demo_chart(document::Chart traced);

} // namespace padchart::samples
