#pragma once
// How far a part moved and turned, seen in the first chart's frame. Two charts may draw the same part in different own
// frames (another origin, drawn turned): where its numbered pads lie on those of the other, that is made up for.

#include <optional>
#include <string>
#include <vector>

#include "analysis/compare.hpp"

namespace padchart::analysis {

/// Between the part's own frames on the two charts.
struct OwnFrames {
    geometry::Affine before_from_after;
    bool same_pads = true; ///< as many, and each on its partner within the tolerance
    double worst_mm = 0.0; ///< between pads paired by number or place in the list
};

/// How the second chart's parts are drawn against the first's.
struct Drawn {
    bool mirrored = false;
    double scale = 1.0; ///< lengths of the second chart times this are those of the first
};

[[nodiscard]] OwnFrames own_frames(const document::Footprint& before, const document::Footprint& after,
                                   const Drawn& drawn, double tolerance_mm);

/// A pad or body that was drawn in another size.
struct Resized {
    std::string what; ///< "pad 2", "body"
    geometry::Vec2 before_mm;
    geometry::Vec2 after_mm;
    double by_mm = 0.0; ///< the larger of both differences
};

/// Extents along the first chart's own axes of the part that differ by more than the tolerance; the largest difference
/// first. Pads have partners only where `frames` says so.
[[nodiscard]] std::vector<Resized> resized(const document::Footprint& before, const document::Footprint& after,
                                           const OwnFrames& frames, double tolerance_mm);

struct Displacement {
    geometry::Vec2 by_mm;
    std::optional<double> turn_deg; ///< nothing where it lies on the other side or in a mirror
};

[[nodiscard]] Displacement displacement(const document::Footprint& before, const document::Footprint& after,
                                        const OwnFrames& frames, const geometry::Affine& before_from_after);

/// Nearest quarter and what is left over.
[[nodiscard]] Turn turn_of(double by_deg);

/// The tolerance of the options for this part.
[[nodiscard]] double moved_tolerance(const document::Footprint& part, const CompareOptions& options);

} // namespace padchart::analysis
