#pragma once
// What a merge has to know of ids before it looks at fields: which things came twice under one id, and which deleted
// ones the other side still speaks of.

#include <string>
#include <unordered_set>
#include <vector>

#include "document/chart.hpp"

namespace padchart::json {

struct Renamed {
    document::Chart theirs;                    ///< links to what has a new id have it too
    std::vector<document::Conflict> conflicts; ///< both things in full
};

/// Gives a new id to what `theirs` added under an id that `ours` gave to something else.
[[nodiscard]] Renamed with_own_ids(const document::Chart& base, const document::Chart& ours,
                                   const document::Chart& theirs);

/// Ids that a note, reading or heat plan speaks of which `side` added or edited.
[[nodiscard]] std::unordered_set<std::string> spoken_of(const document::Chart& base, const document::Chart& side);

/// True when `side` has things, or places and sizes of things, that `base` has not.
[[nodiscard]] bool has_new_lengths(const document::Chart& base, const document::Chart& side);

} // namespace padchart::json
