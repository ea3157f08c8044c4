#pragma once
// Which part of the second chart is which part of the first.

#include <cstddef>
#include <vector>

#include "document/chart.hpp"

namespace padchart::analysis {

struct PartPair {
    std::size_t before = 0; ///< position in the chart's parts
    std::size_t after = 0;
};

/// By id, then by a name that both charts use once. In the order of the first chart.
[[nodiscard]] std::vector<PartPair> match_parts_by_id_and_name(const document::Chart& before,
                                                               const document::Chart& after);

/// The second chart on the first.
struct Laid {
    geometry::Affine before_from_after;
    bool sides_swapped = false; ///< what the second chart calls top, the first calls bottom
    double moved_mm = 0.1;      ///< pads farther apart than this, or 10 % of the narrowest land, are other pads
};

/// Adds pairs among the parts still single: same name, on the same side before another, nearest first, within 5 mm;
/// then parts of which one has no name, on the same side, with the same number of pads, within 0.5 mm; then parts of
/// another name whose pads lie on the same places of the same side: somebody renamed them; then, however far apart, a
/// name that both use once on that side. The gates: common practice, no source.
[[nodiscard]] std::vector<PartPair> match_parts_by_place(const document::Chart& before, const document::Chart& after,
                                                         const Laid& laid, const std::vector<PartPair>& pairs);

/// For charts whose places cannot be compared in mm: a name that both use once on that side; then parts that share
/// their name with others in the order of the lists, where both charts have as many of them; then, where neither chart
/// has a scale, parts that are called otherwise and lie on the same spot in the trace's own units.
[[nodiscard]] std::vector<PartPair> match_parts_by_order(const document::Chart& before, const document::Chart& after,
                                                         const std::vector<PartPair>& pairs);

/// Where a part is, for matching and for laying charts on each other: the centre of its extent on the board.
[[nodiscard]] geometry::Vec2 middle_on_board(const document::Footprint& part);

} // namespace padchart::analysis
