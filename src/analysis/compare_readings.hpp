#pragma once
// What meters showed before and after at the same point, quantity and reference. Where a point was measured more than
// once on a chart with the same leads and power, the last reading of it counts (by date, then by its place in the
// list).

#include <functional>
#include <vector>

#include "analysis/compare.hpp"

namespace padchart::analysis {

/// The same part on the first chart, or the id itself where there is none.
using IdBefore = std::function<document::Id(const document::Id& after)>;

/// Appends the changes; gives the number of points measured on both charts. Points without a part are the same within
/// 1 mm (common practice, no source) on the same side.
std::size_t compare_readings(const document::Chart& before, const document::Chart& after, const IdBefore& id_before,
                             const geometry::Affine& before_from_after, bool sides_swapped, std::vector<Change>& out);

/// A value in words: "0.482 V", "OL", "short".
[[nodiscard]] std::string value_in_words(const document::Reading& reading);

/// Factor from the second unit to the first where they differ by a decimal prefix: 0.001 for "V" and "mV"; 1 for the
/// same text; nothing for units that are not of one kind.
[[nodiscard]] std::optional<double> unit_factor(std::string_view to, std::string_view from);

} // namespace padchart::analysis
