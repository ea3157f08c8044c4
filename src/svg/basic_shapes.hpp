#pragma once
// The basic shapes of SVG (SVG 1.1 chapter 9, SVG 2 chapter 10) as outlines, sizes already in user units.

#include <optional>
#include <string>
#include <string_view>

#include "svg/outline.hpp"

namespace padchart::svg {

struct RectSizes {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
    std::optional<double> rx, ry; ///< nothing: auto
};

/// Requires: width > 0, height > 0. Radii as the standard says: auto takes the other, half a side is the most.
void add_rect(Outline& outline, const RectSizes& sizes);

/// Starts at 3 o'clock and runs clockwise.
void add_ellipse(Outline& outline, Vec2 centre, double rx, double ry);

void add_line(Outline& outline, Vec2 from, Vec2 to);

struct PointsFault {
    bool fatal = false; ///< no point list at all: browsers draw nothing
    std::string message;
};

/// `points` of polyline and polygon.
[[nodiscard]] std::optional<PointsFault> add_points(Outline& outline, std::string_view text, bool close);

} // namespace padchart::svg
