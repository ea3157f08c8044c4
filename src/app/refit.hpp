#pragma once
// Other copper for a part that is on the chart already: the family its pads were found to belong to, another family by
// name, another number of pads. What the technician has said of the part stays: name, value, role, class, condition,
// states of pads, limits, comment, and the mark where it is on the board.

#include <string_view>

#include "document/chart.hpp"
#include "patterns/fit_pattern.hpp"

namespace padchart::app {

/// The family's pads and body where the traced pads lie. Numbers stay the technician's where every pad bore one; a
/// measured height stays. Errors: no such part, a fit of other pads than the part's.
[[nodiscard]] Result<document::Chart> refitted(const document::Chart& chart, const document::Id& id,
                                               const patterns::PatternFit& fit);

/// Pads whose centres lie farther off than this are not those of the family, mm. Common practice, no source.
inline constexpr double kFamilyFits_mm = 0.15;

/// The family with measures read off the part's pads where they are as many and fit it, else with its usual measures in
/// the same place and turn. An empty key: the pads stay and belong to no family. Errors: no such part, no such family.
[[nodiscard]] Result<document::Chart> with_family(const document::Chart& chart, const document::Id& id,
                                                  std::string_view key);

/// A part still drawn as its family makes it gets other pads through the family's own count; any other part keeps what
/// is drawn and the count is put down as stated. Errors: no such part, a count below 0 or above 10,000.
[[nodiscard]] Result<document::Chart> with_pad_count(const document::Chart& chart, const document::Id& id, int count);

} // namespace padchart::app
