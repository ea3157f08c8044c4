#pragma once
// How a viewBox is fitted into a viewport: SVG 1.1 sections 7.7 and 7.8.

#include <optional>
#include <string_view>

#include "geometry/affine.hpp"

namespace padchart::svg {

struct ViewBox {
    double x = 0.0;
    double y = 0.0;
    double width = 0.0;
    double height = 0.0;
};

/// Nothing when the text is not four numbers or a size is negative. A size of 0 is kept: it draws nothing.
[[nodiscard]] std::optional<ViewBox> view_box_of(std::string_view text);

struct Fit {
    double align_x = 0.5; ///< 0: xMin, 0.5: xMid, 1: xMax
    double align_y = 0.5;
    bool stretch = false; ///< "none"
    bool slice = false;
};

/// The default (xMidYMid meet) where the text is not understood.
[[nodiscard]] Fit fit_of(std::string_view text);

/// From user units in the viewBox to units of the viewport, whose top left is the origin.
/// Requires: box.width > 0, box.height > 0.
[[nodiscard]] geometry::Affine fitted(const ViewBox& box, const Fit& fit, double width, double height);

} // namespace padchart::svg
