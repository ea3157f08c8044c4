#pragma once
// Thermocouple readings on their way to a station's calibration: those taken down, the one being written, and what the
// fit is kept under.

#include <optional>
#include <string>
#include <vector>

#include "analysis/heat_calibration.hpp"
#include "app/session.hpp"

namespace padchart::app {

struct HeatReadings {
    std::vector<analysis::ThermocoupleReading> taken; ///< each with its own set point
    std::optional<geometry::Vec2> at;                 ///< of the next one; nothing: under the nozzle
    std::optional<double> celsius;
    std::optional<double> after_s = 60.0;
    std::optional<double> rise_s; ///< to 63 % of it
    bool in_the_air = false;
    std::string name; ///< the station's
};

/// The next reading as it is written, or nothing while its temperature or time is missing.
[[nodiscard]] std::optional<analysis::ThermocoupleReading> next_reading(const HeatReadings& readings,
                                                                        const document::HeatPlan& plan);
/// Takes the next reading down; what changes from one to the next is asked anew. False, with a notice, where something
/// is missing.
bool take_reading(Session& session);
/// A click on the board says where the bead was taped.
void place_bead(Session& session);
void fit_readings(Session& session);
/// The fit as a station of that name in the chart, one step of history, and the plan in hand uses it. A station of that
/// name is replaced. False, with a notice, where there is no fit or no name.
bool keep_station(Session& session);
/// The plan in hand uses the station, or none.
void use_station(Session& session, const document::Id& station);

} // namespace padchart::app
