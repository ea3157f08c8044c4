#include "app/heat_desk.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/trace_log.hpp"
#include "cli/heat_options.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::HeatPlan;
using document::Id;
using Clock = std::chrono::steady_clock;

// An answer that lags less than this is taken for the present one.
constexpr std::chrono::milliseconds kLag{250};
// The map takes seconds: it begins when the hand has rested this long.
constexpr std::chrono::milliseconds kRest{150};
// A frame is held back no longer for an answer: a window that stands still is worse than an answer that is late.
constexpr std::chrono::milliseconds kLongestHold{60};

std::optional<std::size_t> find_plan(const Chart& chart, const Id& id) {
    for (std::size_t i = 0; i < chart.heat_plans.size(); ++i)
        if (chart.heat_plans[i].id == id) return i;
    return std::nullopt;
}

} // namespace

std::string name_of(const Chart& chart, const HeatPlan& plan) {
    if (!plan.name.empty()) return plan.name;
    const auto at = document::find_part(chart, plan.target);
    if (!at) return "a spot on the board";
    return chart.parts[*at].name.empty() ? "a part without a name" : chart.parts[*at].name;
}

HeatDesk::HeatDesk()
    : quick_job_(quick_estimate(), Urgency::AwaitedByTheHand), fine_job_(fine_estimate()),
      second_job_(compared_estimate()), map_job_(no_aim_map()), advice_job_(plan_advice()),
      calibration_job_(station_fit()) {}

void HeatDesk::begin(const Chart& chart, const Id& target) {
    if (plan_ && plan_->target == target) return;
    HeatPlan plan = cli::plan_for(chart, target);
    const bool is_of_chart = find_plan(chart, plan.id).has_value();
    take(std::move(plan), is_of_chart);
    estimate_ = nullptr;
    moving_ = false;
    time_s.reset();
    trace("heat-plan", name_of(chart, *plan_));
}

void HeatDesk::open(const Chart& chart, const Id& id) {
    const auto at = find_plan(chart, id);
    if (!at) return;
    if (!plan_ || plan_->target != chart.heat_plans[*at].target) estimate_ = nullptr;
    take(chart.heat_plans[*at], true);
    if (compared == id) compared = {};
    moving_ = false;
    time_s.reset();
    trace("heat-plan", name_of(chart, *plan_));
}

void HeatDesk::take(HeatPlan plan, bool is_of_chart) {
    is_of_chart_ = is_of_chart;
    plan_ = loaded_ = std::move(plan);
    seen_differently();
}

void HeatDesk::hold(HeatPlan plan) {
    take(std::move(plan), true);
}

void HeatDesk::drop_change() {
    if (is_changed()) take(HeatPlan(*loaded_), is_of_chart_);
}

void HeatDesk::change(HeatPlan plan, bool moving) {
    moving_ = moving;
    if (plan_ == plan) return;
    plan_ = std::move(plan);
    if (time_s) time_s = std::min(*time_s, plan_->dwell_s + analysis::HeatOptions{}.cool_s);
    seen_differently();
}

bool HeatDesk::is_saved(const Chart& chart) const {
    if (!plan_) return true;
    const auto at = find_plan(chart, plan_->id);
    return at && chart.heat_plans[*at] == *plan_;
}

void HeatDesk::forget() {
    for (auto* job : {&quick_job_, &fine_job_, &second_job_})
        job->drop();
    map_job_.drop();
    advice_job_.drop();
    calibration_job_.drop();
    plan_.reset();
    loaded_.reset();
    is_of_chart_ = false;
    compared = {};
    time_s.reset();
    asked_.reset();
    asked_second_.reset();
    asked_map_.reset();
    estimate_ = second_ = nullptr;
    map_ = nullptr;
    advice_ = nullptr;
    calibration_answer_ = nullptr;
    ++number_; // what is still under way is late
    ++map_number_;
    seen_differently();
}

void HeatDesk::follow(const Chart& chart) {
    if (!plan_) return;
    if (!plan_->target.is_empty() && !document::find_part(chart, plan_->target)) return forget();
    if (!compared.is_empty() && !find_plan(chart, compared)) compared = {};
    const auto at = find_plan(chart, plan_->id);
    if (!at) {
        // Taken out of the chart, it is what it was before it was put there: the part's other plan, or a new one.
        if (!std::exchange(is_of_chart_, false) || is_changed()) return;
        if (plan_->target.is_empty()) return forget();
        HeatPlan plan = cli::plan_for(chart, plan_->target);
        const bool is_of_chart = find_plan(chart, plan.id).has_value();
        return take(std::move(plan), is_of_chart);
    }
    const HeatPlan& there = chart.heat_plans[*at];
    if (!is_changed() && there != *loaded_) take(there, true);
    is_of_chart_ = true;
    loaded_ = there;
}

HeatQuestion HeatDesk::question_of(const std::shared_ptr<const Chart>& chart, const HeatPlan& plan) const {
    HeatQuestion question{chart, plan};
    question.plan.name.clear(); // words change nothing
    question.plan.note.clear();
    question.plan.id = {};
    return question;
}

void HeatDesk::ask_estimate(const std::shared_ptr<const Chart>& chart) {
    const HeatQuestion question = question_of(chart, *plan_);
    const bool is_new = !asked_ || !(*asked_ == question);
    if (is_new) {
        asked_ = question;
        asked_at_ = Clock::now();
        asked_fine_ = false;
        ++number_;
        if (moving_) fine_job_.drop(); // leaves the cores to what the hand is waiting for
        quick_job_.ask({question, number_, time_s, false, {}});
        asked_quick_at_[number_ % kTimed] = asked_at_;
        pace_.asked(number_);
        trace("heat-ask", fmt::format("question {}", number_));
    }
    // The fine one takes all cores: it waits for the quick one.
    if (moving_ || asked_fine_ || quick_job_.is_busy()) return;
    asked_fine_ = true;
    fine_job_.ask({question, number_, time_s, false, {}});
}

void HeatDesk::ask_second(const std::shared_ptr<const Chart>& chart) {
    const auto at = compared.is_empty() ? std::nullopt : find_plan(*chart, compared);
    if (!at) {
        if (second_) seen_differently();
        second_ = nullptr;
        asked_second_.reset();
        return;
    }
    const HeatQuestion question = question_of(chart, chart->heat_plans[*at]);
    if (asked_second_ && *asked_second_ == question) return;
    asked_second_ = question;
    second_ = nullptr;
    second_job_.ask({question, number_, {}, false, {}});
}

void HeatDesk::ask_map(const std::shared_ptr<const Chart>& chart) {
    if (!wants_map) {
        if (asked_map_) map_job_.drop();
        asked_map_.reset();
        return;
    }
    const HeatQuestion key = for_map(question_of(chart, *plan_), dwell_limited);
    const bool is_new = !asked_map_ || !(*asked_map_ == key) || asked_dwell_limited_ != dwell_limited;
    if (is_new) {
        map_job_.drop();
        ++map_number_;
        asked_map_ = key;
        asked_dwell_limited_ = dwell_limited;
        map_changed_at_ = Clock::now();
        map_stale_ = true;
    }
    if (moving_) map_job_.drop(); // begun anew when the hand rests: both cores are wanted
    const bool is_there = map_ && map_->number == map_number_ && !map_->is_quick;
    if (is_there || moving_ || map_job_.is_busy() || map_job_.has_answer()) return;
    if (Clock::now() - map_changed_at_ < kRest) return;
    map_job_.ask({question_of(chart, *plan_), map_number_, {}, dwell_limited, {}});
}

bool HeatDesk::collect() {
    bool changed = false;
    for (auto* job : {&quick_job_, &fine_job_}) {
        auto answer = job->take();
        if (!answer) continue;
        const bool older = estimate_ && ((*answer)->number < estimate_->number ||
                                         ((*answer)->number == estimate_->number && !estimate_->is_quick));
        // While the hand moves each answer counts; one of a plan that is no longer in hand does not.
        const bool of_another = !asked_ || (*answer)->question.plan.target != asked_->plan.target;
        if (older || of_another) continue;
        estimate_ = *answer;
        changed = true;
        if (estimate_->is_quick) {
            // Taken before the frame that is being prepared is painted: it will be seen in that one.
            trace("heat-live",
                  fmt::format("{:.0f} ms, question {}", milliseconds_since(asked_quick_at_[estimate_->number % kTimed]),
                              estimate_->number));
        }
        if (!estimate_->is_quick) trace("heat", estimate_->report ? "estimate" : describe(estimate_->report.error()));
    }
    if (auto answer = second_job_.take(); answer && asked_second_ && (*answer)->question == *asked_second_) {
        second_ = *answer;
        changed = true;
        trace("heat-compared", second_->report ? "estimate" : describe(second_->report.error()));
    }
    if (auto answer = map_job_.take(); answer && (*answer)->number == map_number_) {
        map_ = *answer;
        changed = true;
        if (!map_->is_quick) trace("heat-map", map_->report ? "finished" : describe(map_->report.error()));
    }
    if (auto answer = advice_job_.take()) {
        advice_ = *answer;
        changed = true;
        trace("heat-advice", advice_->report ? "ready" : describe(advice_->report.error()));
    }
    if (auto answer = calibration_job_.take()) {
        calibration_answer_ = *answer;
        changed = true;
        trace("heat-calibration", calibration_answer_->report ? calibration_answer_->report->sentence
                                                              : describe(calibration_answer_->report.error()));
    }
    return changed;
}

void HeatDesk::keep_pace() {
    pace_.frame_begins();
    const std::uint64_t due = pace_.due();
    const auto until = Clock::now() + kLongestHold;
    bool came = collect();
    // The first of a plan is waited for by nobody: it makes its grid, and there is nothing yet that could lag.
    while (asked_ && estimate_ && estimate_->number < due && quick_job_.is_busy() && Clock::now() < until) {
        quick_job_.wait_for_answer(until);
        came = collect() || came;
    }
    if (came) seen_differently();
}

bool HeatDesk::note_staleness() {
    const bool late = Clock::now() - asked_at_ > kLag;
    const bool stale = estimate_ && asked_ && !(estimate_->question == *asked_) && late;
    const bool map_stale = map_ && map_->number != map_number_;
    const bool changed =
        stale != stale_ || map_stale != map_stale_ || shown_map_ != wants_map || shown_time_s_ != time_s;
    stale_ = stale;
    map_stale_ = map_stale;
    shown_map_ = wants_map;
    shown_time_s_ = time_s;
    return changed;
}

bool HeatDesk::update(const std::shared_ptr<const Chart>& chart) {
    const std::uint64_t before = revision_;
    follow(*chart);
    const bool came = collect(); // first: what has come is not asked for again
    if (plan_) {
        ask_estimate(chart);
        ask_second(chart);
        ask_map(chart);
    }
    const bool paled = note_staleness();
    if (came || paled) seen_differently();
    return revision_ != before;
}

bool HeatDesk::is_map_stale() const {
    return map_stale_;
}

bool HeatDesk::is_busy() const {
    return quick_job_.is_busy() || fine_job_.is_busy() || second_job_.is_busy();
}

void HeatDesk::wait(const std::shared_ptr<const Chart>& chart) {
    moving_ = false;
    // The first round may have to wait for an older map to stop before it can ask for the new one.
    for (int round = 0; round < 3; ++round) {
        update(chart);
        map_changed_at_ = {};
        update(chart);
        quick_job_.wait();
        fine_job_.wait();
        second_job_.wait();
        map_job_.wait();
    }
    update(chart);
}

void HeatDesk::ask_advice(const std::shared_ptr<const Chart>& chart) {
    if (!plan_) return;
    HeatQuestion question = question_of(chart, *plan_);
    question.plan.id = plan_->id;
    advice_ = nullptr;
    advice_job_.ask({question, number_, {}, false, {}});
}

void HeatDesk::ask_calibration(const std::shared_ptr<const Chart>& chart,
                               std::vector<analysis::ThermocoupleReading> readings) {
    if (!plan_) return;
    HeatQuestion question = question_of(chart, *plan_);
    question.plan.station = {};
    calibration_answer_ = nullptr;
    calibration_job_.ask({question, number_, {}, false, std::move(readings)});
}

} // namespace padchart::app
