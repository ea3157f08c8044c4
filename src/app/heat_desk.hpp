#pragma once
// The heat plan in hand and all that is computed of it, kept up to date behind the window: a quick estimate that
// follows the hand, a finer one when it rests, the no-aim map, a second plan to compare with, advice. What is shown
// knows which plan it belongs to, so that the last answer can stay on show, pale, until the new one is there.

#include <array>
#include <chrono>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/heat_jobs.hpp"
#include "app/heat_pace.hpp"
#include "document/chart.hpp"

namespace padchart::app {

/// The name of a plan for people: its own, or the target's.
[[nodiscard]] std::string name_of(const document::Chart& chart, const document::HeatPlan& plan);

class HeatDesk {
public:
    HeatDesk();

    // The plan in hand ---------------------------------------------------------------------------
    [[nodiscard]] bool has_plan() const { return plan_.has_value(); }
    /// Requires: has_plan().
    [[nodiscard]] const document::HeatPlan& plan() const { return *plan_; }
    /// The chart's plan for this part, else a new one.
    void begin(const document::Chart& chart, const document::Id& target);
    /// The chart's plan as it stands there.
    void open(const document::Chart& chart, const document::Id& id);
    /// `moving`: the hand has not let go yet.
    void change(document::HeatPlan plan, bool moving = false);
    /// The hand has let go.
    void rest() { moving_ = false; }
    /// The hand has changed it since it was begun, or was as it stands in the chart.
    [[nodiscard]] bool is_changed() const { return plan_ && plan_ != loaded_; }
    /// As it was before that. Requires: has_plan().
    [[nodiscard]] const document::HeatPlan& plan_before_change() const { return *loaded_; }
    /// The plan, which the chart has just taken up, is the one in hand.
    void hold(document::HeatPlan plan);
    /// What the hand has changed is let go.
    void drop_change();
    /// Undo and edits reach the plan in hand where the hand has not changed it.
    void follow(const document::Chart& chart);
    /// It differs from the chart's plan of that id, or the chart has none.
    [[nodiscard]] bool is_saved(const document::Chart& chart) const;
    /// Another chart has come: nothing of the last one lingers.
    void forget();

    // What is shown beside it --------------------------------------------------------------------
    std::optional<double> time_s; ///< of the isotherms; nothing: the peak
    bool wants_map = true;
    bool dwell_limited = false; ///< the map at the end of the dwell instead of the steady bound
    document::Id compared;      ///< a plan of the chart, or empty

    // Answers ------------------------------------------------------------------------------------
    /// Asks for what is missing and takes what has come. True where something else is to be seen than before.
    bool update(const std::shared_ptr<const document::Chart>& chart);
    /// Before a frame is prepared: where it would be the third since the hand moved, and the quick estimate of that is
    /// still under way, it waits for that, for some hundredths of a second at the most.
    void keep_pace();
    /// Null until the first answer. Whoever uses it while the desk may change keeps the pointer.
    [[nodiscard]] const std::shared_ptr<const Estimate>& estimate() const { return estimate_; }
    [[nodiscard]] const Estimate* second() const { return second_.get(); }
    [[nodiscard]] const NoAimAnswer* map() const { return wants_map ? map_.get() : nullptr; }
    /// The same two, to be kept.
    [[nodiscard]] std::shared_ptr<const Estimate> held_second() const { return second_; }
    [[nodiscard]] std::shared_ptr<const NoAimAnswer> held_map() const { return wants_map ? map_ : nullptr; }
    /// Belongs to an older plan for longer than an eye forgives.
    [[nodiscard]] bool is_stale() const { return stale_; }
    [[nodiscard]] bool is_map_stale() const;
    [[nodiscard]] bool is_busy() const;
    [[nodiscard]] bool is_map_busy() const { return map_job_.is_busy(); }
    /// Another number whenever what the canvas draws is another.
    [[nodiscard]] std::uint64_t revision() const { return revision_; }
    /// Blocks until the estimate, and the map unless it is hidden, belong to the plan in hand.
    void wait(const std::shared_ptr<const document::Chart>& chart);

    // Advice and calibration ---------------------------------------------------------------------
    void ask_advice(const std::shared_ptr<const document::Chart>& chart);
    [[nodiscard]] const std::shared_ptr<const AdviceAnswer>& advice() const { return advice_; }
    [[nodiscard]] bool is_advice_busy() const { return advice_job_.is_busy(); }
    void stop_advice() { advice_job_.drop(); }

    /// The fit of the readings to the settings of the plan in hand, without any calibration it has already.
    void ask_calibration(const std::shared_ptr<const document::Chart>& chart,
                         std::vector<analysis::ThermocoupleReading> readings);
    [[nodiscard]] const CalibrationAnswer* calibration_answer() const { return calibration_answer_.get(); }
    [[nodiscard]] bool is_calibration_busy() const { return calibration_job_.is_busy(); }
    void forget_calibration() { calibration_answer_ = nullptr; }

private:
    void take(document::HeatPlan plan, bool is_of_chart);
    [[nodiscard]] HeatQuestion question_of(const std::shared_ptr<const document::Chart>& chart,
                                           const document::HeatPlan& plan) const;
    void ask_estimate(const std::shared_ptr<const document::Chart>& chart);
    void ask_second(const std::shared_ptr<const document::Chart>& chart);
    void ask_map(const std::shared_ptr<const document::Chart>& chart);
    bool collect();
    bool note_staleness();
    void seen_differently() { ++revision_; }

    std::optional<document::HeatPlan> plan_;
    std::optional<document::HeatPlan> loaded_; ///< as it was begun, or is in the chart
    bool is_of_chart_ = false;                 ///< the chart had it when last looked at
    bool moving_ = false;

    std::optional<HeatQuestion> asked_, asked_second_, asked_map_;
    bool asked_fine_ = false, asked_dwell_limited_ = false;
    std::optional<double> shown_time_s_;
    std::uint64_t number_ = 0, map_number_ = 0, revision_ = 1;
    std::chrono::steady_clock::time_point asked_at_, map_changed_at_;
    static constexpr std::size_t kTimed = 64; // questions on the way at once, at the most
    std::array<std::chrono::steady_clock::time_point, kTimed> asked_quick_at_{};
    bool stale_ = false, map_stale_ = false, shown_map_ = true;

    FramePace pace_;

    std::shared_ptr<const Estimate> estimate_, second_;
    std::shared_ptr<const NoAimAnswer> map_;
    std::shared_ptr<const AdviceAnswer> advice_;
    std::shared_ptr<const CalibrationAnswer> calibration_answer_;
    HeatJob<analysis::HeatReport> quick_job_, fine_job_, second_job_;
    HeatJob<analysis::NoAimMap> map_job_;
    HeatJob<analysis::Advice> advice_job_;
    HeatJob<analysis::CalibrationResult> calibration_job_;
};

} // namespace padchart::app
