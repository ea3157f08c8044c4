#pragma once
// The tool that reaches in between the parts, as a shape: tips that stand on the board and slope up towards the hand.
//
// Tool frame: mm, origin at the middle of what is held, x in plan away from it towards the hand, y across, z above the
// board. An arm has a rectangular cross-section that grows with the distance from the tip (`flare_deg` on every outer
// face); it stands on the board with its lowest corner. The inner faces of tweezers are taken as parallel, which makes
// the arms fatter than they are, never thinner.
//
// A tool that is slid in along its own axis, lowered or lifted straight up sweeps over nothing it does not cover when
// it has arrived: its cross-sections only grow towards the hand. So what is below a height when it has arrived is all
// that a body of that height can ever meet.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "geometry/polygon.hpp"

namespace padchart::analysis {

enum class ToolKind { Tweezers, Iron };

struct AccessTool {
    std::string key;  ///< row of assets/tables/access_tools.tsv, or empty for one's own
    std::string name; ///< "Tweezers, pointed tips"
    ToolKind kind = ToolKind::Tweezers;
    double tip_width_mm = 0.3;     ///< tweezers: one tip along the arm's flat; iron: width or diameter of its end
    double tip_thickness_mm = 0.2; ///< tweezers: one tip in the direction they close in; iron: unused
    double rise_deg = 45.0;        ///< of the axis above the board, up to 90
    double flare_deg = 6.0;        ///< how far each outer face leans away from the axis
    double length_mm = 40.0;       ///< from the tip to the hand

    bool operator==(const AccessTool&) const = default;
};

/// All rows of the table, in its order.
[[nodiscard]] std::span<const AccessTool> access_tools();
/// Nothing when the table has no such key.
[[nodiscard]] std::optional<AccessTool> find_access_tool(std::string_view key);

/// "tweezers", "iron".
[[nodiscard]] std::string_view to_text(ToolKind kind);

/// Why this tool cannot be: a size not above 0, or so flat that its flank would lie on the board.
[[nodiscard]] std::optional<Error> fault_of(const AccessTool& tool);

/// What of the tool is below a height, seen from above: one convex ring an arm, hulls. Tool frame.
/// `opening_mm`: between the insides of the tips (tweezers). A height of infinity answers the whole tool.
/// Requires: no fault_of(tool), height_mm > 0, opening_mm >= 0.
[[nodiscard]] std::vector<geometry::Ring> tool_below(const AccessTool& tool, double opening_mm, double height_mm);

} // namespace padchart::analysis
