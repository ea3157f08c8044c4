#include "document/history.hpp"

#include <cassert>
#include <utility>

namespace padchart::document {

History::History(Chart chart, std::string label) {
    steps_.push_back({std::make_shared<const Chart>(std::move(chart)), std::move(label), {}, {}});
    saved_ = steps_.front().chart;
}

bool History::commit(Chart chart, std::string label, std::vector<Id> selection, std::vector<Id> selection_before) {
    if (chart == *steps_[position_].chart) return false;
    steps_.resize(position_ + 1);
    steps_.push_back({std::make_shared<const Chart>(std::move(chart)), std::move(label), std::move(selection),
                      std::move(selection_before)});
    ++position_;
    return true;
}

bool History::commit_repeated(Chart chart, std::string label, std::vector<Id> selection,
                              std::vector<Id> selection_before) {
    const Step& now = steps_[position_];
    const bool repeats = position_ > 0 && now.label == label && now.selection == selection && !is_saved();
    if (!repeats) return commit(std::move(chart), std::move(label), std::move(selection), std::move(selection_before));
    if (chart == *now.chart) return false;
    steps_.resize(position_ + 1);
    steps_[position_].chart = std::make_shared<const Chart>(std::move(chart));
    return true;
}

bool History::undo() {
    if (!can_undo()) return false;
    --position_;
    return true;
}

bool History::redo() {
    if (!can_redo()) return false;
    ++position_;
    return true;
}

void History::go_to(std::size_t position) {
    assert(position < steps_.size());
    position_ = position;
}

std::optional<std::size_t> History::saved_position() const {
    for (std::size_t i = 0; i < steps_.size(); ++i)
        if (steps_[i].chart == saved_) return i;
    return std::nullopt;
}

} // namespace padchart::document
