#pragma once
// What stands round the target, in a frame that access works in: mm about the tool's place, x right and y UP as seen
// from the target's side, so that bearings are the usual ones. For the access files.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "analysis/access.hpp"

namespace padchart::analysis {

struct Standing {
    document::Id source;
    std::string name;
    bool is_keep_out = false;
    std::optional<double> height_mm;
    double longest_mm = 0.0; ///< side of its body
    geometry::Region area{}; ///< about the place, y up
    double near_mm = 0.0;    ///< from the place to its nearest point; 0 when it covers it
    geometry::Gap gap{};     ///< from the target's outline, board frame
    bool overlaps_target = false;
};

class AccessFrame {
public:
    AccessFrame(geometry::Vec2 at, document::Side side) : at_(at), mirror_(side == document::Side::Top ? 1.0 : -1.0) {}
    [[nodiscard]] geometry::Vec2 from_board(geometry::Vec2 p) const { return {mirror_ * (p.x - at_.x), at_.y - p.y}; }
    [[nodiscard]] geometry::Vec2 to_board(geometry::Vec2 p) const { return {at_.x + mirror_ * p.x, at_.y - p.y}; }
    [[nodiscard]] geometry::Ring from_board(const geometry::Ring& ring) const;
    [[nodiscard]] geometry::Ring to_board(const geometry::Ring& ring) const;
    [[nodiscard]] geometry::Region from_board(const geometry::Region& region) const;

private:
    geometry::Vec2 at_;
    double mirror_;
};

/// "U4", or the id where the part has no name.
[[nodiscard]] std::string access_name(const document::Footprint& part);

/// How far from its place the tool meets a body of that height (nothing: not measured), mm.
using ToolReach = std::function<double(std::optional<double> height_mm)>;

/// All bodies and keep-outs of the target's side that stand up from the board and come within reach of the place,
/// nearest to the target first. Left out: what is known to be off the board, flat test points, keep-outs that are no
/// body (underfill, coating, the far side) unless their height is stated.
[[nodiscard]] std::vector<Standing> standing_round(const document::Chart& chart, const document::Footprint& target,
                                                   geometry::Vec2 at, const ToolReach& reach);

/// Where an iron comes to on a pad, board frame, and the bearing straight out from the body; nothing where the body
/// covers the pad.
struct PadPlace {
    geometry::Vec2 at;
    double outward_deg = 0.0;
};
[[nodiscard]] std::optional<PadPlace> place_on_pad(const document::Footprint& part, std::size_t pad);

/// Pairs of parallel sides of the target's outline (y up), widest contact first; a round one answers many.
struct SidePair {
    double bearing_deg = 0.0; ///< along the sides, 0 to below 180
    double across_mm = 0.0;
};
[[nodiscard]] std::vector<SidePair> parallel_sides(const geometry::Ring& outline);
/// From side to side of an outline, measured square to a bearing.
[[nodiscard]] double width_across(const geometry::Ring& outline, double bearing_deg);

} // namespace padchart::analysis
