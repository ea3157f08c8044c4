#pragma once
// Parts by their ids, for whoever asks for many: the search goes on where the last one ended, so that ids in the order
// of the chart, as selections of all parts are, cost one look each. Where they come in another order, an index is made.

#include <cstddef>
#include <optional>
#include <unordered_map>

#include "document/chart.hpp"

namespace padchart::document {

class PartFinder {
public:
    /// Requires: the chart outlives it, and its parts stay as many and keep their ids.
    explicit PartFinder(const Chart& chart) : chart_(&chart) {}
    /// As find_part().
    [[nodiscard]] std::optional<std::size_t> find(const Id& id) {
        if (looks_ > kLooksPerPart * chart_->parts.size()) return find_in_index(id);
        const std::size_t count = chart_->parts.size();
        for (std::size_t k = 0; k < count; ++k) {
            const std::size_t i = next_ + k < count ? next_ + k : next_ + k - count;
            ++looks_;
            if (chart_->parts[i].id != id) continue;
            next_ = i + 1 < count ? i + 1 : 0;
            return i;
        }
        return std::nullopt;
    }

private:
    /// About what an index costs.
    static constexpr std::size_t kLooksPerPart = 8;

    [[nodiscard]] std::optional<std::size_t> find_in_index(const Id& id) {
        if (index_.empty())
            for (std::size_t i = 0; i < chart_->parts.size(); ++i)
                index_.try_emplace(chart_->parts[i].id, i);
        const auto found = index_.find(id);
        return found == index_.end() ? std::nullopt : std::optional(found->second);
    }

    const Chart* chart_;
    std::size_t next_ = 0;
    std::size_t looks_ = 0;
    std::unordered_map<Id, std::size_t> index_;
};

} // namespace padchart::document
