#pragma once
// The order of a list that two hands have edited.

#include <string>
#include <unordered_set>
#include <vector>

namespace padchart::json {

/// Every word of `kept` once. Words of `base` stand as they stood there, or as the one side that changed their order
/// has them; where both changed it in different ways, that of `base` stands. A word that was added comes after what it
/// came after on its own side; where that leaves it open the smaller word comes first, and so it does where the two
/// sides added words against each other. Swapping `ours` and `theirs` changes nothing. Requires: no word twice in one
/// list; each of `kept` in one list at least.
[[nodiscard]] std::vector<std::string> merged_order(const std::vector<std::string>& base,
                                                    const std::vector<std::string>& ours,
                                                    const std::vector<std::string>& theirs,
                                                    const std::unordered_set<std::string>& kept);

} // namespace padchart::json
