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

/// Adds pairs among the parts still single: same name, nearest first, within 5 mm; then parts of which one has no name,
/// with the same number of pads, within 0.5 mm. Both gates: common practice, no source.
[[nodiscard]] std::vector<PartPair> match_parts_by_place(const document::Chart& before, const document::Chart& after,
                                                         const geometry::Affine& before_from_after,
                                                         const std::vector<PartPair>& pairs);

/// Where a part is, for matching and for laying charts on each other: the centre of its extent on the board.
[[nodiscard]] geometry::Vec2 middle_on_board(const document::Footprint& part);

} // namespace padchart::analysis
