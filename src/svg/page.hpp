#pragma once
// The page of a drawing: how the root's width, height and viewBox make a user unit a millimetre.

#include <optional>
#include <string>

#include "svg/element_style.hpp"

namespace padchart::svg {

struct Page {
    geometry::Affine map;        ///< from the root's user units to the page: mm, or user units without a size
    double viewport_width = 0.0; ///< what percentages of the root's children are of, user units
    double viewport_height = 0.0;
    std::optional<double> mm_per_unit;
    double width = 0.0; ///< of the page, mm (user units without a size); 0: not stated
    double height = 0.0;
    bool size_in_px = false;
    bool draws = true; ///< false: a viewBox of no size, nothing is drawn
    std::string size_note;
};

/// `attributes` with styles applied.
[[nodiscard]] Page page_of(const Attributes& attributes, const LengthContext& lengths, const Remark& remark);

} // namespace padchart::svg
