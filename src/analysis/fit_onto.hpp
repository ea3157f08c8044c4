#pragma once
// In which turns do the lands of one part lie on those of another? For carrying what is known of a part on one chart
// over to the same part on another, whatever turns and frames the two were traced in. Same rules and limits as fit.hpp.

#include <cstddef>
#include <vector>

#include "document/footprint.hpp"

namespace padchart::analysis {

struct OntoTurn {
    double turn_deg = 0.0; ///< from the moving part's own frame to the fixed one's, counter-clockwise, [0, 360)
    bool matches = false;  ///< every land lies on its own within the tolerance; else it could only be soldered so
    std::vector<std::size_t> partner; ///< for each pad of the moving part, the pad of the fixed one it lies on
};

/// Turns at which the moving part seats on the fixed one's lands, in rising order. Tried: quarters between the two
/// parts' own axes, and every turn that brings an outermost land onto an outermost one.
/// Empty where none does, where the numbers of pads differ, or where a pad of either has no area.
/// Requires: tolerance_mm >= 0.
[[nodiscard]] std::vector<OntoTurn> turns_onto(const document::Footprint& moving, const document::Footprint& fixed,
                                               double tolerance_mm);

/// The mirrored part would seat at some quarter: one of the two was traced seen through the board.
[[nodiscard]] bool seats_mirrored(const document::Footprint& moving, const document::Footprint& fixed);

} // namespace padchart::analysis
