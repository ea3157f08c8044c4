#include "analysis/heat_station.hpp"

#include <cmath>

#include <fmt/format.h>

namespace padchart::analysis {
namespace {

using document::HeatPlan;
using document::Station;

constexpr double kSameSetting = 0.1; // a tenth: as well as a flow or a height is set by hand

void compare(std::string& text, const char* what, const char* unit, std::optional<double> stated, double plan) {
    if (!stated || std::abs(plan - *stated) <= kSameSetting * *stated) return;
    if (!text.empty()) text += "; ";
    text += fmt::format("{} {:g} {} instead of {:g} {}", what, plan, unit, *stated, unit);
}

} // namespace

HeatCalibration calibration_of(const Station& station) {
    return {station.exit_factor, station.h_factor, station.joint_band_k, station.neighbour_band_k};
}

Station station_of(const CalibrationResult& result, const HeatPlan& plan,
                   const std::vector<ThermocoupleReading>& readings) {
    Station station;
    station.nozzle_bore_mm = plan.nozzle_bore_mm;
    station.flow_l_per_min = plan.flow_l_per_min;
    station.stand_off_mm = plan.stand_off_mm;
    station.exit_factor = std::round(result.calibration.exit_factor * 1e4) / 1e4;
    station.h_factor = std::round(result.calibration.h_factor * 1e3) / 1e3;
    station.joint_band_k = std::ceil(result.calibration.joint_band);
    station.neighbour_band_k = std::ceil(result.calibration.neighbour_band);
    for (const ThermocoupleReading& reading : readings) {
        if (!station.note.empty()) station.note += "; ";
        station.note += to_text(reading, reading.set_point_c.value_or(plan.set_point_c));
    }
    return station;
}

std::string differs_from(const Station& station, const HeatPlan& plan) {
    std::string text;
    compare(text, "nozzle", "mm", station.nozzle_bore_mm, plan.nozzle_bore_mm);
    compare(text, "flow", "L/min", station.flow_l_per_min, plan.flow_l_per_min);
    compare(text, "stand-off", "mm", station.stand_off_mm, plan.stand_off_mm);
    return text;
}

const Station* find_station(const document::Chart& chart, const document::Id& id) {
    if (id.is_empty()) return nullptr;
    for (const Station& station : chart.stations)
        if (station.id == id) return &station;
    return nullptr;
}

const Station* usable_station(const document::Chart& chart, const HeatPlan& plan) {
    const Station* station = find_station(chart, plan.station);
    return station != nullptr && differs_from(*station, plan).empty() ? station : nullptr;
}

std::string to_text(const ThermocoupleReading& reading, double set_point_c) {
    std::string text =
        fmt::format("{:.0f} C after {:g} s at {:.1f}, {:.1f} {}, set to {:.0f} C", reading.celsius, reading.after_s,
                    reading.at.x, reading.at.y, reading.in_the_air ? "in the air" : "on the board", set_point_c);
    if (reading.time_to_63_percent_s) text += fmt::format(", 63 % of it in {:g} s", *reading.time_to_63_percent_s);
    return text;
}

} // namespace padchart::analysis
