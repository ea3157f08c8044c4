#pragma once
// Everything on a chart that needs attention before the heat goes on, most urgent first: what could hurt someone, what
// could go back the wrong way round, what stands too near, then gaps in the record. Silence is not "good": what was
// never looked at is counted too.

#include <vector>

#include "analysis/clearance.hpp"
#include "analysis/fit.hpp"
#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

/// The reports must be of this very chart. Each finding's target is a thing of the chart, its code stable.
[[nodiscard]] Diagnostics check(const document::Chart& chart, const ClearanceReport& clearance, const FitReport& fit);

/// A cell sits on the board, or in a holder on it. A holder whose limits are stated as those of its own plastic has
/// been emptied.
[[nodiscard]] bool holds_cell(const document::Footprint& part);

/// Where a plan's air is felt, as a radius round its aim, mm: twice the radius of the free jet at the board. A free
/// round turbulent jet widens at a half-angle of about 11.8 degrees (fluid mechanics handbooks, from memory); the wall
/// jet then runs sideways, which the factor 2 stands for (common practice, no source).
[[nodiscard]] double heat_area_radius(const document::HeatPlan& plan);

/// True when some heat plan's air is felt at the part's extent. Without any plan every part counts.
[[nodiscard]] bool in_heat_area(const document::Chart& chart, const document::Footprint& part);

} // namespace padchart::analysis
