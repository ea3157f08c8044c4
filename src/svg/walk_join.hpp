#pragma once
// Puts the parts of a drawing together again, in order: the same drawing as of one walk through all of it.

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "svg/walk_part.hpp"

namespace padchart::svg {

class PartJoin {
public:
    /// Requires: called in the order of the parts, for every one.
    void add(WalkedPart part);
    [[nodiscard]] const Drawing& drawing() const { return drawing_; }
    [[nodiscard]] Drawing take() { return std::move(drawing_); }

private:
    /// Position in the whole list of groups for each of the part's.
    using Places = std::vector<std::int32_t>;

    [[nodiscard]] Places add_groups(WalkedPart& part);
    void add_shapes(WalkedPart& part, const Places& places);
    void open_for_next(WalkedPart& part, const Places& places);
    /// What earlier parts counted in the container at that position of the part's groups, if they began it.
    [[nodiscard]] const Counters* counted_before(const WalkedPart& part, std::int32_t group) const;

    Drawing drawing_;
    bool is_first_ = true;
    std::vector<OpenContainer> open_; ///< where the parts so far end; positions in the whole list
};

} // namespace padchart::svg
