#pragma once
// A shape drawn by hand over whatever lies beneath, and what it becomes on the chart. Board frame, the chart's own
// lengths. No pointer, no window.

#include <array>
#include <span>
#include <string>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::app {

enum class TraceWhat { Outline, CutOut, Body, Pad, KeepOut, Shield, Hole };
enum class TraceHow {
    Polygon,   ///< by its corners
    Rectangle, ///< by two corners, square to the board
    Turned,    ///< a rectangle by the ends of one side and a point of the side across
    Round      ///< by three points of its edge
};

/// "board outline", "cut-out", "body", "pad", "keep-out", "shield", "hole".
[[nodiscard]] std::string_view to_text(TraceWhat what);

struct TracedShape {
    document::ShapeKind kind = document::ShapeKind::Polygon; ///< Rectangle, Round or Polygon
    geometry::Ring ring;                                     ///< as drawn; of a round one, as a polygon
    geometry::Vec2 centre;
    geometry::Vec2 axis{1.0, 0.0}; ///< of a rectangle: the direction of its width
    double width = 0.0, height = 0.0;
};

/// How many points the shape needs; a polygon at least.
[[nodiscard]] std::size_t points_needed(TraceHow how);

/// Requires: points.size() >= points_needed(how).
/// Errors: no area, three points in a line, a polygon that crosses itself (with the place).
[[nodiscard]] Result<TracedShape> traced_shape(TraceHow how, std::span<const geometry::Vec2> points);

struct Traced {
    document::Chart chart;
    std::string label;  ///< "Draw a pad of U4"
    document::Id thing; ///< part, keep-out or shield it went into; empty for the board
};

/// A body goes to the part without one whose pads it lies among, else makes a part; either way it takes in the loose
/// pads it lies round. A pad goes to `part` where one is given and its body
/// is not farther off than it is long, else to the part whose body lies round it, else becomes a part of its own, and
/// without a number, since the order of drawing is no order of pins (app/pad_numbering.hpp); an
/// outline takes the place of the one there is and keeps the cut-outs that still lie in it; a hole goes to the smallest
/// keep-out or shield of that side it lies in. Errors: a cut-out without an outline or not inside it; a hole in no
/// area, or one that crosses its edge or another hole; a locked part; what may not stand in a chart.
[[nodiscard]] Result<Traced> with_traced(const document::Chart& chart, TraceWhat what, const TracedShape& shape,
                                         document::Side side, const document::Id& part = {});

/// The part is no longer what its family says; what was said of it stays.
void leave_family(document::Footprint& part);

} // namespace padchart::app
