#include "analysis/heat_jet.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace padchart::analysis {
namespace {

constexpr double kKelvin = 273.15;
constexpr double kFlowReference_c = 25.0;
constexpr double kCoreLength = 5.0;   // bores until the air in the middle has mixed with the room's
constexpr double kTableSteps = 100.0; // per bore: interpolation error below 1e-4 of the largest value
constexpr int kCirclePoints = 48;

double clamped_stand_off(double ratio) {
    return std::clamp(ratio, kLeastStandOffRatio, kLargestStandOffRatio);
}

double local_outside(double x, double c) {
    return (x * x + 2.0 * c * x - 1.1 * c) / (2.0 * x * (x + c) * (x + c));
}

JetSpot still_spot(const JetFlow& flow, const JetSettings& settings, const JetShape& shape, double radius_mm) {
    const double x = radius_mm / settings.bore_mm;
    const double ratio = settings.stand_off_mm / settings.bore_mm;
    const double nusselt = martin_local_nusselt(x, ratio, flow.reynolds, flow.prandtl);
    JetSpot spot;
    spot.h = shape.h_factor * nusselt * flow.air_conductivity / (settings.bore_mm * 1e-3);
    const double offered =
        shape.entrained_c + effectiveness(x, ratio, shape.spread) * (flow.exit_c - shape.entrained_c);
    spot.h_times_t = spot.h * offered;
    spot.board_h = spot.h / (1.0 + spot.h * shape.thickness_resistance);
    spot.board_h_times_t = spot.board_h * offered;
    return spot;
}

JetSpot scaled(const JetSpot& a, double k) {
    return {a.h * k, a.h_times_t * k, a.board_h * k, a.board_h_times_t * k};
}

JetSpot sum(const JetSpot& a, const JetSpot& b) {
    return {a.h + b.h, a.h_times_t + b.h_times_t, a.board_h + b.board_h, a.board_h_times_t + b.board_h_times_t};
}

/// Mean over the nozzle's places on its circle; a turn is short against the board's own time.
JetSpot circled_spot(const JetFlow& flow, const JetSettings& settings, const JetShape& shape, double radius_mm) {
    JetSpot total;
    for (int i = 0; i < kCirclePoints; ++i) {
        const double turn = 2.0 * std::numbers::pi * (i + 0.5) / kCirclePoints;
        const double away =
            std::hypot(radius_mm - shape.circle_radius_mm * std::cos(turn), shape.circle_radius_mm * std::sin(turn));
        total = sum(total, still_spot(flow, settings, shape, away));
    }
    return scaled(total, 1.0 / kCirclePoints);
}

} // namespace

Air air_at(double celsius) {
    const double t = celsius + kKelvin;
    Air air;
    air.density = 101325.0 / (287.05 * t);
    air.viscosity = 1.458e-6 * std::pow(t, 1.5) / (t + 110.4);
    air.conductivity = 2.64638e-3 * std::pow(t, 1.5) / (t + 245.4 * std::pow(10.0, -12.0 / t));
    air.specific_heat = 1005.44 + 0.05614 * celsius + 2.4837e-4 * celsius * celsius;
    return air;
}

JetFlow jet_flow(const JetSettings& settings) {
    assert(settings.flow_l_per_min > 0.0 && settings.bore_mm > 0.0);
    JetFlow flow;
    flow.mass_flow_kg_per_s = settings.flow_l_per_min / 60000.0 * air_at(kFlowReference_c).density;
    flow.exit_c = settings.room_c + settings.exit_factor * (settings.set_point_c - settings.room_c);
    const Air air = air_at(flow.exit_c);
    const double bore = settings.bore_mm * 1e-3;
    flow.velocity_m_per_s = flow.mass_flow_kg_per_s / (air.density * std::numbers::pi * bore * bore / 4.0);
    flow.reynolds = 4.0 * flow.mass_flow_kg_per_s / (std::numbers::pi * bore * air.viscosity);
    flow.prandtl = air.prandtl();
    flow.air_conductivity = air.conductivity;
    const double mean_heat = air_at((flow.exit_c + settings.room_c) / 2.0).specific_heat;
    flow.power_w = flow.mass_flow_kg_per_s * mean_heat * (flow.exit_c - settings.room_c);
    return flow;
}

double martin_f(double reynolds) {
    return 2.0 * std::sqrt(reynolds * (1.0 + 0.005 * std::pow(reynolds, 0.55)));
}

double martin_average(double radius_ratio, double stand_off_ratio) {
    assert(radius_ratio >= kLeastRadiusRatio);
    const double c = 0.1 * (clamped_stand_off(stand_off_ratio) - 6.0);
    const double x = 1.0 / radius_ratio;
    return x * (1.0 - 1.1 * x) / (1.0 + c * x);
}

double martin_local(double radius_ratio, double stand_off_ratio) {
    const double c = 0.1 * (clamped_stand_off(stand_off_ratio) - 6.0);
    if (radius_ratio >= kLeastRadiusRatio) return local_outside(radius_ratio, c);
    const double rim = local_outside(kLeastRadiusRatio, c);
    // (1 - s)^2 has the mean 1/3 over the unit disc, s being the squared radius: this height gives Martin's mean.
    const double axis = rim + 3.0 * (martin_average(kLeastRadiusRatio, stand_off_ratio) - rim);
    const double s = radius_ratio * radius_ratio / (kLeastRadiusRatio * kLeastRadiusRatio);
    return rim + (axis - rim) * (1.0 - s) * (1.0 - s);
}

double martin_average_nusselt(double radius_ratio, double stand_off_ratio, double reynolds, double prandtl) {
    return martin_average(radius_ratio, stand_off_ratio) * martin_f(reynolds) * std::pow(prandtl, 0.42);
}

double martin_local_nusselt(double radius_ratio, double stand_off_ratio, double reynolds, double prandtl) {
    return martin_local(radius_ratio, stand_off_ratio) * martin_f(reynolds) * std::pow(prandtl, 0.42);
}

double effectiveness(double radius_ratio, double stand_off_ratio, double spread) {
    const double axis = std::min(1.0, kCoreLength / stand_off_ratio);
    return axis / std::hypot(1.0, radius_ratio / spread);
}

JetField::JetField(const JetSettings& settings, const JetShape& shape, double reach_mm)
    : flow_(jet_flow(settings)), bore_mm_(settings.bore_mm), per_step_(kTableSteps / settings.bore_mm) {
    const auto count = static_cast<std::size_t>(std::ceil(reach_mm * per_step_)) + 2;
    table_.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        const double radius = static_cast<double>(i) / per_step_;
        table_.push_back(shape.circle_radius_mm > 0.0 ? circled_spot(flow_, settings, shape, radius)
                                                      : still_spot(flow_, settings, shape, radius));
    }
    last_ = static_cast<double>(count - 2) + 0.999999;
}

} // namespace padchart::analysis
