#include "analysis/heat_calibration.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

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
constexpr double kContradiction_k = 25.0; // readings that miss each other by more are not of one station
constexpr double kSamePlace_mm = 0.2;
constexpr double kSeriesRatio = 1.5; // between the times of two readings at one place that tell of the rise
constexpr double kProbe = 1.15;      // factor on the transfer by which its effect is measured
constexpr double kMostChange = 0.5;  // of its logarithm in one round
constexpr double kLongestReading_s = 1800.0;

using Readings = std::vector<ThermocoupleReading>;

struct ModelReading {
    std::vector<double> rise_k; ///< over the start
    std::vector<double> start_c;
    std::vector<double> time_to_63_s;
};

double value_at(const CaseRun& run, const Trace& trace, double time_s) {
    const auto end = std::lower_bound(run.time_s.begin(), run.time_s.end(), time_s);
    if (end == run.time_s.begin()) return trace.front();
    if (end == run.time_s.end()) return trace.back();
    const auto k = static_cast<std::size_t>(end - run.time_s.begin());
    const double share = (time_s - run.time_s[k - 1]) / (run.time_s[k] - run.time_s[k - 1]);
    return trace[k - 1] + share * (trace[k] - trace[k - 1]);
}

/// One run for all readings taken at one set point; fills in theirs.
Result<void> predict_at(const document::Chart& chart, document::HeatPlan plan, const Readings& readings,
                        const HeatOptions& options, const std::vector<std::size_t>& which, ModelReading& model) {
    for (const std::size_t k : which)
        plan.dwell_s = std::max(plan.dwell_s, readings[k].after_s);
    Result<HeatSetup> setup = heat_setup(chart, plan, options);
    if (!setup) return setup.error();
    setup->joints.clear();
    for (const std::size_t k : which) {
        const geometry::Ring spot =
            geometry::transformed(geometry::circle(kBead_mm, 0.01), geometry::Affine::translation(readings[k].at));
        setup->joints.push_back({"", readings[k].at, setup->layout.board_probe(spot)});
    }
    const CaseRun run = run_case(*setup, setup->cases.nominal);
    for (std::size_t i = 0; i < which.size(); ++i) {
        const std::size_t k = which[i];
        const Trace& trace = run.joint_mean[i];
        const double rise = value_at(run, trace, readings[k].after_s) - trace.front();
        model.start_c[k] = trace.front();
        model.rise_k[k] = rise;
        model.time_to_63_s[k] =
            first_time_at(run.time_s, trace, trace.front() + 0.632 * rise).value_or(readings[k].after_s);
    }
    return {};
}

Result<ModelReading> predict(const document::Chart& chart, const document::HeatPlan& plan, const Readings& readings,
                             const HeatOptions& options, double exit_factor, double h_factor) {
    HeatOptions own = options;
    own.cool_s = 0.0;
    own.snapshots_s.clear();
    own.isotherms_c.clear();
    own.calibration = HeatCalibration{exit_factor, h_factor};
    std::map<double, std::vector<std::size_t>> by_set_point;
    for (std::size_t k = 0; k < readings.size(); ++k)
        by_set_point[readings[k].set_point_c.value_or(plan.set_point_c)].push_back(k);
    ModelReading model;
    for (std::vector<double>* list : {&model.rise_k, &model.start_c, &model.time_to_63_s})
        list->assign(readings.size(), 0.0);
    for (const auto& [set_point_c, which] : by_set_point) {
        document::HeatPlan run_plan = plan;
        run_plan.set_point_c = set_point_c;
        run_plan.dwell_s = 1.0;
        if (const Result<void> done = predict_at(chart, run_plan, readings, own, which, model); !done)
            return done.error();
    }
    return model;
}

/// Do some of them follow one place in time?
bool is_series(const Readings& readings) {
    for (const ThermocoupleReading& a : readings)
        for (const ThermocoupleReading& b : readings)
            if (geometry::distance(a.at, b.at) <= kSamePlace_mm && a.set_point_c == b.set_point_c &&
                b.after_s >= kSeriesRatio * a.after_s)
                return true;
    return false;
}

std::optional<Error> not_of_a_bench(const document::Chart& chart, const document::HeatPlan& plan,
                                    const Readings& readings) {
    const geometry::Region board = board_region(chart);
    for (const ThermocoupleReading& reading : readings) {
        const double hottest = std::max(reading.set_point_c.value_or(plan.set_point_c), plan.set_point_c);
        if (!(reading.celsius > -20.0 && reading.celsius < 1.2 * hottest))
            return Error{fmt::format("A reading of {:.0f} C with the air set to {:.0f} C: no bead gets hotter than the "
                                     "air. Likely the number or the unit (F for C) is wrong.",
                                     reading.celsius, hottest),
                         "readings"};
        if (!(reading.after_s > 0.0 && reading.after_s <= kLongestReading_s))
            return Error{fmt::format("A reading after {:g} s: say the seconds since the air came on, up to 1800.",
                                     reading.after_s),
                         "readings"};
        if (reading.time_to_63_percent_s &&
            !(*reading.time_to_63_percent_s > 0.0 && *reading.time_to_63_percent_s <= reading.after_s))
            return Error{fmt::format("63 % of the rise in {:g} s and the end after {:g} s: the first must be shorter.",
                                     *reading.time_to_63_percent_s, reading.after_s),
                         "readings"};
        if (!reading.in_the_air && !geometry::contains(board, reading.at))
            return Error{fmt::format("The bead at {:.1f}, {:.1f} is off the board: click where it was taped.",
                                     reading.at.x, reading.at.y),
                         "readings"};
    }
    return std::nullopt;
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
std::optional<double> factor_from_air(const Readings& readings, const document::HeatPlan& plan, double room_c) {
    double sum = 0.0;
    int count = 0;
    const double core = std::min(1.0, 5.0 * plan.nozzle_bore_mm / plan.stand_off_mm);
    for (const ThermocoupleReading& reading : readings)
        if (reading.in_the_air) {
            const double set_point_c = reading.set_point_c.value_or(plan.set_point_c);
            sum += (reading.celsius - room_c) / (core * (set_point_c - room_c));
            ++count;
        }
    return count > 0 ? std::optional<double>(sum / count) : std::nullopt;
}

bool is_plausible(double factor) {
    return factor >= kLeastExitFactor && factor <= kLargestExitFactor;
}

Error implausible_rise(double h) {
    return {
        fmt::format("The rise asks for {:.1f} times the usual heat transfer; from {:.1f} to {:.1f} is plausible. {}", h,
                    kLeastH, kLargestH,
                    h > 1.0 ? "Likely the clock was started late, the flow is higher than the plan says, or the "
                              "bead stands in the air."
                            : "Likely the clock was started early, the nozzle came slowly to its place, or the "
                              "board lies on something that takes the heat."),
        "readings"};
}

/// What the next round changes.
struct Correction {
    double scale = 1.0; ///< on the rise
    double log_h = 0.0;
    bool fits_time = true;
};

/// The rise is linear in the air's excess but for radiation, so that one scale is nearly the answer.
Correction by_scale(const Readings& readings, const ModelReading& model, bool was_fitted) {
    double up = 0.0, down = 0.0, times = 0.0;
    int timed = 0;
    for (std::size_t k = 0; k < readings.size(); ++k) {
        up += (readings[k].celsius - model.start_c[k]) * model.rise_k[k];
        down += model.rise_k[k] * model.rise_k[k];
        if (!readings[k].time_to_63_percent_s) continue;
        times += std::log(model.time_to_63_s[k] / *readings[k].time_to_63_percent_s);
        ++timed;
    }
    const double slow = timed > 0 ? std::exp(times / timed) : 1.0;
    const bool fits = std::abs(slow - 1.0) <= (was_fitted ? 0.02 : kTimeMatters);
    return {up / down, fits ? 0.0 : std::log(slow), fits};
}

/// Least squares for scale and transfer together: readings in time tell both. `ahead` is the model with the transfer
/// times kProbe. With `keep_scale` the air was measured itself.
Correction by_series(const Readings& readings, const ModelReading& model, const ModelReading& ahead, bool keep_scale) {
    double rr = 0.0, rd = 0.0, dd = 0.0, mr = 0.0, md = 0.0;
    for (std::size_t k = 0; k < readings.size(); ++k) {
        const double measured = readings[k].celsius - model.start_c[k];
        const double slope = (ahead.rise_k[k] - model.rise_k[k]) / std::log(kProbe);
        rr += model.rise_k[k] * model.rise_k[k];
        rd += model.rise_k[k] * slope;
        dd += slope * slope;
        mr += measured * model.rise_k[k];
        md += measured * slope;
    }
    Correction step;
    if (keep_scale) {
        step.log_h = dd > 0.0 ? (md - rd) / dd : 0.0;
    } else {
        const double determinant = rr * dd - rd * rd;
        // Readings that say nothing of the rise leave the transfer as it is.
        if (determinant <= 1e-9 * rr * dd) return {mr / rr, 0.0, true};
        step.scale = (mr * dd - md * rd) / determinant;
        if (step.scale <= 0.0) step.scale = mr / rr;
        step.log_h = (rr * md - rd * mr) / determinant / step.scale;
    }
    step.log_h = std::clamp(step.log_h, -kMostChange, kMostChange);
    step.fits_time = std::abs(step.log_h) < 0.01;
    return step;
}

std::optional<Error> contradiction(const Readings& readings, const std::vector<double>& model_c, double set_point_c) {
    if (readings.size() < 2) return std::nullopt;
    std::size_t worst = 0;
    for (std::size_t k = 1; k < readings.size(); ++k)
        if (std::abs(model_c[k] - readings[k].celsius) > std::abs(model_c[worst] - readings[worst].celsius)) worst = k;
    if (std::abs(model_c[worst] - readings[worst].celsius) <= kContradiction_k) return std::nullopt;
    return Error{
        fmt::format("The readings do not go together: the best fit to all says {:.0f} C where {:.0f} C was read "
                    "({:g} s, {:.1f}, {:.1f}, set to {:.0f} C). Likely a bead came off, a place is not where it "
                    "was taped, or the settings changed between the runs.",
                    model_c[worst], readings[worst].celsius, readings[worst].after_s, readings[worst].at.x,
                    readings[worst].at.y, readings[worst].set_point_c.value_or(set_point_c)),
        "readings"};
}

/// What the fitted model says, and how far the readings lie from it.
Result<void> measure(const document::Chart& chart, const document::HeatPlan& plan, const Readings& on_board,
                     const HeatOptions& options, CalibrationResult& result) {
    const Result<ModelReading> model =
        predict(chart, plan, on_board, options, result.calibration.exit_factor, result.calibration.h_factor);
    if (!model) return model.error();
    for (std::size_t k = 0; k < on_board.size(); ++k) {
        result.model_c.push_back(model->start_c[k] + model->rise_k[k]);
        result.model_time_to_63_s.push_back(on_board[k].time_to_63_percent_s ? model->time_to_63_s[k] : 0.0);
        result.largest_miss_k = std::max(result.largest_miss_k, std::abs(result.model_c.back() - on_board[k].celsius));
    }
    return {};
}

} // namespace

Result<CalibrationResult> calibrate(const document::Chart& chart, const document::HeatPlan& plan,
                                    const Readings& readings, const HeatOptions& options) {
    if (readings.empty()) return Error{"There is no reading to fit to.", "readings"};
    if (auto error = not_of_a_bench(chart, plan, readings)) return *error;
    CalibrationResult result;
    const auto from_air = factor_from_air(readings, plan, options.room_c);
    Readings on_board;
    std::copy_if(readings.begin(), readings.end(), std::back_inserter(on_board),
                 [](const ThermocoupleReading& reading) { return !reading.in_the_air; });
    const bool has_series = is_series(on_board);
    double factor = from_air.value_or(0.9);
    double h = 1.0;
    if (from_air && !is_plausible(factor)) return implausible(factor);
    for (int round = 0; round < kRounds && !on_board.empty(); ++round) {
        const Result<ModelReading> model = predict(chart, plan, on_board, options, factor, h);
        if (!model) return model.error();
        for (std::size_t k = 0; k < on_board.size(); ++k)
            if (on_board[k].celsius <= model->start_c[k])
                return Error{fmt::format("A reading of {:.0f} C is not above the start of {:.0f} C.",
                                         on_board[k].celsius, model->start_c[k]),
                             "readings"};
        Correction step = by_scale(on_board, *model, result.h_was_fitted);
        if (has_series) {
            const Result<ModelReading> ahead = predict(chart, plan, on_board, options, factor, h * kProbe);
            if (!ahead) return ahead.error();
            step = by_series(on_board, *model, *ahead, from_air.has_value());
        }
        if (!step.fits_time) {
            h *= std::exp(step.log_h);
            result.h_was_fitted = true;
            if (h < kLeastH / 2.0 || h > kLargestH * 2.0) return implausible_rise(h);
        }
        if (!from_air) factor *= step.scale;
        // Far out the model itself is no guide any more.
        if (factor < 0.2 || factor > 3.0) return implausible(factor);
        if (std::abs(step.scale - 1.0) < 1e-4 && step.fits_time) break;
    }
    if (!is_plausible(factor)) return implausible(factor);
    if (h < kLeastH || h > kLargestH) return implausible_rise(h);
    result.calibration = {factor, h, kOneReadingBand_k, kNeighbourBand_k};
    if (const Result<void> done = measure(chart, plan, on_board, options, result); !done) return done.error();
    if (auto error = contradiction(on_board, result.model_c, plan.set_point_c)) return *error;
    // Readings that disagree among themselves tell that the band is no narrower than they are.
    result.calibration.joint_band = std::max(kOneReadingBand_k, 2.0 * result.largest_miss_k);
    result.calibration.neighbour_band = std::max(kNeighbourBand_k, 3.0 * result.largest_miss_k);
    result.sentence = fmt::format(
        "The air leaves the nozzle at {:.0f} % of the set point's excess over the room{}: {:.0f} C when set to {:.0f}. "
        "Good for this nozzle, flow and height; joints then lie within {:.0f} degrees either way, neighbours within "
        "{:.0f}.",
        100.0 * factor, result.h_was_fitted ? fmt::format(", heat transfer times {:.2f}", h) : "",
        options.room_c + factor * (plan.set_point_c - options.room_c), plan.set_point_c, result.calibration.joint_band,
        result.calibration.neighbour_band);
    return result;
}

} // namespace padchart::analysis
