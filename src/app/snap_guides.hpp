#pragma once
// In line with what? While a part is dragged its neighbours say where it would stand well: level with a centre, edge to
// edge in line, at the pitch of the row beside it, midway between two, as the mirror image of its twin about a third
// part. x and y each on its own. Complements app/snap.hpp, which knows points and edges. Board frame, mm.

#include <string>
#include <utility>
#include <vector>

#include "document/chart.hpp"
#include "geometry/box.hpp"

namespace padchart::scene {
struct Scene;
}

namespace padchart::app {

struct Pointer;

/// What stands still.
struct GuideThing {
    std::string name;
    geometry::Box box; ///< of the body, else round the pads
    /// Equal for parts that look alike: only those are each other's mirror images.
    std::string likeness;
};

/// The parts of one side, without those that move.
[[nodiscard]] std::vector<GuideThing> guide_things(const document::Chart& chart, document::Side side,
                                                   const std::vector<document::Id>& without);
[[nodiscard]] GuideThing guide_thing(const document::Footprint& part);

enum class GuideKind { Edge, Level, Mirror, Pitch, Midway }; ///< the later one speaks where two say the same

struct Guide {
    GuideKind kind = GuideKind::Level;
    std::string words; ///< "level with R2", "same pitch as R1 and R2: 5.00 mm"
    std::vector<std::pair<geometry::Vec2, geometry::Vec2>> lines; ///< to be shown, as they lie once it is met
};

struct GuideShift {
    geometry::Vec2 by; ///< put right
    bool met_x = false, met_y = false;
    std::vector<Guide> guides; ///< of those that were met
};

struct GuideOptions {
    double reach = 0.2;
    double within = 12.0;     ///< how far away a neighbour may be
    double edge_within = 4.0; ///< and one whose edge is met
    bool pitch = true;        ///< Pitch, Midway and Mirror count too
    const char* unit = "mm";  ///< what lengths are told in
};

/// `moving`: what moves, where it lies before the move. Requires: its box is not empty.
[[nodiscard]] GuideShift snap_to_guides(const std::vector<GuideThing>& things, const GuideThing& moving,
                                        geometry::Vec2 by, const GuideOptions& options);

/// The lines, and the words one under the other beside `at` (board frame).
void add_guides(scene::Scene& out, const std::vector<Guide>& guides, geometry::Vec2 at, document::Side seen_from,
                const Pointer& pointer);

} // namespace padchart::app
