#pragma once
// Numbers for hand-drawn pads, on request only: by the rule of what their part looks like.

#include <string>

#include "app/editor.hpp"

namespace padchart::app {

struct Numbered {
    document::Chart chart;
    std::string words; ///< what was done and what is still to be looked at
};

/// Every pad anew by analysis::numbers_by_rule; of the ways round in which its pads look alike, the one with the first
/// pad nearest to the mark of pin 1 where one is on record. Readings follow their pads.
/// Errors: no such part, a locked one, no pads; a pad seems to be lacking.
[[nodiscard]] Result<Numbered> numbered_by_rule(const document::Chart& chart, const document::Id& id);

/// A part that stays where it is and of which a pad has no number. Not of loose pads that may belong to several parts:
/// those are put together first.
[[nodiscard]] bool lacks_numbers(const document::Footprint& part);

/// Of the one part that is selected, as one step of history. Requires: one part is selected.
void number_selected_pads(Editor& editor);

} // namespace padchart::app
