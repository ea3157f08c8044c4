#pragma once
// What was selected when an action began that made a step. History keeps what was selected after it: where undo takes
// that away, as it does with copies, the eye should find what they were copied from.

#include <algorithm>
#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

#include "document/chart.hpp"

namespace padchart::app {

class SelectionBefore {
public:
    /// `step` is the chart after the action.
    void keep(const std::shared_ptr<const document::Chart>& step, std::vector<document::Id> selection) {
        std::erase_if(kept_, [&](const Kept& kept) { return kept.step.expired() || kept.step.lock() == step; });
        kept_.push_back({step, std::move(selection)});
    }
    /// Empty where nothing is known of the step.
    [[nodiscard]] std::vector<document::Id> of(const std::shared_ptr<const document::Chart>& step) const {
        const auto found =
            std::find_if(kept_.begin(), kept_.end(), [&](const Kept& kept) { return kept.step.lock() == step; });
        return found == kept_.end() ? std::vector<document::Id>() : found->selection;
    }

private:
    struct Kept {
        std::weak_ptr<const document::Chart> step; ///< gone when history has dropped it
        std::vector<document::Id> selection;
    };
    std::vector<Kept> kept_;
};

} // namespace padchart::app
