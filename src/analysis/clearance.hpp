#pragma once
// Who stands how near to whom, and where a nozzle of the chart's bore may not go.
// All distances are the true ones between outlines, with the two nearest points; zones are never too small.
// Frame: board mm. Only parts on the same side have a gap; heat-sensitive parts also count through the board.

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "document/chart.hpp"
#include "geometry/distance.hpp"

namespace padchart::analysis {

enum class GapKind { BodyToBody, PadToPad, PadToEdge, BodyToEdge };

/// Two things nearer than the chart's rule for their kind.
struct CloseGap {
    GapKind kind = GapKind::BodyToBody;
    document::Id first;
    std::string first_pad; ///< pad number (or "#3" for the third without one); empty for a body
    document::Id second;   ///< empty for the edge
    std::string second_pad;
    double rule_mm = 0.0;
    geometry::Gap gap;
    document::Side side = document::Side::Top;
};

/// Round one heat-sensitive part or keep-out: the places where a nozzle's axis brings its rim within the margin.
struct HeatZone {
    document::Id source; ///< part or keep-out
    std::string name;
    document::Side side = document::Side::Top; ///< of the source
    bool through_board = false;                ///< also holds for a nozzle on the other side
    double reach_mm = 0.0;                     ///< nozzle radius + margin
    geometry::Region area;                     ///< clipped to the board where it has an outline
};

struct SensitiveGap {
    document::Id target;
    document::Id sensitive; ///< part or keep-out
    geometry::Gap gap;      ///< body (or pads) to body, in plan; through the board when the sides differ
    bool same_side = true;
    bool inside_ring =
        false;             ///< within reach of the nozzle, which is aimed at the target's centre if no plan says more
    bool shielded = false; ///< by the plan's shields, or a keep-out whose measure that is
};

struct ClearanceReport {
    bool has_scale = false;      ///< false: nothing below was measured, the lists are empty
    std::vector<CloseGap> close; ///< nearest in proportion to its rule first
    std::vector<HeatZone> zones; ///< in chart order
    geometry::Region top_zones;  ///< union of what holds for a nozzle on the top side
    geometry::Region bottom_zones;
    std::size_t parts_compared = 0;
    Diagnostics findings; ///< outlines that had to be mended, parts without any outline
};

/// All pairs nearer than the chart's rules, and the zones. A shield can and the bodies under it are no pair. Overlaps
/// are reported whatever the rule; pads of one part are not compared with each other; a part that is missing, removed,
/// lost or not fitted has pads but no body and no zone. Round shapes are measured as polygons up to
/// document::kShapeTolerance inside the true ones; zones make up for it. Zones are clipped to the board's outer edge;
/// cut-outs give no shelter from air.
[[nodiscard]] ClearanceReport clearance(const document::Chart& chart);

/// From one part to every heat-sensitive part and keep-out that counts for heat from the part's side, nearest first:
/// not to itself, nor to what is known to be off the board, nor to a keep-out of the far side that is not through the
/// board or marked as removed. Empty without a scale.
[[nodiscard]] std::vector<SensitiveGap> gaps_to_sensitive(const document::Chart& chart, const document::Id& target);
/// As above for the nozzle, the aim, the side and the shields of a plan; without a target, from the aim.
[[nodiscard]] std::vector<SensitiveGap> gaps_of_plan(const document::Chart& chart, const document::HeatPlan& plan);

/// Parts whose body or pads a nozzle of `bore_mm` aimed at `aim` covers, fully or in part, on `side`, in chart order.
/// Empty without a scale.
[[nodiscard]] std::vector<document::Id> parts_under_nozzle(const document::Chart& chart, geometry::Vec2 aim,
                                                           double bore_mm, document::Side side);

/// Distance between two parts of a chart in plan, body to body (pads where there is no body). Nothing without a scale,
/// for an id that is not in the chart, or for a part without outline.
[[nodiscard]] std::optional<geometry::Gap> gap_between_parts(const document::Chart& chart, const document::Id& a,
                                                             const document::Id& b);

/// Sensitive: has a heat sensitivity of its own, or a class the trade treats so (cell, microphone, connector, can ...;
/// `delicate` in the material tables). A part stated to be of a material made for reflow, without limits of its own,
/// is not, whatever its class.
[[nodiscard]] bool is_heat_sensitive(const document::Footprint& part);

} // namespace padchart::analysis
