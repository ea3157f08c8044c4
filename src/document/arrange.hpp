#pragma once
// Putting several parts in order, as pure edits: in line, at even distances, mirrored to the far side. Board frame: mm,
// x right, y down, seen from the top; who looks at the bottom side swaps left and right before asking.
//
// A locked part stays where it is. In aligning it is what the others are brought in line with; in spreading it may only
// be an outermost one.

#include <span>
#include <vector>

#include "base/result.hpp"
#include "document/chart.hpp"
#include "geometry/box.hpp"

namespace padchart::document {

/// What of a part is brought in line.
enum class Extent {
    Body,
    Pads
}; ///< Body: where there is none, the box round the pads; Pads: where there are none, the body

/// Box of that on the board; empty where the part has neither.
[[nodiscard]] geometry::Box box_of(const Footprint& part, Extent extent);

/// Which line. Left is smaller x, top is smaller y.
enum class Line { Left, Centre, Right, Top, Middle, Bottom };

/// To the line of the box round all of them, or round the locked ones where there are any.
/// Errors: fewer than two parts; none that may move; an id of no part.
[[nodiscard]] Result<Chart> align(const Chart& chart, std::span<const Id> ids, Line line, Extent extent);

enum class Axis { X, Y };
enum class Spread { Centres, Gaps };

/// The outermost two stay, those between come to equal distances of their centres, or with equal gaps, in the order
/// they lie. Gaps are of the boxes of `extent` along the axis, and may be below 0 where there is no room.
/// Errors: fewer than three parts; a locked one in between; an id of no part.
[[nodiscard]] Result<Chart> spread(const Chart& chart, std::span<const Id> ids, Axis axis, Spread what, Extent extent);

/// The line a part is laid over, as one lays a board over.
struct FoldLine {
    Axis along = Axis::Y; ///< Y: the vertical x = at_mm; X: the horizontal y = at_mm
    double at_mm = 0.0;
};

/// Lifted, laid over about the line and put down on the other side. Twice is where it was.
/// Errors: one of them is locked; an id of no part.
[[nodiscard]] Result<Chart> fold_to_far_side(const Chart& chart, std::span<const Id> ids, FoldLine line);

/// Those of `ids` that are not locked, in their order. Ids of no part are left out.
[[nodiscard]] std::vector<Id> movable(const Chart& chart, std::span<const Id> ids);

} // namespace padchart::document
