#pragma once
// Where parts in the hand come to lie: their pads on other pads, else well beside their neighbours, else on the grid.
// Made once a gesture from the chart as it was when the gesture began. Board frame, mm.

#include <vector>

#include "app/snap.hpp"
#include "app/snap_guides.hpp"

namespace padchart::app {

/// What the user wants to be met.
struct SnapDesk {
    bool pads = true;
    bool alignment = true;
    bool pitch = true;     ///< and midway, and opposite
    double grid_mm = 0.01; ///< finer than any hand, and the file stays readable
};

struct PartShift {
    geometry::Vec2 by;
    Snap pad;                  ///< kind None where no pad was met
    std::vector<Guide> guides; ///< of the neighbours that were
    geometry::Vec2 at;         ///< middle of what moves, where it comes to lie

    [[nodiscard]] bool is_free() const { return pad.kind == SnapKind::None && guides.empty(); }
};

class PartSnap {
public:
    PartSnap() = default;
    /// `moving`: where they lie before the move. They do not meet themselves.
    PartSnap(const document::Chart& chart, document::Side side, const std::vector<document::Footprint>& moving);

    /// `suspended`: only the grid of a hundredth is kept.
    [[nodiscard]] PartShift shift(geometry::Vec2 by, double reach, const SnapDesk& wanted, bool suspended) const;

private:
    SnapField pads_;
    std::vector<GuideThing> things_;
    std::vector<geometry::Vec2> anchors_; ///< centres of the moving pads
    GuideThing moving_;
    const char* unit_ = "mm";
};

void add_part_shift(scene::Scene& out, const PartShift& shift, document::Side seen_from, const Pointer& pointer);

} // namespace padchart::app
