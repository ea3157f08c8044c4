#pragma once
// Everything that can differ between one part before and the same part after.

#include <vector>

#include "analysis/compare.hpp"

namespace padchart::analysis {

/// What holds for every part of the two charts.
struct PartContext {
    const CompareOptions& options;
    geometry::Affine before_from_after;
    bool places_compared = true;
    bool sides_swapped = false;
    bool drawn_mirrored = false; ///< a mirror image on which nobody swapped the sides
    double scale = 1.0;          ///< lengths of the second chart times this are those of the first
};

/// Appends the changes.
void compare_parts(const document::Footprint& before, const document::Footprint& after, const PartContext& context,
                   std::vector<Change>& out);

/// "R7", or "the part at 12.5, 3.0" where it has no name.
[[nodiscard]] std::string spoken_name(const document::Footprint& part);

} // namespace padchart::analysis
