#include "app/inspect_desk.hpp"

#include <algorithm>
#include <unordered_set>
#include <utility>

#include "app/trace_log.hpp"
#include "cli/frozen.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {
namespace {

using analysis::SweepStep;
using document::Chart;
using document::Id;
using Clock = std::chrono::steady_clock;

// Long enough to take a picture in, short enough to see a jump.
constexpr std::chrono::milliseconds kPhase{700};

/// Ticks, notes and titles leave the board as it was. Shared things are not even looked at.
bool is_same_board(const std::shared_ptr<const Chart>& a, const std::shared_ptr<const Chart>& b) {
    if (a == b) return true;
    return a && b && a->parts == b->parts && a->keep_outs == b->keep_outs && a->shields == b->shields &&
           a->readings == b->readings && a->heat_plans == b->heat_plans && a->board == b->board && a->scale == b->scale;
}

std::unordered_set<Id> looked_at(const Chart& chart) {
    std::unordered_set<Id> seen;
    for (const document::Tick& tick : chart.ticks)
        if (tick.task == analysis::kSameAsBefore) seen.insert(tick.target);
    return seen;
}

} // namespace

InspectDesk::InspectDesk()
    : job_([](const Order& order, const std::stop_token&, const auto& give) {
          give({order.number, std::make_shared<const Inspection>(inspect(order))});
      }) {}

Inspection InspectDesk::inspect(const Order& order) {
    Inspection out;
    out.after = order.after;
    out.before = order.source.chosen ? order.source.chosen : order.known;
    out.findings = order.known_findings;
    if (!out.before && order.source.frozen) {
        Result<cli::BeforeChart> loaded = cli::load_before(*order.after, order.source.chart_path);
        if (!loaded) {
            out.trouble = loaded.error();
            return out;
        }
        out.before = std::make_shared<const Chart>(std::move(loaded->chart));
        out.findings = std::move(loaded->findings);
    }
    if (!out.before) return out;
    out.report = analysis::compare(*out.before, *out.after);
    out.steps = analysis::sweep_of(*out.before, *out.after, out.report);
    return out;
}

Result<void> InspectDesk::choose(const std::string& path) {
    Result<Chart> chart = json::load_chart(path);
    if (!chart) return chart.error();
    if (chart->parts.empty()) return Error{"This chart holds no part to compare with.", path};
    chosen_ = std::make_shared<const Chart>(std::move(*chart));
    chosen_name_ = std::filesystem::path(path).filename().string();
    std::error_code ignored;
    chosen_folder_ = std::filesystem::absolute(path, ignored).parent_path();
    return {};
}

std::filesystem::path InspectDesk::before_folder() const {
    if (chosen_) return chosen_folder_;
    if (!has_before() || !answer_->after->frozen_before) return {};
    return cli::before_path(*answer_->after, asked_source_.chart_path).parent_path();
}

void InspectDesk::use_frozen() {
    chosen_ = nullptr;
    chosen_name_.clear();
    chosen_folder_.clear();
}

void InspectDesk::forget() {
    job_.drop();
    use_frozen();
    asked_ = nullptr;
    asked_source_ = {};
    answer_ = nullptr;
    at_ = {};
    asks_to_freeze = false;
    leave();
    view_ = InspectView::Changes;
    ++number_; // what is still under way is late
    ++revision_;
}

InspectDesk::Source InspectDesk::source_for(const std::shared_ptr<const Chart>& chart,
                                            const std::filesystem::path& chart_path) const {
    Source source;
    source.chosen = chosen_;
    if (chosen_ || !chart->frozen_before || chart_path.empty()) return source;
    source.frozen = chart->frozen_before;
    source.chart_path = chart_path;
    std::error_code fault;
    const auto written = std::filesystem::last_write_time(cli::before_path(*chart, chart_path), fault);
    if (!fault) source.written = written;
    return source;
}

bool InspectDesk::collect() {
    std::optional<Answer> answer = job_.take();
    if (!answer || answer->number != number_) return false;
    answer_ = std::move(answer->inspection);
    followed_.reset(); // among other steps
    insistence = {};   // on other differences
    ++revision_;
    const Inspection& now = *answer_;
    trace("inspect", now.trouble  ? describe(*now.trouble)
                     : now.before ? std::to_string(now.report.changes.size()) + " changes"
                                  : std::string("nothing to compare with"));
    return true;
}

bool InspectDesk::flip_phase() {
    if (view_ != InspectView::Flicker || Clock::now() - phase_since_ < kPhase) return false;
    phase_since_ = Clock::now();
    before_phase_ = !before_phase_;
    ++revision_;
    return true;
}

bool InspectDesk::update(const std::shared_ptr<const Chart>& chart, const std::filesystem::path& chart_path) {
    Source source = source_for(chart, chart_path);
    const bool other_source = !(source == asked_source_);
    if (!asked_ || other_source || !is_same_board(asked_, chart)) {
        Order order{chart, source, nullptr, {}, ++number_};
        if (!other_source && answer_) {
            order.known = answer_->before;
            order.known_findings = answer_->findings;
        }
        asked_source_ = std::move(source);
        job_.ask(std::move(order));
    }
    asked_ = chart;
    const bool came = collect();
    return flip_phase() || came;
}

void InspectDesk::wait(const std::shared_ptr<const Chart>& chart, const std::filesystem::path& chart_path) {
    update(chart, chart_path);
    job_.wait();
    update(chart, chart_path);
}

std::optional<std::size_t> InspectDesk::next_open(const Chart& chart, std::size_t from) const {
    if (!answer_ || answer_->steps.empty()) return std::nullopt;
    const std::unordered_set<Id> seen = looked_at(chart);
    const std::vector<SweepStep>& steps = answer_->steps;
    for (std::size_t k = 0; k < steps.size(); ++k) {
        const std::size_t i = (from + k) % steps.size();
        if (seen.count(steps[i].subject()) == 0) return i;
    }
    return std::nullopt;
}

std::optional<std::size_t> InspectDesk::current(const Chart& chart) const {
    if (!answer_ || answer_->steps.empty()) return std::nullopt;
    const std::vector<SweepStep>& steps = answer_->steps;
    const auto found =
        std::find_if(steps.begin(), steps.end(), [&](const SweepStep& step) { return step.subject() == at_; });
    if (!at_.is_empty() && found != steps.end()) return static_cast<std::size_t>(found - steps.begin());
    return next_open(chart, 0).value_or(0);
}

bool InspectDesk::follow(const Chart& chart, const std::vector<Id>& selection) {
    if (!answer_ || selection == followed_) return false;
    followed_ = selection;
    const auto at = current(chart);
    const auto is_framed = [&](const SweepStep& step) {
        return std::find(selection.begin(), selection.end(), step.subject()) != selection.end();
    };
    if (!at || is_framed(answer_->steps[*at])) return false;
    const auto framed = std::find_if(answer_->steps.begin(), answer_->steps.end(), is_framed);
    if (framed == answer_->steps.end()) return false;
    stand_at(framed->subject());
    return true;
}

void InspectDesk::leave() {
    followed_.reset();
    insistence = {};
    wants_words = false;
}

void InspectDesk::show(InspectView view) {
    if (view == view_) return;
    view_ = view;
    before_phase_ = true;
    phase_since_ = Clock::now();
    ++revision_;
}

bool InspectDesk::shows_before() const {
    return view_ == InspectView::Before || (view_ == InspectView::Flicker && before_phase_);
}

} // namespace padchart::app
