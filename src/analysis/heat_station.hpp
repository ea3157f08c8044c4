#pragma once
// Named settings of hot-air stations as the chart keeps them: what a calibration found, for which nozzle, flow and
// height, and whether a plan may use it.

#include "analysis/heat_calibration.hpp"

namespace padchart::analysis {

[[nodiscard]] HeatCalibration calibration_of(const document::Station& station);

/// What the chart keeps of a fit made with the settings of `plan`; without id, name, hand and date. Its note tells the
/// readings it rests on.
[[nodiscard]] document::Station station_of(const CalibrationResult& result, const document::HeatPlan& plan,
                                           const std::vector<ThermocoupleReading>& readings);

/// "nozzle 8 mm instead of 5 mm; flow 20 L/min instead of 30 L/min", or empty where the plan has the station's settings
/// within a tenth: the fit holds for those alone.
[[nodiscard]] std::string differs_from(const document::Station& station, const document::HeatPlan& plan);

/// The station of the plan where the chart has it and its settings are the plan's.
[[nodiscard]] const document::Station* usable_station(const document::Chart& chart, const document::HeatPlan& plan);

/// The one of that id, or null.
[[nodiscard]] const document::Station* find_station(const document::Chart& chart, const document::Id& id);

/// "190 C after 60 s at 20.6, 21.0 on the board, set to 350 C, 63 % of it in 11 s".
[[nodiscard]] std::string to_text(const ThermocoupleReading& reading, double set_point_c);

} // namespace padchart::analysis
