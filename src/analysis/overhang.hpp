#pragma once
// How far the ends of a two-terminal chip lie beside their lands, measured on the drawn outlines, against the limits of
// IPC-A-610 for chip components (clauses 8.3.2.1 to 8.3.2.3 of revision F, read in its ballot text; later revisions
// were not seen). An aid to the eye: the joint itself is judged under the loupe, and by the standard, not by this.
//
//   side overhang A: how far an end reaches past its land's side. Defect over 50 % (class 1, 2) or 25 % (class 3) of
//                    the width of the end or of the land, the smaller.
//   end overhang B:  how far it reaches past the land's outer end. Defect, however little, in every class.
//   end joint C:     width of the end that lies over the land. Defect under 50 % (class 1, 2) or 75 % (class 3) of the
//                    same width.
// The limit itself is still acceptable. The end of the drawn body counts as the end of the termination.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "document/chart.hpp"

namespace padchart::analysis {

/// Of the product, as IPC-A-610 counts them.
enum class ProductClass { One = 1, Two = 2, Three = 3 };

struct EndOverhang {
    std::string pad;         ///< its number, or "#2" for the second without one
    double width_mm = 0.0;   ///< of the end or the land, the smaller: what the shares are of
    double side_mm = 0.0;    ///< A
    double end_mm = 0.0;     ///< B
    double joint_mm = 0.0;   ///< C
    double past_mm = 0.0;    ///< B with its sign: negative as far as the end lies inside the land's edge
    double side_share = 0.0; ///< A / width
    double joint_share = 0.0;

    [[nodiscard]] bool is_side_defect(ProductClass product) const;
    [[nodiscard]] bool is_end_defect() const;
    [[nodiscard]] bool is_joint_defect(ProductClass product) const;
    [[nodiscard]] bool is_defect(ProductClass product) const;
};

struct PartOverhang {
    document::Id part;
    std::array<EndOverhang, 2> ends; ///< in the order of the pads
    /// The chart's measuring uncertainty could change an answer for some class: measure again.
    bool is_doubtful = false;
};

/// Nothing for what is no chip with two lands and a drawn body, or is not on the board.
[[nodiscard]] std::optional<PartOverhang> overhang_of(const document::Footprint& part, double uncertainty_mm);

/// Of all chips of the chart, in its order. Empty without a scale.
[[nodiscard]] std::vector<PartOverhang> overhang(const document::Chart& chart);

} // namespace padchart::analysis
