#pragma once
// Charts of any size for tests and benchmarks: the same arguments make the same chart on every machine. Parts stand on
// a loose grid on both sides of a board with a notch and a mounting hole; some overlap, most are near each other.

#include <cstddef>
#include <cstdint>

#include "document/chart.hpp"

namespace padchart::testing {

/// Parts with rectangles, discs, oblongs and free polygons for pads and bodies, ids "part-1", "part-2", ..., a few
/// heat-sensitive, absent, without body or with a mark on record; two keep-outs. Requires: pads_per_part > 0.
[[nodiscard]] document::Chart make_chart(std::size_t parts, std::size_t pads_per_part, std::uint64_t variant);

} // namespace padchart::testing
