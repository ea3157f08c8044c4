#pragma once
// Ids for the things of a chart that is being made, each from its key: as document::free_id gives them, without asking
// the whole chart every time. A trace may give one name to a hundred thousand parts.

#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>

#include "document/id.hpp"

namespace padchart::svg {

class FreeIds {
public:
    /// The first of the key's ids that was not given yet: of the key itself, then of key#2, key#3, ...
    [[nodiscard]] document::Id take(std::string_view prefix, std::string_view key);

private:
    std::unordered_set<std::string> taken_;
    std::unordered_map<std::string, int> next_of_; ///< by prefix and key: what is used up is not tried again
};

} // namespace padchart::svg
