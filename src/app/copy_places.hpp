#pragma once
// Where copies of the selection go, and what is to be said of where they came to lie.

#include <span>
#include <string>

#include "document/chart.hpp"
#include "geometry/box.hpp"

namespace padchart::app {

/// The middle of a ring, board mm, on which neighbours with this step between them do not touch: as far from the middle
/// of `things` as that takes, on the side where the middle of `board` lies (below, where the two are the same). To
/// 0.01 mm. Requires: `things` is not empty.
[[nodiscard]] geometry::Vec2 ring_middle(const geometry::Box& things, Angle step, const geometry::Box& board);

/// "2 of 3 copies lie off the board. R77 lies on C5." Empty where there is nothing to say. A part lies off the board
/// where a corner of it does; one lies on another of its side where their bodies overlap.
[[nodiscard]] std::string remarks_on_copies(const document::Chart& chart, std::span<const document::Id> copies);

/// The same of parts that were moved from their places in `before`: what was so already is not said again.
[[nodiscard]] std::string remarks_on_moved(const document::Chart& before, const document::Chart& chart,
                                           std::span<const document::Id> moved);

} // namespace padchart::app
