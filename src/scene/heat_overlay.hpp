#pragma once
// What the heat stage draws over a chart: lines of equal temperature, where the nozzle may not go, the plan in hand.
// Everything is an estimate of the nominal case; the zones tell how far the cautious case reaches.

#include <optional>
#include <vector>

#include "analysis/heat.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::scene {

/// Temperatures worth a line, rising: round ones between the coldest and the hottest of a field, every 50 from 100 on,
/// or nearer where the field is flat, and the liquidus. A round one too near to that to be told from it gives way.
[[nodiscard]] std::vector<double> isotherm_levels(double liquidus_c, double coldest_c, double hottest_c);

/// Nominal board temperatures, one per cell of the field's grid: the hottest of the whole run (face under the air), or
/// at a time (mean of the thickness), linear between the snapshots on both sides and the nearest one beyond them.
/// Without snapshots a time is answered with the peak.
[[nodiscard]] std::vector<float> field_at(const analysis::HeatField& field, std::optional<double> time_s);

struct Canvas;

// Layers; each does nothing where its report is not given.
void add_no_aim_map(Canvas& canvas);
void add_isotherms(Canvas& canvas);
/// Nozzle of the plan in hand and of the one it is compared with, gap from the target to the nearest sensitive thing.
void add_plan_in_hand(Canvas& canvas);

} // namespace padchart::scene
