#include "app/newer_file.hpp"

#include <algorithm>

namespace padchart::app {
namespace {

/// The chart in hand is that of the step, or was made from it.
bool comes_from(const document::History& history, const std::shared_ptr<const document::Chart>& chart) {
    const auto& steps = history.steps();
    const auto end = steps.begin() + static_cast<std::ptrdiff_t>(history.position()) + 1;
    return std::any_of(steps.begin(), end, [&](const document::Step& step) { return step.chart == chart; });
}

} // namespace

std::optional<std::size_t> NewerFiles::expected(const document::History& history,
                                                std::optional<std::size_t> known) const {
    for (const TakenFile& file : taken_)
        if (!comes_from(history, file.chart)) return file.older;
    return known;
}

void NewerFiles::drop_unreachable(const document::History& history) {
    std::erase_if(taken_, [&](const TakenFile& file) { return !comes_from(history, file.chart); });
}

void NewerFiles::take(const document::History& history, std::optional<std::size_t> older) {
    taken_.push_back({history.snapshot(), older});
}

} // namespace padchart::app
