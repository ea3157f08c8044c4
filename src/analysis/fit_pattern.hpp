#pragma once
// A part's lands brought to the part's own axes, about the lands' own centre, free of how the part is placed.
// Shared by the fit_*.cpp only.
//
// Own axes: the direction (of four, a quarter turn apart) that most of the straight copper edges follow, weighed by
// their length. Where the copper has none (round lands), the body's edges, then the directions to the nearest lands,
// then the frame the part is kept in. So a part traced askew answers like one that lies straight. Own centre: middle of
// the box round the lands in those axes.

#include <vector>

#include "analysis/fit_cover.hpp"
#include "document/footprint.hpp"

namespace padchart::analysis::fitting {

/// One outline about its own centre. Lands of equal outline share it.
struct Outline {
    enum class Kind { Box, Circle, Oblong, Free };
    Kind kind = Kind::Box;
    double width_mm = 0.0; ///< before `turn`; of a free one: of the box round it
    double height_mm = 0.0;
    Angle turn;          ///< [0, 180); 0 for circles and free ones
    geometry::Ring ring; ///< of a free one only, turned already

    bool operator==(const Outline&) const = default;
};

struct Land {
    geometry::Vec2 at;
    std::size_t outline = 0;
};

struct Pattern {
    std::vector<Outline> outlines;
    std::vector<Cover> covers; ///< of the outlines, in their order
    std::vector<Land> lands;   ///< of the usable pads, in their order
    Angle axes;                ///< own axes, turned counter-clockwise from the part's frame by this, (-45, 45]
    double reach_mm = 0.0;     ///< half the smallest land's width: as far as a hand slides the part
};

/// Pads that are not usable are left out.
[[nodiscard]] Pattern pattern_of(const document::Footprint& part);
/// False for pads without area or with numbers that are not finite.
[[nodiscard]] bool is_usable(const document::Pad& pad);
/// The pattern with pads of which one lies by more than half on the other put together: copper on copper is one land,
/// however often it was drawn.
/// Requires: `pattern` is pattern_of(part).
[[nodiscard]] Pattern joined(const document::Footprint& part, Pattern pattern);
/// Requires: every pad has an area and finite numbers.
[[nodiscard]] Angle own_axes(const document::Footprint& part);

/// Turned about `centre`; first mirrored left to right about x = 0 when asked.
struct Turn {
    Angle angle;
    geometry::Vec2 centre;
    bool mirrored = false;
};
[[nodiscard]] Pattern turned(const Pattern& pattern, const Turn& turn);

[[nodiscard]] Cover cover_of(const Outline& outline);
/// The smaller side.
[[nodiscard]] double width_of(const Outline& outline);
/// Sides of a box, oblong or circle differ by at most `tolerance_mm`, and so does the place of its corners; free
/// outlines lie within that distance of each other all along. A circle is an oblong of equal sides, never a box.
[[nodiscard]] bool same_outline(const Outline& a, const Outline& b, double tolerance_mm);

/// Quarter turns about the lands' centre; and where the outermost lands lie evenly on a ring, every turn that
/// brings the ring onto itself, about the mean of the land centres. In rising order, 0 left out.
[[nodiscard]] std::vector<Turn> candidate_turns(const Pattern& pattern);
/// The same for the mirrored pattern, 0 included.
[[nodiscard]] std::vector<Turn> candidate_mirror_turns(const Pattern& pattern);

} // namespace padchart::analysis::fitting
