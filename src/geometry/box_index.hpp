#pragma once
// Which boxes touch this one? Built once over all boxes (GEOS STR-tree), then asked; build anew after an edit.

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include "geometry/box.hpp"

namespace padchart::geometry {

class BoxIndex {
public:
    explicit BoxIndex(std::span<const Box> boxes);
    BoxIndex(BoxIndex&&) noexcept;
    BoxIndex& operator=(BoxIndex&&) noexcept;
    ~BoxIndex();

    /// Positions, in rising order, of the boxes that overlap or touch `box`. Empty boxes are never found.
    [[nodiscard]] std::vector<std::size_t> touching(const Box& box) const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace padchart::geometry
