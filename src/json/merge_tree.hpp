#pragma once
// The merge itself, on the JSON of three charts: it knows objects, lists of things with ids, pads, and keys that belong
// together; every key that the program does not know is merged like one it knows.

#include <functional>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "document/chart.hpp"
#include "json/tree.hpp"

namespace padchart::json {

struct MergeInput {
    const Tree& base;
    const Tree& ours;
    const Tree& theirs;
    /// Ids that a side's own edits speak of: where the other deleted them they stay, and are a conflict.
    std::unordered_set<std::string> used_by_ours;
    std::unordered_set<std::string> used_by_theirs;
};

struct MergedText {
    std::string json; ///< on one line
    std::vector<document::Conflict> conflicts;
};

/// Keys with the same number make one statement and are taken from one side as a whole; 0: the key stands alone.
[[nodiscard]] int statement_group(std::string_view key);

/// Requires: each tree is an object.
[[nodiscard]] MergedText merge_trees(const MergeInput& input);

} // namespace padchart::json
