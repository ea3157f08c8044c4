#pragma once
// Settling what a merge left open: one of the two values, what both began with, or another one is put where the
// conflict is, and the conflict comes off the chart's list. Fields that only make sense together (a mark with its
// bearing; a number with its unit; width with height) are settled together, since they are one statement.

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::json {

enum class Settle {
    AsItIs, ///< what the chart holds now is right
    Ours,
    Theirs,
    Base ///< what both began with
};

enum class ConflictKind {
    Field,   ///< two values of one field
    Deleted, ///< one side took the thing off, the other edited it or still speaks of it
    Twins    ///< two things came by one id; both are on the chart, one of them under a new id
};
[[nodiscard]] ConflictKind kind_of(const document::Conflict& conflict);

/// What both began with can be put back: of a field that stands alone. Of a statement of several fields the conflict
/// tells only those that the two sides say differently, and half of an old statement would be one nobody made.
[[nodiscard]] bool knows_base(const document::Chart& chart, const document::Conflict& conflict);

/// Positions in the chart's list of conflicts that make one statement with this one, itself included, rising.
/// Requires: index < chart.conflicts.size().
[[nodiscard]] std::vector<std::size_t> statement_of(const document::Chart& chart, std::size_t index);

/// The chart with the whole statement settled. Of a deleted thing the side that has nothing takes it off; of twins
/// `Ours` takes the other's off and `Theirs` ours, `AsItIs` keeps both.
/// Errors: `Base` where knows_base is false; the thing is not on the chart any more; the value does not fit there any
/// more; then `AsItIs` still works. Requires: index < chart.conflicts.size().
[[nodiscard]] Result<document::Chart> settle(const document::Chart& chart, std::size_t index, Settle choice);

/// As above with a value of one's own for the field, as JSON: "\"10k\"", "4.7".
/// Requires: kind_of is Field.
[[nodiscard]] Result<document::Chart> settle_with(const document::Chart& chart, std::size_t index,
                                                  std::string_view json);

/// A text or number that a person typed as JSON of the kind that stands there now; nothing where it is neither, or a
/// number was due and none was typed.
[[nodiscard]] std::optional<std::string> as_json_like(std::string_view now, const std::string& typed);

/// JSON as people read it: "10k" without quotes, "nothing" for none, a list by its length.
[[nodiscard]] std::string value_in_words(std::string_view json);

} // namespace padchart::json
