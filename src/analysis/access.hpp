#pragma once
// From which side a tool comes to a part without touching what stands round it, what a slip would reach, and what must
// not be touched at all.
//
// Bearings: degrees, counter-clockwise as seen from the target's side with the chart's up edge up, 0 to the right. A
// bearing says where the hand is: 90 comes from above the part on the chart. Lengths mm, places board frame.
//
// Bodies are upright prisms on their outlines, as high as charted. A low one further out is passed over, since the tool
// slopes upward; how (and why nothing else need be looked at on the tool's way in) stands in access_tool.hpp, how the
// sectors are found exactly in access_turning.hpp. What is not known is taken cautiously: a body of unknown height
// counts as up to kTallest_mm tall and never leaves a bearing free, it makes it "depends", with the height up to which
// the tool would pass. The margin round every body is the play asked for, the tolerance of drawn circles and the
// scale's uncertainty over the distance. Left out: the board's edge, shields of tape or foil, solder, wires, the hand
// itself, a part that tilts.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "analysis/access_bearings.hpp"
#include "analysis/access_tool.hpp"
#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"
#include "geometry/distance.hpp"

namespace padchart::analysis {

struct AccessQuery {
    document::Id target;
    AccessTool tool;
    std::string pad;                  ///< iron only: the pad it works on, by number, or "#3" for the third
    std::optional<double> opening_mm; ///< tweezers, as they come in; nothing: what the grip needs, and kGripPlay_mm
    double play_mm = 0.1;             ///< least room wanted between tool and bodies
    double slip_mm = 2.0;             ///< how far the tool may shoot forward, away from the hand
    double slip_spread_deg = 20.0;    ///< and how far off to either side
    double hand_deg = 315.0;          ///< where one's hand comes from, on the bench: lower right
    double board_turn_deg = 0.0;      ///< how the board lies turned on the bench, counter-clockwise; bearings of the
                                      ///< answer stay those of the chart
    double small_mm = 1.05;           ///< a body no longer than this is moved by a touch (common practice: 1005M)
    bool knows_molten = false;        ///< a heat plan was worked out; `molten` is its answer
    std::vector<document::Id> molten; ///< parts whose joints that plan may melt

    bool operator==(const AccessQuery&) const = default;
};

/// Room between the tips and the body on either side before they close (common practice).
inline constexpr double kGripPlay_mm = 0.2;
/// A part turns itself straight between the tips when they come less askew than this (common practice).
inline constexpr double kMostSkew_deg = 10.0;
/// An iron comes from the part's outside: no further round than this from straight out (common practice).
inline constexpr double kMostLean_deg = 80.0;
/// A hand does not hold a tool truer than this: what is narrower is no way in (common practice).
inline constexpr double kLeastHeld_deg = 5.0;
/// What is not measured counts as this tall: about the tallest that small boards carry (common practice); what is
/// taller is seen, and is to be measured.
inline constexpr double kTallest_mm = 16.0;
/// A slip is judged against what is not measured as if it were this tall, or it would reach everything.
inline constexpr double kUsualHeight_mm = 3.0;
/// No farther neighbours are spoken of as in danger.
inline constexpr double kNear_mm = 2.0;

enum class Passage { Free, Depends, Blocked };
[[nodiscard]] std::string_view to_text(Passage passage); ///< "free", "depends", "blocked"

/// Somebody stands in the way, or would.
struct AccessNeighbour {
    document::Id source; ///< part or keep-out
    std::string name;
    bool is_keep_out = false;
    std::optional<double> height_mm; ///< nothing: not measured
    geometry::Gap gap;               ///< from the target's outline, in plan
    bool is_small = false;
    bool is_molten = false;    ///< by the heat plan
    bool stands_over = false;  ///< its outline overlaps the target's: no bearing is free of it
    std::vector<Sector> takes; ///< bearings it blocks, or makes depend on its height
    double least_gap_mm = 0.0; ///< where its height is known: of all whole degrees; below 0 by how far it is in the way
};

/// One whole degree.
struct AccessDirection {
    double bearing_deg = 0.0;
    Passage passage = Passage::Blocked;
    bool works = false;                 ///< tweezers: grips; iron: comes from the outside
    double gap_mm = 0.0;                ///< to the nearest body of known height; below 0: how far it stands in the way
    std::optional<std::size_t> nearest; ///< into `neighbours`
};

/// Bearings of one kind in a row.
struct AccessSector {
    Sector bearings;
    Passage passage = Passage::Blocked;
    bool works = false;

    /// Wide enough for a hand.
    [[nodiscard]] bool can_be_held() const { return bearings.width_deg >= kLeastHeld_deg; }
};

/// Two sides the tips may take hold of.
struct Grip {
    double bearing_deg = 0.0; ///< one of the two it is gripped from; the other is opposite
    double across_mm = 0.0;   ///< from side to side
    double opening_mm = 0.0;  ///< of the tips as they come in
    bool fits = true;         ///< the opening asked for is wide enough
};

/// An unmeasured body is passed up to this height.
struct HeightLimit {
    std::size_t neighbour = 0;
    double limit_mm = 0.0; ///< 0: not even a flat one
};

/// One way in: the best bearing of a sector.
struct Approach {
    AccessSector sector;
    double bearing_deg = 0.0;
    double gap_mm = 0.0;                ///< there, to the nearest body of known height
    std::optional<std::size_t> nearest; ///< who that is
    double least_gap_mm = 0.0;          ///< the least of the whole sector, and whose it is
    std::optional<std::size_t> least_nearest;
    std::vector<HeightLimit> limits;  ///< when it depends, at the best bearing; lowest first
    double opening_mm = 0.0;          ///< tweezers: between the tips
    double across_mm = 0.0;           ///< tweezers: between the sides held; 0 where it does not grip
    bool on_lands = false;            ///< tweezers: the tips stand on lands or leads of the part itself
    double turn_board_deg = 0.0;      ///< so that it comes from the hand; counter-clockwise, -180 to 180
    geometry::Region tool;            ///< the whole tool in plan, board frame
    geometry::Region slip;            ///< what a slip sweeps over, board frame
    std::vector<std::size_t> in_slip; ///< neighbours it reaches
};

struct AccessReport {
    document::Id target;
    std::string target_name;
    document::Side side = document::Side::Top;
    geometry::Vec2 at;                       ///< what the tool comes to, board frame
    std::string pad;                         ///< of an iron
    bool pad_is_covered = false;             ///< the body lies over it
    std::vector<AccessNeighbour> neighbours; ///< within the tool's reach, nearest first
    std::vector<AccessDirection> directions; ///< 360
    std::vector<AccessSector> sectors;       ///< the whole turn, in order
    std::vector<Grip> grips;                 ///< tweezers
    std::vector<Approach> approaches;        ///< one a sector that is not blocked, best first
    std::vector<std::size_t> do_not_touch;   ///< small or molten and near, nearest first
    std::vector<std::string> sentences;      ///< the first is the verdict
    std::string turn_sentence; ///< of `sentences`, how the board must lie for one's hand; empty without a way in
    Diagnostics remarks;       ///< what was assumed, what is missing

    /// Null where there is no way in.
    [[nodiscard]] const Approach* best() const { return approaches.empty() ? nullptr : &approaches.front(); }
    /// The best one is free, works and is wide enough for a hand.
    [[nodiscard]] bool is_good() const;
};

/// Errors: no scale; no such part or pad; a part without outline; a tool that cannot be; settings out of range.
[[nodiscard]] Result<AccessReport> access(const document::Chart& chart, const AccessQuery& query);

/// The opening of the query, or the narrowest one that any grip needs.
[[nodiscard]] double usual_opening_mm(const AccessReport& report, const AccessQuery& query);

/// "90 degrees clockwise", the shorter way round; empty for none.
[[nodiscard]] std::string turn_in_words(double counter_clockwise_deg);
/// "east-north-east": sixteen winds with up as north. Any degrees.
[[nodiscard]] std::string_view wind_of(double bearing_deg);

/// Fills `sentences` and `remarks`; what access() does last.
void add_access_words(AccessReport& report, const document::Chart& chart, const AccessQuery& query);

} // namespace padchart::analysis
