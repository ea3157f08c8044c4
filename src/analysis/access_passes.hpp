#pragma once
// The tool turned about its place: which bearings each body takes away, and how much room there is at one bearing.
// Frame of access_scene.hpp. For the access files.

#include <map>
#include <vector>

#include "analysis/access_scene.hpp"

namespace padchart::analysis {

/// No more room than this is looked for.
inline constexpr double kMostGap_mm = 5.0;

/// The tool with one opening, and the bearings for which it is opened so.
class ToolPose {
public:
    ToolPose(const AccessTool& tool, double opening_mm, Bearings bearings)
        : tool_(tool), opening_mm_(opening_mm), bearings_(std::move(bearings)) {}

    [[nodiscard]] const Bearings& bearings() const { return bearings_; }
    [[nodiscard]] double opening_mm() const { return opening_mm_; }

    struct Below {
        std::vector<geometry::Ring> rings;
        double far_mm = 0.0; ///< of their points from the origin
    };
    /// What a body of that height can meet; nothing: of unknown height, so of kTallest_mm. Kept for the next question.
    [[nodiscard]] const Below& below(std::optional<double> height_mm) const;

    /// Bearings (of all, not only its own) at which the body is nearer than the margin.
    [[nodiscard]] Bearings blocked_by(const Standing& standing, double margin_mm) const;
    /// Room to the body at a bearing; below 0 where it is in the way; kMostGap_mm where it is farther.
    [[nodiscard]] double gap_to(const Standing& standing, double bearing_deg) const;
    [[nodiscard]] bool passes_over(const Standing& standing, double height_mm, double bearing_deg,
                                   double margin_mm) const;
    /// Up to which height a body there would be passed with that margin; 0: not even a flat one.
    [[nodiscard]] double passing_height_mm(const Standing& standing, double bearing_deg, double margin_mm) const;

private:
    AccessTool tool_;
    double opening_mm_;
    Bearings bearings_;
    mutable std::map<double, Below> below_;
};

/// What a slip of the tool sweeps over below a height: every point of it pushed forward, up to `slip_mm` and up to
/// `spread_deg` off to either side, as one convex ring. Never less.
[[nodiscard]] geometry::Ring slip_area(const ToolPose& pose, std::optional<double> height_mm, double bearing_deg,
                                       double slip_mm, double spread_deg);

} // namespace padchart::analysis
