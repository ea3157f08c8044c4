#pragma once
// What an affine map makes of a box, boxed again.

#include "geometry/affine.hpp"
#include "geometry/box.hpp"

namespace padchart::geometry {

/// The box round the corners as they are mapped; of an empty box an empty one.
[[nodiscard]] constexpr Box mapped(const Affine& map, const Box& box) {
    Box out;
    if (box.is_empty()) return out;
    for (const Vec2 corner : {box.min, box.max, Vec2{box.min.x, box.max.y}, Vec2{box.max.x, box.min.y}})
        out.add(map(corner));
    return out;
}

} // namespace padchart::geometry
