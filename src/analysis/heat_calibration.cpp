#include "analysis/heat_calibration.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "analysis/heat_run.hpp"

namespace padchart::analysis {
namespace {

constexpr double kBead_mm = 0.5; // radius of the spot that stands for the bead and its pad
constexpr int kRounds = 6;
constexpr double kTimeMatters = 0.2; // relative: a smaller difference in time is within its reading
constexpr double kLeastH = 0.4;
constexpr double kLargestH = 2.5;
constexpr double kOneReadingBand_k = 10.0; // common practice
constexpr double kNeighbourBand_k = 20.0;

struct ModelReading {
    std::vector<double> rise_k; ///< over the start
    std::vector<double> start_c;
    std::vector<double> time_to_63_s;
};

Result<ModelReading> predict(const document::Chart& chart, const document::HeatPlan& plan,
                             const std::vector<ThermocoupleReading>& readings, const HeatOptions& options,
                             double exit_factor, double h_factor) {
    HeatOptions own = options;
    own.cool_s = 0.0;
    own.snapshots_s.clear();
    own.isotherms_c.clear();
    own.calibration = HeatCalibration{exit_factor, h_factor};
    document::HeatPlan run_plan = plan;
    run_plan.dwell_s = 1.0;
    for (const ThermocoupleReading& reading : readings)
        run_plan.dwell_s = std::max(run_plan.dwell_s, reading.after_s);
    Result<HeatSetup> setup = heat_setup(chart, run_plan, own);
    if (!setup) return setup.error();
    setup->joints.clear();
    for (const ThermocoupleReading& reading : readings) {
        const geometry::Ring spot =
            geometry::transformed(geometry::circle(kBead_mm, 0.01), geometry::Affine::translation(reading.at));
        setup->joints.push_back({"", reading.at, setup->layout.board_probe(spot)});
    }
    const CaseRun run = run_case(*setup, setup->cases.nominal);
    ModelReading model;
    for (std::size_t k = 0; k < readings.size(); ++k) {
        const Trace& trace = run.joint_mean[k];
        const auto end = std::lower_bound(run.time_s.begin(), run.time_s.end(), readings[k].after_s - 1e-9);
        const auto at = static_cast<std::size_t>(std::min(end, run.time_s.end() - 1) - run.time_s.begin());
        const double rise = trace[at] - trace.front();
        model.start_c.push_back(trace.front());
        model.rise_k.push_back(rise);
        model.time_to_63_s.push_back(
            first_time_at(run.time_s, trace, trace.front() + 0.632 * rise).value_or(readings[k].after_s));
    }
    return model;
}

Error implausible(double factor) {
    const bool is_low = factor < kLeastExitFactor;
    return {
        fmt::format(
            "The reading asks for air at {:.2f} of the set point's excess; from {:.1f} to {:.1f} is plausible. {}",
            factor, kLeastExitFactor, kLargestExitFactor,
            is_low ? "Likely the bead does not touch the pad, the flow or the nozzle's height differ from the plan, or "
                     "the board carries more copper."
                   : "Likely the bead stands in the air instead of on the pad (say so with the reading), the nozzle is "
                     "nearer than the plan says, or the board carries less copper."),
        "readings"};
}

/// A bead in the jet reads the exit temperature at once.
std::optional<double> factor_from_air(const std::vector<ThermocoupleReading>& readings, const document::HeatPlan& plan,
                                      double room_c) {
    double sum = 0.0;
    int count = 0;
    const double core = std::min(1.0, 5.0 * plan.nozzle_bore_mm / plan.stand_off_mm);
    for (const ThermocoupleReading& reading : readings)
        if (reading.in_the_air) {
            sum += (reading.celsius - room_c) / (core * (plan.set_point_c - room_c));
            ++count;
        }
    return count > 0 ? std::optional<double>(sum / count) : std::nullopt;
}

bool is_plausible(double factor) {
    return factor >= kLeastExitFactor && factor <= kLargestExitFactor;
}

} // namespace

Result<CalibrationResult> calibrate(const document::Chart& chart, const document::HeatPlan& plan,
                                    const std::vector<ThermocoupleReading>& readings, const HeatOptions& options) {
    if (readings.empty()) return Error{"There is no reading to fit to.", "readings"};
    CalibrationResult result;
    const auto from_air = factor_from_air(readings, plan, options.room_c);
    std::vector<ThermocoupleReading> on_board;
    std::copy_if(readings.begin(), readings.end(), std::back_inserter(on_board),
                 [](const ThermocoupleReading& reading) { return !reading.in_the_air; });
    double factor = from_air.value_or(0.9);
    double h = 1.0;
    if (from_air && !is_plausible(factor)) return implausible(factor);
    for (int round = 0; round < kRounds && !on_board.empty(); ++round) {
        const Result<ModelReading> model = predict(chart, plan, on_board, options, factor, h);
        if (!model) return model.error();
        double up = 0.0, down = 0.0, times = 0.0;
        int timed = 0;
        for (std::size_t k = 0; k < on_board.size(); ++k) {
            const double rise = on_board[k].celsius - model->start_c[k];
            if (rise <= 0.0)
                return Error{fmt::format("A reading of {:.0f} C is not above the start of {:.0f} C.",
                                         on_board[k].celsius, model->start_c[k]),
                             "readings"};
            up += rise * model->rise_k[k];
            down += model->rise_k[k] * model->rise_k[k];
            if (!on_board[k].time_to_63_percent_s) continue;
            times += std::log(model->time_to_63_s[k] / *on_board[k].time_to_63_percent_s);
            ++timed;
        }
        // The rise is linear in the air's excess but for radiation: the quotient is nearly the answer.
        const double scale = up / down;
        const double slow = timed > 0 ? std::exp(times / timed) : 1.0;
        const bool fits_time = std::abs(slow - 1.0) <= (result.h_was_fitted ? 0.02 : kTimeMatters);
        if (!fits_time) {
            h = std::clamp(h * slow, kLeastH, kLargestH);
            result.h_was_fitted = true;
        }
        if (!from_air) factor *= scale;
        // Far out the model itself is no guide any more.
        if (factor < 0.2 || factor > 3.0) return implausible(factor);
        if (std::abs(scale - 1.0) < 1e-4 && fits_time) break;
    }
    if (!is_plausible(factor)) return implausible(factor);
    result.calibration = {factor, h, kOneReadingBand_k, kNeighbourBand_k};
    if (!on_board.empty()) {
        const Result<ModelReading> model = predict(chart, plan, on_board, options, factor, h);
        if (!model) return model.error();
        for (std::size_t k = 0; k < on_board.size(); ++k) {
            result.model_c.push_back(model->start_c[k] + model->rise_k[k]);
            result.model_time_to_63_s.push_back(on_board[k].time_to_63_percent_s ? model->time_to_63_s[k] : 0.0);
            result.largest_miss_k =
                std::max(result.largest_miss_k, std::abs(result.model_c.back() - on_board[k].celsius));
        }
    }
    // Readings that disagree among themselves tell that the band is no narrower than they are.
    result.calibration.joint_band = std::max(kOneReadingBand_k, 2.0 * result.largest_miss_k);
    result.calibration.neighbour_band = std::max(kNeighbourBand_k, 3.0 * result.largest_miss_k);
    result.sentence =
        fmt::format("The air leaves the nozzle at {:.0f} % of the set point's excess over the room{}: {:.0f} C when "
                    "set to {:.0f}. Good for this nozzle, flow and height.",
                    100.0 * factor, result.h_was_fitted ? fmt::format(", heat transfer times {:.2f}", h) : "",
                    options.room_c + factor * (plan.set_point_c - options.room_c), plan.set_point_c);
    return result;
}

} // namespace padchart::analysis
