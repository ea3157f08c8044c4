#pragma once
// Undo and redo as a list of snapshots with labels. Knows nothing of what is in a chart: a step is made when the chart
// differs from the last one, one gesture one step. Selection rides along, so that undo shows what it undid.

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "document/chart.hpp"

namespace padchart::document {

struct Step {
    std::shared_ptr<const Chart> chart;
    std::string label;                ///< what was done to get here: "Turn U4 by 15 degrees"
    std::vector<Id> selection;        ///< after the step
    std::vector<Id> selection_before; ///< what it was done to: what undo shows where it takes the others away
};

class History {
public:
    explicit History(Chart chart, std::string label = "Open");

    [[nodiscard]] const Chart& chart() const { return *steps_[position_].chart; }
    [[nodiscard]] std::shared_ptr<const Chart> snapshot() const { return steps_[position_].chart; }
    [[nodiscard]] const Step& current() const { return steps_[position_]; }
    [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }
    [[nodiscard]] std::size_t position() const { return position_; }

    /// Drops what could be redone and adds a step; a chart equal to the current one makes none (false).
    bool commit(Chart chart, std::string label, std::vector<Id> selection = {}, std::vector<Id> selection_before = {});
    /// Puts the chart in place of the current step where its label is the same (repeated nudges), else commits.
    bool commit_repeated(Chart chart, std::string label, std::vector<Id> selection = {},
                         std::vector<Id> selection_before = {});

    [[nodiscard]] bool can_undo() const { return position_ > 0; }
    [[nodiscard]] bool can_redo() const { return position_ + 1 < steps_.size(); }
    bool undo();
    bool redo();
    /// Requires: position < steps().size().
    void go_to(std::size_t position);

    void mark_saved() { saved_ = steps_[position_].chart; }
    /// A snapshot of before has reached its file, whatever was done since.
    void mark_saved(std::shared_ptr<const Chart> chart) { saved_ = std::move(chart); }
    /// True while the chart is the very one that was saved (or opened).
    [[nodiscard]] bool is_saved() const { return saved_ == steps_[position_].chart; }
    /// The step that was saved (or opened); nothing where it can no longer be reached.
    [[nodiscard]] std::optional<std::size_t> saved_position() const;

private:
    std::vector<Step> steps_;
    std::size_t position_ = 0;
    std::shared_ptr<const Chart> saved_;
};

} // namespace padchart::document
