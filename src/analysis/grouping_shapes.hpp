#pragma once
// The geometry of grouping: lands as upright boxes of their own, and the sets that look like one part. For
// grouping.cpp.

#include <cstddef>
#include <stop_token>
#include <string>
#include <vector>

#include "analysis/grouping.hpp"
#include "geometry/polygon.hpp"

namespace padchart::analysis {

struct DrawnLand {
    LoosePad from;
    geometry::Ring outline; ///< seen from its side, mm, y down
    geometry::Vec2 centre;
    geometry::Box box;
    double longer_mm = 0.0; ///< sides of its own box, whatever its turn
    double shorter_mm = 0.0;
};

[[nodiscard]] DrawnLand land_of(LoosePad from, geometry::Ring outline);

struct LandSet {
    GroupKind kind = GroupKind::Single;
    std::vector<std::size_t> lands;
    std::string why;
    std::size_t gaps = 0; ///< places of its rows without a land
};

/// Every land in exactly one set, in the order of their first lands; told to stop, whatever has been found. All of one
/// side.
[[nodiscard]] std::vector<LandSet> sets_of(const std::vector<DrawnLand>& lands, const std::stop_token& stop = {});

} // namespace padchart::analysis
