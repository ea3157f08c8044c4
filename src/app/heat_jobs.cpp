#include "app/heat_jobs.hpp"

#include <algorithm>
#include <chrono>
#include <thread>
#include <utility>

#include "analysis/heat_live.hpp"
#include "app/heat_pace.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using Clock = std::chrono::steady_clock;

constexpr int kSnapshots = 24;

/// Saving a plan or writing a note leaves the board as it was. Shared parts are not even looked at.
bool is_same_board(const std::shared_ptr<const Chart>& a, const std::shared_ptr<const Chart>& b) {
    if (a == b) return true;
    return a && b && a->parts == b->parts && a->keep_outs == b->keep_outs && a->shields == b->shields &&
           a->board == b->board && a->copper_areas == b->copper_areas && a->stations == b->stations &&
           a->scale == b->scale && a->rules == b->rules;
}

/// One core is left to the hand.
int map_threads() {
    return std::clamp(static_cast<int>(std::thread::hardware_concurrency()) - 1, 1, 4);
}

analysis::HeatOptions options_of(analysis::Resolution resolution) {
    analysis::HeatOptions options;
    options.resolution = resolution;
    return options;
}

} // namespace

double milliseconds_since(std::chrono::steady_clock::time_point time) {
    return std::chrono::duration<double, std::milli>(Clock::now() - time).count();
}

bool HeatQuestion::operator==(const HeatQuestion& other) const {
    return is_same_board(chart, other.chart) && plan == other.plan;
}

std::vector<double> snapshot_times(double dwell_s, double cool_s) {
    std::vector<double> times;
    for (int i = 0; i <= kSnapshots; ++i)
        times.push_back((dwell_s + cool_s) * i / kSnapshots);
    times.push_back(dwell_s);
    std::sort(times.begin(), times.end());
    times.erase(std::unique(times.begin(), times.end()), times.end());
    return times;
}

/// What the map does not depend on is made the same.
HeatQuestion for_map(HeatQuestion question, bool dwell_limited) {
    question.plan.aim = {};
    if (!dwell_limited) question.plan.dwell_s = 1.0;
    return question;
}

HeatJob<analysis::HeatReport>::Work quick_estimate() {
    return [live = std::make_shared<analysis::LiveHeat>(),
            grid = LiveGrid()](const HeatOrder& order, const std::stop_token&, const auto& give) mutable {
        analysis::HeatOptions options;
        options.coarser = grid.coarser();
        if (order.time_s) options.snapshots_s = {*order.time_s};
        const auto began = Clock::now();
        auto report = live->heat(order.question.chart, order.question.plan, options);
        grid.took(milliseconds_since(began));
        give(std::make_shared<const Estimate>(Estimate{order.question, order.number, true, std::move(report)}));
    };
}

HeatJob<analysis::HeatReport>::Work fine_estimate() {
    return [](const HeatOrder& order, const std::stop_token& stop, const auto& give) {
        analysis::HeatOptions options = options_of(analysis::Resolution::Working);
        options.snapshots_s = snapshot_times(order.question.plan.dwell_s, options.cool_s);
        options.stop = stop;
        auto report = analysis::heat(*order.question.chart, order.question.plan, options);
        if (!stop.stop_requested())
            give(std::make_shared<const Estimate>(Estimate{order.question, order.number, false, std::move(report)}));
    };
}

HeatJob<analysis::HeatReport>::Work compared_estimate() {
    return [](const HeatOrder& order, const std::stop_token& stop, const auto& give) {
        analysis::HeatOptions options = options_of(analysis::Resolution::Working);
        options.stop = stop;
        auto report = analysis::heat(*order.question.chart, order.question.plan, options);
        if (!stop.stop_requested())
            give(std::make_shared<const Estimate>(Estimate{order.question, order.number, false, std::move(report)}));
    };
}

HeatJob<analysis::NoAimMap>::Work no_aim_map() {
    return [](const HeatOrder& order, const std::stop_token& stop, const auto& give) {
        analysis::NoAimOptions options;
        options.heat.threads = map_threads();
        options.dwell_limited = order.dwell_limited;
        options.stop = stop;
        const HeatQuestion key = for_map(order.question, order.dwell_limited);
        options.progress = [&](const analysis::NoAimMap& map) {
            if (!stop.stop_requested())
                give(std::make_shared<const NoAimAnswer>(NoAimAnswer{key, order.number, true, map}));
        };
        auto map = analysis::no_aim(*order.question.chart, order.question.plan, options);
        if (!stop.stop_requested())
            give(std::make_shared<const NoAimAnswer>(NoAimAnswer{key, order.number, false, std::move(map)}));
    };
}

HeatJob<analysis::Advice>::Work plan_advice() {
    return [](const HeatOrder& order, const std::stop_token& stop, const auto& give) {
        analysis::AdviceOptions options;
        options.stop = stop;
        auto advice = analysis::heat_advice(*order.question.chart, order.question.plan, options);
        if (!stop.stop_requested())
            give(std::make_shared<const AdviceAnswer>(
                AdviceAnswer{order.question, order.number, false, std::move(advice)}));
    };
}

HeatJob<analysis::CalibrationResult>::Work station_fit() {
    return [](const HeatOrder& order, const std::stop_token&, const auto& give) {
        give(std::make_shared<const CalibrationAnswer>(
            CalibrationAnswer{order.question, order.number, false,
                              analysis::calibrate(*order.question.chart, order.question.plan, order.readings)}));
    };
}

} // namespace padchart::app
