#pragma once
// Keep-outs before and after: what was done about each, and what may still lie on the board.

#include "analysis/compare.hpp"

namespace padchart::analysis {

/// Appends the changes of keep-outs. The same keep-out: by id; then by name, on the same side before the other; then,
/// where the report says that places were compared, by lying on the same place of the same side.
void compare_keep_outs(const document::Chart& before, const document::Chart& after, CompareReport& report);

/// What the second chart says is still taped, shielded or off the board.
void list_left_in_place(const document::Chart& after, CompareReport& report);

} // namespace padchart::analysis
