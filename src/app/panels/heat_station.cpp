// What thermocouple readings say of the hot-air station, and which station a plan is made for.

#include <fmt/format.h>

#include "analysis/heat_station.hpp"
#include "app/heat_readings.hpp"
#include "app/panels/heat_parts.hpp"
#include "app/panels/heat_widgets.hpp"
#include "document/edits.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using analysis::ThermocoupleReading;

std::string summary_of(const Session& s) {
    if (s.heat.is_calibration_busy()) return "fitting ...";
    const document::Station* station = analysis::find_station(s.editor.chart(), s.heat.plan().station);
    if (station == nullptr) return "not calibrated";
    return analysis::differs_from(*station, s.heat.plan()).empty() ? station->name : station->name + ": other settings";
}

void station_choice(Ui& ui, Session& s) {
    const document::Chart chart = s.editor.chart(); // choosing may replace it
    std::vector<std::string> words = {"none: the wide band"};
    std::size_t chosen = 0;
    std::vector<document::Id> ids = {document::Id{}};
    for (const document::Station& station : chart.stations) {
        if (station.id == s.heat.plan().station) chosen = words.size();
        const bool fits = analysis::differs_from(station, s.heat.plan()).empty();
        words.push_back(station.name + (fits ? "" : " (other settings)"));
        ids.push_back(station.id);
    }
    choice_field(ui, "Station", words, chosen, [&](std::size_t i) { use_station(s, ids[i]); });
    const document::Station* station = analysis::find_station(chart, s.heat.plan().station);
    if (station == nullptr) return;
    const std::string other = analysis::differs_from(*station, s.heat.plan());
    if (!other.empty())
        muted(ui, "Not used: " + other + ".");
    else
        muted(ui, fmt::format("Air leaves at {:.0f} % of the excess over the room; joints within {:.0f} °C either way, "
                              "neighbours within {:.0f}.{}",
                              100.0 * station->exit_factor, station->joint_band_k, station->neighbour_band_k,
                              station->date.empty() ? "" : " Measured " + station->date + "."));
    if (button(ui, "Take the station off the chart", ButtonKind::Plain, -1)) {
        const document::Id id = station->id;
        if (s.editor.commit(document::remove(s.editor.chart(), std::array{id}), "Take off the station"))
            use_station(s, {});
    }
}

void readings_taken(Ui& ui, Session& s, HeatReadings& readings) {
    std::optional<std::size_t> dropped;
    for (std::size_t k = 0; k < readings.taken.size(); ++k) {
        const ThermocoupleReading& reading = readings.taken[k];
        ImGui::PushID(static_cast<int>(k));
        wrapped(ui, scene::with_degrees(
                        fmt::format("{}. {}", k + 1, analysis::to_text(reading, reading.set_point_c.value_or(0)))));
        if (button(ui, "Strike out", ButtonKind::Plain, ui.px(90), true, ui.px(24))) dropped = k;
        ImGui::PopID();
    }
    if (!dropped) return;
    readings.taken.erase(readings.taken.begin() + static_cast<std::ptrdiff_t>(*dropped));
    s.heat.forget_calibration(); // it spoke of other readings
}

void reading_fields(Ui& ui, Session& s, HeatReadings& readings) {
    const auto say = [&s](std::string why) { s.editor.tell(Severity::Warning, std::move(why)); };
    const std::vector<std::string> places = {"taped to the board", "in the air under the nozzle"};
    choice_field(ui, "The bead is", places, readings.in_the_air ? 1 : 0,
                 [&](std::size_t i) { readings.in_the_air = i == 1; });
    if (!readings.in_the_air) {
        const geometry::Vec2 at = readings.at.value_or(s.heat.plan().aim);
        number_field(
            ui, "Bead at x", at.x, "mm",
            [&readings, at](auto x) {
                readings.at = {x.value_or(at.x), at.y};
            },
            say);
        number_field(
            ui, "Bead at y", at.y, "mm",
            [&readings, at](auto y) {
                readings.at = {at.x, y.value_or(at.y)};
            },
            say);
        if (button(ui, "Show the place by a click", ButtonKind::Plain, -1)) place_bead(s);
    }
    number_field(
        ui, "It read", readings.celsius, "°C", [&readings](auto c) { readings.celsius = c; }, say);
    number_field(
        ui, "After", readings.after_s, "s", [&readings](auto t) { readings.after_s = t; }, say);
    if (!readings.in_the_air)
        number_field(
            ui, "63 % of the rise in", readings.rise_s, "s", [&readings](auto t) { readings.rise_s = t; }, say);
    const bool ready = next_reading(readings, s.heat.plan()).has_value();
    if (button(ui, "Take the reading down", ButtonKind::Outlined, -1, ready, ui.px(30))) take_reading(s);
}

void fit_and_keep(Ui& ui, Session& s, HeatReadings& readings) {
    const bool can_fit = !readings.taken.empty() && !s.heat.is_calibration_busy();
    if (button(ui, "Fit the readings", ButtonKind::Outlined, -1, can_fit, ui.px(30))) fit_readings(s);
    const CalibrationAnswer* fit = s.heat.calibration_answer();
    if (fit == nullptr) return;
    if (!fit->report)
        return verdict(ui, Tone::Danger, "These readings do not fit.",
                       scene::with_degrees(fit->report.error().message));
    verdict(ui, Tone::Fine, "The readings fit.", scene::with_degrees(fit->report->sentence));
    text_field(
        ui, "Keep it as", readings.name, [&readings](const std::string& text) { readings.name = text; },
        "bench 2, 5 mm");
    if (button(ui, "Keep the station in the chart", ButtonKind::Filled, -1, !readings.name.empty(), ui.px(30)))
        keep_station(s);
}

} // namespace

void heat_calibration_section(Ui& ui, Session& s) {
    if (!section(ui, "Thermocouple and station", summary_of(s), s.heat_view.calibration)) return;
    HeatReadings& readings = s.desks.get<HeatReadings>();
    station_choice(ui, s);
    title(ui, readings.taken.empty() ? "Readings" : fmt::format("Readings: {}", readings.taken.size()));
    muted(ui, "Tape a bead to a pad of a scrap board of this kind, run this plan, and note what it read. More places, "
              "times or set points make the fit surer.");
    readings_taken(ui, s, readings);
    reading_fields(ui, s, readings);
    fit_and_keep(ui, s, readings);
}

} // namespace padchart::app
