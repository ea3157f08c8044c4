#pragma once
// The order of a list that two hands have edited.

#include <string>
#include <unordered_set>
#include <vector>

namespace padchart::json {

/// Every word of `kept` once, each after what it came after in `base`, `ours` and `theirs`. Where those leave it open
/// the smaller word comes first, so that swapping `ours` and `theirs` changes nothing; where both sides changed the
/// order against each other, that of `ours` stands.
/// Requires: no word twice in one list; each of `kept` in one list at least.
[[nodiscard]] std::vector<std::string> merged_order(const std::vector<std::string>& base,
                                                    const std::vector<std::string>& ours,
                                                    const std::vector<std::string>& theirs,
                                                    const std::unordered_set<std::string>& kept);

} // namespace padchart::json
