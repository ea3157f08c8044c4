#pragma once
// What a merge has to know of ids before it looks at fields: which things came twice under one id, and which deleted
// ones the other side still speaks of.

#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "document/chart.hpp"

namespace padchart::json {

struct Renamed {
    document::Chart ours; ///< links to what has a new id have it too
    document::Chart theirs;
    std::vector<document::Conflict> conflicts; ///< both things in full
};

/// Of two things that came under one id, whether it is that of `ours` which keeps it: the one whose JSON is smaller, so
/// that it does not matter who is `ours`.
[[nodiscard]] bool ours_keeps_id(std::string_view ours_json, std::string_view theirs_json);

/// Gives a new id to one of two different things that `ours` and `theirs` added under one id.
[[nodiscard]] Renamed with_own_ids(const document::Chart& base, const document::Chart& ours,
                                   const document::Chart& theirs);

/// Ids that a note, reading or heat plan speaks of which `side` added or edited.
[[nodiscard]] std::unordered_set<std::string> spoken_of(const document::Chart& base, const document::Chart& side);

/// True when `side` has things, or places and sizes of things, that `base` has not.
[[nodiscard]] bool has_new_lengths(const document::Chart& base, const document::Chart& side);

} // namespace padchart::json
