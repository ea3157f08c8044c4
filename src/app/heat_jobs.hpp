#pragma once
// What is worked out about a heat plan behind the window, one kind of answer by one job: what each asks of the
// analysis, with which grid, and in what order answers go out.

#include <chrono>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "analysis/heat.hpp"
#include "analysis/heat_advice.hpp"
#include "analysis/heat_calibration.hpp"
#include "analysis/heat_noaim.hpp"
#include "app/latest_job.hpp"
#include "document/chart.hpp"

namespace padchart::app {

/// All that the answer depends on: equal questions have equal answers.
struct HeatQuestion {
    std::shared_ptr<const document::Chart> chart;
    document::HeatPlan plan;

    [[nodiscard]] bool operator==(const HeatQuestion& other) const;
};

template <class Report>
struct HeatAnswer {
    HeatQuestion question;
    std::uint64_t number = 0; ///< of the question: a later one wins
    bool is_quick = false;    ///< a coarse grid, while the hand moves
    Result<Report> report;
};
using Estimate = HeatAnswer<analysis::HeatReport>;
using NoAimAnswer = HeatAnswer<analysis::NoAimMap>;
using AdviceAnswer = HeatAnswer<analysis::Advice>;
using CalibrationAnswer = HeatAnswer<analysis::CalibrationResult>;

/// What a job is asked; each takes from it what it needs.
struct HeatOrder {
    HeatQuestion question;
    std::uint64_t number = 0;
    std::optional<double> time_s; ///< of the isotherms that a quick estimate is to have
    bool dwell_limited = false;
    std::vector<analysis::ThermocoupleReading> readings;
};
template <class Report>
using HeatJob = LatestJob<HeatOrder, std::shared_ptr<const HeatAnswer<Report>>>;

/// Follows the hand: a coarse grid, coarser still where the last answers were late. Keeps its grid between orders.
[[nodiscard]] HeatJob<analysis::HeatReport>::Work quick_estimate();
/// The working grid with all times of the scrub handle.
[[nodiscard]] HeatJob<analysis::HeatReport>::Work fine_estimate();
/// The working grid at the end of the dwell only: of the plan that is compared with.
[[nodiscard]] HeatJob<analysis::HeatReport>::Work compared_estimate();
/// Rough maps first.
[[nodiscard]] HeatJob<analysis::NoAimMap>::Work no_aim_map();
[[nodiscard]] HeatJob<analysis::Advice>::Work plan_advice();
[[nodiscard]] HeatJob<analysis::CalibrationResult>::Work station_fit();

/// Of that question, all that the map depends on: equal ones have equal maps.
[[nodiscard]] HeatQuestion for_map(HeatQuestion question, bool dwell_limited);
[[nodiscard]] double milliseconds_since(std::chrono::steady_clock::time_point time);

/// Times of the run at which the board's temperatures are kept, for the scrub handle.
[[nodiscard]] std::vector<double> snapshot_times(double dwell_s, double cool_s);
} // namespace padchart::app
