#include "app/heat_readings.hpp"

#include <cmath>

#include <fmt/format.h>

#include "analysis/heat_station.hpp"
#include "app/heat_edits.hpp"
#include "app/today.hpp"
#include "app/tools/spot_tool.hpp"
#include "app/trace_log.hpp"
#include "document/edits.hpp"

namespace padchart::app {

using analysis::ThermocoupleReading;

std::optional<ThermocoupleReading> next_reading(const HeatReadings& readings, const document::HeatPlan& plan) {
    if (!readings.celsius || !readings.after_s) return std::nullopt;
    ThermocoupleReading reading;
    reading.at = readings.at.value_or(plan.aim);
    reading.celsius = *readings.celsius;
    reading.after_s = *readings.after_s;
    reading.time_to_63_percent_s = readings.in_the_air ? std::nullopt : readings.rise_s;
    reading.in_the_air = readings.in_the_air;
    reading.set_point_c = plan.set_point_c;
    return reading;
}

bool take_reading(Session& s) {
    if (!s.heat.has_plan()) return false;
    HeatReadings& readings = s.desks.get<HeatReadings>();
    const auto reading = next_reading(readings, s.heat.plan());
    if (!reading) {
        s.editor.tell(Severity::Warning, "A reading needs its temperature and the seconds since the air came on.");
        return false;
    }
    readings.taken.push_back(*reading);
    s.heat.forget_calibration(); // it spoke of fewer readings
    readings.celsius.reset();
    readings.rise_s.reset();
    trace("heat-reading", analysis::to_text(*reading, s.heat.plan().set_point_c));
    return true;
}

void place_bead(Session& s) {
    s.use_tool(make_spot_tool("Click where the bead was taped", [&s](geometry::Vec2 at) {
        at = {std::round(at.x * 100.0) / 100.0, std::round(at.y * 100.0) / 100.0}; // as a hand would write it
        s.desks.get<HeatReadings>().at = at;
        trace("heat-bead", fmt::format("{:.2f} {:.2f}", at.x, at.y));
    }));
}

void fit_readings(Session& s) {
    const HeatReadings& readings = s.desks.get<HeatReadings>();
    if (!readings.taken.empty()) s.heat.ask_calibration(s.editor.snapshot(), readings.taken);
}

bool keep_station(Session& s) {
    const HeatReadings& readings = s.desks.get<HeatReadings>();
    const CalibrationAnswer* fit = s.heat.calibration_answer();
    if (fit == nullptr || !fit->report) {
        s.editor.tell(Severity::Warning, "There is no fit to keep: take readings down and fit them first.");
        return false;
    }
    if (readings.name.empty()) {
        s.editor.tell(Severity::Warning, "Give the station a name first, such as \"bench 2, 5 mm\".");
        return false;
    }
    const document::Chart& chart = s.editor.chart();
    document::Station station = analysis::station_of(*fit->report, fit->question.plan, readings.taken);
    station.name = readings.name;
    station.date = today();
    station.by = chart.title.author;
    station.id = document::free_id(chart, "station", readings.name);
    for (const document::Station& known : chart.stations)
        if (known.name == readings.name) station.id = known.id;
    const document::Id id = station.id;
    if (!s.editor.commit(document::put(chart, std::move(station)), "Keep the station \"" + readings.name + "\""))
        return false;
    use_station(s, id);
    return true;
}

void use_station(Session& s, const document::Id& station) {
    change_plan(s, [&](document::HeatPlan& plan) { plan.station = station; });
}

} // namespace padchart::app
