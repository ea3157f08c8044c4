#pragma once
// The definition of seating word for word: outlines moved point by point, overlaps by GEOS, every pair looked at. For
// parts whose pads lie along the part's frame.

#include <vector>

#include "document/footprint.hpp"
#include "geometry/overlay.hpp"

namespace padchart::test {

inline std::vector<geometry::Ring> outlines_about_centre(const document::Footprint& part) {
    geometry::Box box;
    for (const document::Pad& pad : part.pads)
        box.add(geometry::bounds(document::outline_in_part(pad)));
    std::vector<geometry::Ring> rings;
    for (const document::Pad& pad : part.pads)
        rings.push_back(
            geometry::transformed(document::outline_in_part(pad), geometry::Affine::translation(-box.centre())));
    return rings;
}

struct SlowLimits {
    double cover = 0.5;
    double bridge = 0.1;
};

inline bool slow_seats(const std::vector<geometry::Ring>& board, double turn_deg, geometry::Vec2 shift,
                       const SlowLimits& limits) {
    using geometry::Affine;
    std::vector<bool> taken(board.size(), false);
    for (const geometry::Ring& land : board) {
        const geometry::Ring moved =
            geometry::transformed(land, Affine::translation(shift) * Affine::rotation(Angle::degrees(turn_deg)));
        const double own = geometry::area(geometry::Polygon{moved, {}});
        int covering = 0;
        for (std::size_t j = 0; j < board.size(); ++j) {
            if (!geometry::bounds(moved).overlaps(geometry::bounds(board[j]))) continue;
            const double share = geometry::area(geometry::intersect({{moved, {}}}, {{board[j], {}}})) / own;
            if (share >= limits.cover) {
                if (taken[j]) return false;
                taken[j] = true;
                ++covering;
            } else if (share > limits.bridge) {
                return false;
            }
        }
        if (covering != 1) return false;
    }
    return true;
}

} // namespace padchart::test
