#pragma once
// A search in a list of words: what stands there exactly comes before what only holds it within. "1005" finds the chip
// 1005M before the one whose inch code is 01005.

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace padchart::app {

/// How well a text holds what is searched for, best first.
enum class Match { Exact, MetricCode, Beginning, Within };

struct Found {
    std::size_t at = 0; ///< in the list
    Match match = Match::Within;
};

/// Those in which every word of `wanted` occurs, case ignored: the best first, else as they stood. All of them where
/// nothing is wanted. MetricCode: a size code that was typed without its M.
[[nodiscard]] std::vector<Found> found_in(std::span<const std::string> texts, std::string_view wanted);

/// "Nothing found for "xyz"."
[[nodiscard]] std::string nothing_found(std::string_view wanted);

/// "Chip metric 1608M (inch 0603)" of "Chip 1608M (inch 0603)": four digits alone may be either. Other words as they
/// are.
[[nodiscard]] std::string with_metric_said(std::string_view name);

} // namespace padchart::app
