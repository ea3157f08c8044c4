#pragma once
// How much of the board somebody has looked at, in which order to look at the rest, and what nobody has said a word of.
// Silence is not "good": a part that was never checked counts as not checked.

#include <string>
#include <vector>

#include "document/chart.hpp"

namespace padchart::analysis {

struct Coverage {
    std::size_t parts = 0;
    std::size_t checked = 0;               ///< somebody has said whether the part is there
    std::vector<document::Id> not_checked; ///< in chart order
    /// Parts of which nothing is said beyond where their copper lies: no class, role, value, state, record, limits,
    /// nets, comment, note, reading or heat plan. A name alone may come from a trace and says nothing. In chart order.
    std::vector<document::Id> not_mentioned;
};
[[nodiscard]] Coverage coverage(const document::Chart& chart);
/// "31 of 42 checked".
[[nodiscard]] std::string in_words(const Coverage& coverage);

/// The parts of a side as one reads: rows from the top, each from the left, as seen from that side. A row
/// begins with the topmost part left and takes what lies lower by no more than the height of the middle part.
[[nodiscard]] std::vector<document::Id> reading_order(const document::Chart& chart, document::Side side);

} // namespace padchart::analysis
