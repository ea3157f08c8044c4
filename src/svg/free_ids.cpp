#include "svg/free_ids.hpp"

namespace padchart::svg {

document::Id FreeIds::take(std::string_view prefix, std::string_view key) {
    document::Id id = document::id_of(prefix, key);
    if (taken_.insert(id.text).second) return id;
    const std::string seed = std::string(key) + "#";
    int& next = next_of_.try_emplace(std::string(prefix) + "#" + seed, 2).first->second;
    do
        id = document::id_of(prefix, seed + std::to_string(next++));
    while (!taken_.insert(id.text).second);
    return id;
}

} // namespace padchart::svg
