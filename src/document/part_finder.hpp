#pragma once
// Parts by their ids, for whoever asks for many: the search goes on where the last one ended, so that ids in the order
// of the chart, as selections of all parts are, cost one look each.

#include <cstddef>
#include <optional>

#include "document/chart.hpp"

namespace padchart::document {

class PartFinder {
public:
    /// Requires: the chart outlives it, and its parts stay as many and keep their ids.
    explicit PartFinder(const Chart& chart) : chart_(&chart) {}
    /// As find_part().
    [[nodiscard]] std::optional<std::size_t> find(const Id& id) {
        const std::size_t count = chart_->parts.size();
        for (std::size_t k = 0; k < count; ++k) {
            const std::size_t i = next_ + k < count ? next_ + k : next_ + k - count;
            if (chart_->parts[i].id != id) continue;
            next_ = i + 1 < count ? i + 1 : 0;
            return i;
        }
        return std::nullopt;
    }

private:
    const Chart* chart_;
    std::size_t next_ = 0;
};

} // namespace padchart::document
