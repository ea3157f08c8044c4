// Thermocouple readings, the stations they become, and what a plan makes of a station.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "analysis/heat_noaim.hpp"
#include "analysis/heat_station.hpp"
#include "document/edits.hpp"
#include "heat_plate.hpp"
#include "heat_reference.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::analysis::test;
using doctest::Approx;
using geometry::Vec2;

namespace {

HeatOptions coarse() {
    HeatOptions options;
    options.cell_mm = 1.5;
    options.cool_s = 0.0;
    return options;
}

/// What a made-up station of these factors would show under the chip, at the model's own steps.
double shown(const document::Chart& chart, const document::HeatPlan& plan, double exit_factor, double h_factor,
             double after_s) {
    HeatOptions options = coarse();
    options.calibration = HeatCalibration{exit_factor, h_factor};
    document::HeatPlan run = plan;
    run.dwell_s = after_s;
    const Result<HeatReport> report = heat(chart, run, options);
    REQUIRE(report.has_value());
    // The bead's own spot, not the joints of the chip: the same place of the field.
    return report->curves.joint_mean_c.nominal.back();
}

/// The spot of a bead is read as the spot under a nozzle without a target is: a millimetre against half of one.
document::HeatPlan spot_plan(double set_point_c) {
    document::HeatPlan plan = reference_plan(set_point_c);
    plan.target = {};
    return plan;
}

bool has(const Diagnostics& found, std::string_view code) {
    return std::any_of(found.begin(), found.end(), [&](const Diagnostic& d) { return d.code == code; });
}

double width(const Band& band) {
    return band.high - band.low;
}

document::Chart chart_with_station(double exit_factor) {
    document::Chart chart = reference_chart(3);
    document::Station station;
    station.id.text = "station-1";
    station.name = "bench 2";
    station.nozzle_bore_mm = 5;
    station.flow_l_per_min = 30;
    station.stand_off_mm = 10;
    station.exit_factor = exit_factor;
    chart.stations.add(station);
    return chart;
}

} // namespace

TEST_CASE("readings that follow one place in time tell exit and transfer") {
    const document::Chart chart = reference_chart(3);
    const document::HeatPlan plan = spot_plan(380);
    std::vector<ThermocoupleReading> readings;
    for (const double after : {5.0, 12.0, 30.0})
        readings.push_back({plan.aim, shown(chart, plan, 0.8, 1.3, after), after, std::nullopt, false, std::nullopt});
    const auto fit = calibrate(chart, plan, readings, coarse());
    REQUIRE_MESSAGE(fit.has_value(), (fit ? "" : describe(fit.error())));
    CHECK(fit->h_was_fitted);
    CHECK(fit->calibration.exit_factor == Approx(0.8).epsilon(0.03));
    CHECK(fit->calibration.h_factor == Approx(1.3).epsilon(0.1));
    CHECK(fit->largest_miss_k < 2.0);
    CHECK(fit->calibration.joint_band == 10.0);
}

TEST_CASE("readings at two set points are one station") {
    const document::Chart chart = reference_chart(3);
    std::vector<ThermocoupleReading> readings;
    for (const double set : {280.0, 380.0})
        readings.push_back({{30, 15}, shown(chart, spot_plan(set), 0.84, 1.0, 40.0), 40.0, std::nullopt, false, set});
    const auto fit = calibrate(chart, spot_plan(330), readings, coarse());
    REQUIRE(fit.has_value());
    CHECK(fit->calibration.exit_factor == Approx(0.84).epsilon(0.02));
    CHECK_FALSE(fit->h_was_fitted);
}

TEST_CASE("readings that contradict each other or the bench are refused with the likely cause") {
    const document::Chart chart = reference_chart(3);
    const auto refused = [&](std::vector<ThermocoupleReading> readings, std::string_view words) {
        const auto fit = calibrate(chart, reference_plan(380), readings, coarse());
        REQUIRE_FALSE(fit.has_value());
        CHECK_MESSAGE(fit.error().message.find(words) != std::string::npos, fit.error().message);
    };
    refused({{{30, 15}, 215, 60, {}, false, {}}, {{54, 25}, 215, 60, {}, false, {}}}, "do not go together");
    refused({{{30, 15}, 700, 60, {}, false, {}}}, "hotter than the air");
    refused({{{30, 15}, 200, 0, {}, false, {}}}, "since the air came on");
    refused({{{30, 15}, 200, 60, 70, false, {}}}, "must be shorter");
    refused({{{-3, 15}, 200, 60, {}, false, {}}}, "off the board");
    refused({{{30, 15}, 150, 2, {}, false, {}}, {{30, 15}, 155, 60, {}, false, {}}}, "started late");
}

TEST_CASE("a plan made for a station of the chart has the narrow band and says whose") {
    const document::Chart chart = chart_with_station(0.85);
    document::HeatPlan plan = reference_plan(380, 30);
    const Result<HeatReport> wide = heat(chart, plan, coarse());
    plan.station.text = "station-1";
    const Result<HeatReport> narrow = heat(chart, plan, coarse());
    REQUIRE(wide.has_value());
    REQUIRE(narrow.has_value());
    CHECK(width(wide->target.peak_mean_c) > 60.0);
    CHECK(width(narrow->target.peak_mean_c) <= 20.0 + 1e-9);
    CHECK(width(narrow->neighbours[0].peak_c) <= 40.0 + 1e-9);
    CHECK(narrow->station == "bench 2");
    CHECK(narrow->is_calibrated);
    CHECK(has(narrow->remarks, "calibrated"));
    CHECK(has(wide->remarks, "uncalibrated"));
}

TEST_CASE("a station of other settings is not used and that is said") {
    const document::Chart chart = chart_with_station(0.85);
    document::HeatPlan plan = reference_plan(380, 30);
    plan.station.text = "station-1";
    plan.nozzle_bore_mm = 8;
    CHECK(differs_from(chart.stations[0], plan) == "nozzle 8 mm instead of 5 mm");
    CHECK(usable_station(chart, plan) == nullptr);
    const Result<HeatReport> report = heat(chart, plan, coarse());
    REQUIRE(report.has_value());
    CHECK_FALSE(report->is_calibrated);
    CHECK(has(report->remarks, "station-differs"));
    plan.nozzle_bore_mm = 5.2;
    CHECK(usable_station(chart, plan) == &chart.stations[0]);
    plan.station.text = "station-9";
    const Result<HeatReport> unknown = heat(chart, plan, coarse());
    REQUIRE(unknown.has_value());
    CHECK(has(unknown->remarks, "no-station"));
}

TEST_CASE("what a fit found is what the chart keeps") {
    CalibrationResult result;
    result.calibration = {0.83214, 1.2034, 10.4, 20.0};
    const document::HeatPlan plan = reference_plan(380);
    const document::Station station = station_of(result, plan, {{{30, 15}, 201.85, 60.0, 11.0, false, std::nullopt}});
    CHECK(station.exit_factor == 0.8321);
    CHECK(station.joint_band_k == 11.0);
    CHECK(station.note == "202 C after 60 s at 30.0, 15.0 on the board, set to 380 C, 63 % of it in 11 s");
    CHECK(differs_from(station, plan).empty());
    const HeatCalibration back = calibration_of(station);
    CHECK(back.h_factor == 1.203);
    CHECK(back.neighbour_band == 20.0);
}

TEST_CASE("a calibration narrows the map as well and the map says what it can promise") {
    const document::Chart chart = chart_with_station(0.92);
    document::HeatPlan plan = reference_plan(400);
    NoAimOptions options;
    options.heat.cell_mm = 1.5;
    options.step_mm = 2.0;
    const Result<NoAimMap> wide = no_aim(chart, plan, options);
    plan.station.text = "station-1";
    const Result<NoAimMap> narrow = no_aim(chart, plan, options);
    REQUIRE(wide.has_value());
    REQUIRE(narrow.has_value());
    CHECK(geometry::area(narrow->depends) < 0.6 * geometry::area(wide->depends));
    CHECK(geometry::area(narrow->melts_surely) > geometry::area(wide->melts_surely));
    CHECK(wide->good.empty());
    CHECK(no_aim_sentence(*wide).find("Without a calibration") == 0);
    CHECK(no_aim_sentence(*narrow).find("Without a calibration") == std::string::npos);
    for (std::size_t k = 0; k < narrow->joint_c.nominal.size(); ++k)
        CHECK(narrow->joint_c.high[k] - narrow->joint_c.nominal[k] <= 10.01F);
}

TEST_CASE("half a shield and a shield that lies idle are not taken for one in place") {
    document::Chart chart = reference_chart(3);
    document::Shield foil;
    foil.id.text = foil.name = "foil";
    foil.outline = {{{32, 9}, {38, 9}, {38, 21}, {32, 21}}, {}}; // its near half
    chart.shields.add(foil);
    document::HeatPlan plan = reference_plan(400, 40);
    const auto sentence = [&] {
        const Result<HeatReport> report = heat(chart, plan, coarse());
        REQUIRE(report.has_value());
        return *std::find_if(report->sentences.begin(), report->sentences.end(),
                             [](const std::string& text) { return text.find("j2") != std::string::npos; });
    };
    CHECK(sentence().find("Put the shield \"foil\" in place") == 0);
    plan.shields = {{"foil"}};
    CHECK(sentence().find("Cover all of j2 before you start") == 0);
    CHECK(sentence().find("on the side away from the nozzle") != std::string::npos);
    foil.outline = {{{32, 9}, {46, 9}, {46, 21}, {32, 21}}, {}};
    chart.shields.replace(0, foil);
    plan.set_point_c = 480;
    CHECK(sentence().find("Shield j2") == std::string::npos);
    CHECK(sentence().find("Cover all") == std::string::npos);
}

TEST_CASE("an aim far off the board is refused and one just beside it is flagged") {
    const document::Chart chart = reference_chart(3);
    document::HeatPlan plan = reference_plan(380, 20);
    plan.aim = {30, 200};
    const Result<HeatReport> far = heat(chart, plan, coarse());
    REQUIRE_FALSE(far.has_value());
    CHECK(far.error().where == "aim");
    CHECK(far.error().message.find("170 mm off the board") != std::string::npos);
    plan.aim = {30, 33};
    const Result<HeatReport> beside = heat(chart, plan, coarse());
    REQUIRE(beside.has_value());
    CHECK(has(beside->remarks, "aim-off-board"));
}

TEST_CASE("copper in series carries heat as a composite wall does") {
    // One dimension, conductances in series: Incropera et al., chapter 3.1. Strip 20 x 1 x 0.8 mm, k 30, the left half
    // four times as good; 0.1 W from end to end.
    const geometry::Region strip = box_region(0, 0, 20, 1);
    HeatNetwork network;
    const Grid grid = grid_over(geometry::bounds(strip), 1.0);
    const std::vector<double> share = coverage(grid, strip);
    std::vector<double> spread(20, 1.0);
    std::fill(spread.begin(), spread.begin() + 10, 4.0);
    add_plate(network, grid, share, openings(grid, strip), {}, spread);
    network.power_w[0] = 0.1;
    network.below.add(19, 0.01, 25.0);
    HeatSolver solver(network);
    const std::vector<double> t = solver.steady();
    CHECK(t[19] == Approx(25.0 + 0.1 / 0.01));
    // Between the middles of the first and last cell: 9.5 mm of each.
    const double area = 0.8e-3 * 1e-3;
    CHECK(t[0] - t[19] == Approx(0.1 * (9.5e-3 / (120 * area) + 9.5e-3 / (30 * area))).epsilon(1e-9));
}

TEST_CASE("a drawn copper area cools the joint and warms what lies along it") {
    document::Chart chart = reference_chart(8);
    const Result<HeatReport> plain = heat(chart, reference_plan(380, 40), coarse());
    document::CopperArea pour;
    pour.id.text = "pour";
    pour.outline = {{{20, 5}, {60, 5}, {60, 25}, {20, 25}}, {}};
    pour.conductivity_factor = 3.0;
    chart.copper_areas.add(pour);
    const Result<HeatReport> poured = heat(chart, reference_plan(380, 40), coarse());
    REQUIRE(plain.has_value());
    REQUIRE(poured.has_value());
    CHECK(poured->target.peak_mean_c.nominal < plain->target.peak_mean_c.nominal - 5.0);
    CHECK(has(poured->remarks, "copper-areas"));
}

TEST_CASE("a body that only radiates cools by the closed form") {
    // t = C / (4 eps sigma A Ts^3) [ln|(Ts+T)/(Ts-T)| - ln|(Ts+Ti)/(Ts-Ti)| + 2 (atan(T/Ts) - atan(Ti/Ts))],
    // Incropera et al., eq. 5.18 [from memory; it solves C dT/dt = -eps sigma A (T^4 - Ts^4), checked by hand].
    HeatNetwork network;
    const double capacity = 2.0, radiance = 0.9 * kStefanBoltzmann * 1e-3;
    network.add_node(capacity);
    network.radiance_w_per_k4[0] = radiance;
    network.surroundings_c = 25.0;
    const double s = 25.0 + kCelsiusZero, start = 400.0 + kCelsiusZero;
    const auto time_at = [&](double t) {
        const auto part = [&](double x) { return std::log((x + s) / (x - s)) + 2.0 * std::atan(x / s); };
        return capacity / (4.0 * radiance * s * s * s) * (part(t) - part(start));
    };
    std::vector<double> celsius = {400.0};
    HeatSolver solver(network);
    const HeatStretch stretch[] = {{600.0, 2.0}};
    solver.run(celsius, stretch, [](double, std::span<const double>) {});
    CHECK(time_at(celsius[0] + kCelsiusZero) == Approx(600.0).epsilon(1e-3));
}

TEST_CASE("a strip hot on one half evens out as the cosine series says") {
    // Insulated ends, T = 100 on the left half: T = 50 + sum 200/(n pi) sin(n pi/2) cos(n pi x/L) exp(-alpha (n pi/L)^2
    // t), Carslaw and Jaeger, chapter III.
    const double length = 40.0;
    Plate plate(box_region(0, 0, length, 1), 0.5);
    std::vector<double> t(plate.network.size(), 0.0);
    for (std::size_t n = 0; n < t.size(); ++n)
        if (plate.grid.centre(plate.nodes.cell_of_node[n]).x < length / 2) t[n] = 100.0;
    HeatSolver solver(plate.network);
    const HeatStretch stretch[] = {{1.0, 0.02}, {12.0, 0.1}};
    solver.run(t, stretch, [](double, std::span<const double>) {});
    const double alpha = 30.0 / 2.2e6 * 1e6; // mm2/s
    const double pi = 3.14159265358979323846;
    for (const double x : {1.25, 10.25, 19.25, 30.25}) {
        double sum = 50.0;
        for (int n = 1; n < 200; ++n)
            sum += 200.0 / (n * pi) * std::sin(n * pi / 2) * std::cos(n * pi * x / length) *
                   std::exp(-alpha * std::pow(n * pi / length, 2) * 12.0);
        CHECK(std::abs(t[plate.node_at({x, 0.5})] - sum) < 0.02);
    }
}
