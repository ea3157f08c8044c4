#pragma once
// Two hands have edited copies of one chart: their edits together, field by field, as a version control's merge driver
// needs it. Things are the same by id; pads by their place in the list where nobody added or removed one. Edits of
// different fields combine, the same edit twice is one edit.
//
// Different edits of one field are a conflict: the chart takes `ours`, and both values stand in its list of conflicts.
// So are edits of fields that only make sense together (a mark with its bearing and meaning; a reading with its unit;
// width with height; a scale; limits of heat; a family with its parameters): they are taken from one side as a whole.
// Outlines are one field each.
//
// Nothing that somebody wrote is lost without a word: what one side deleted and the other edited, or still speaks of,
// stays and is a conflict; two notes, readings or other things that came by the same id on both sides both stay, one
// of them under a new id, and are a conflict, unless their name or trace shows them to be the same thing.
//
// The answer does not depend on who is `ours`, up to that name and the values it stands for: ids, the order of every
// list and the order of the conflicts are the same either way.

#include <string>
#include <vector>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::json {

struct MergeLabels {
    std::string ours = "ours";
    std::string theirs = "theirs";
};

struct MergeResult {
    document::Chart chart; ///< with earlier conflicts nobody has settled, and the new ones after them
    std::vector<document::Conflict> conflicts; ///< the new ones alone
};

/// Errors: the two edits together make a chart that may not be, which is then said.
/// Requires: document::fault_of finds nothing in any of the three.
[[nodiscard]] Result<MergeResult> merge(const document::Chart& base, const document::Chart& ours,
                                        const document::Chart& theirs, const MergeLabels& labels = {});

} // namespace padchart::json
