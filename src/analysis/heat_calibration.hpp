#pragma once
// What a thermocouple on a scrap board says about the hot-air station: the fit of the real exit temperature, and of the
// heat transfer where the time of the rise was noted as well. One number carries over to other set points, since the
// board's rise is nearly proportional to the air's. It absorbs the errors of everything else and holds for the same
// nozzle, flow and height. Several readings may be at several places, times and set points; of those that follow one
// place in time the transfer is fitted as well.

#include "analysis/heat.hpp"

namespace padchart::analysis {

struct ThermocoupleReading {
    geometry::Vec2 at;                          ///< board frame
    double celsius = 0.0;                       ///< at `after_s`
    double after_s = 60.0;                      ///< since the air came on
    std::optional<double> time_to_63_percent_s; ///< of the rise reached at `after_s`
    bool in_the_air = false;           ///< the bead hangs in the jet under the nozzle: it reads the air, not the board
    std::optional<double> set_point_c; ///< nothing: the plan's
};

struct CalibrationResult {
    HeatCalibration calibration;            ///< for HeatOptions::calibration
    std::vector<double> model_c;            ///< what the fitted model says at each reading
    std::vector<double> model_time_to_63_s; ///< 0 where none was asked
    double largest_miss_k = 0.0;
    bool h_was_fitted = false;
    std::string sentence;
};

inline constexpr double kLeastExitFactor = 0.6;
inline constexpr double kLargestExitFactor = 1.1;

/// Fits the exit factor to all readings (least squares), and with a time of rise the transfer, too. `plan` says with
/// which settings they were taken; its dwell does not matter.
/// Errors, each with the likely cause: those of heat(); no reading; a number no bench has; a place off the board; a
/// reading at or below the start; a factor outside 0.6 to 1.1; a rise far too quick or too slow; readings that
/// contradict each other.
[[nodiscard]] Result<CalibrationResult> calibrate(const document::Chart& chart, const document::HeatPlan& plan,
                                                  const std::vector<ThermocoupleReading>& readings,
                                                  const HeatOptions& options = {});

} // namespace padchart::analysis
