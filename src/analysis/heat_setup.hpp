#pragma once
// What every heat question needs first: the plan checked, board and alloy looked up, the layout, and what is watched.

#include "analysis/heat.hpp"
#include "analysis/heat_model.hpp"
#include "patterns/alloy.hpp"
#include "patterns/material.hpp"

namespace padchart::analysis {

struct WatchedJoint {
    std::string pad;
    geometry::Vec2 at;
    Probe board; ///< under the pad
};

struct WatchedNeighbour {
    document::Id source;
    std::string name;
    bool is_keep_out = false;
    bool far_side = false;
    bool is_judged_by_board = false; ///< it has no body of its own in the model
    std::string under_can;           ///< name of the shield can over it; empty: none
    bool shielded = false;
    double shield_share = 0.0;             ///< of its area under shields that are in place
    std::optional<geometry::Vec2> bare_at; ///< middle of what a shield in place leaves open, where it leaves much
    std::string idle_shield;               ///< a shield of the chart that covers it but is not in place, by name
    document::Side side = document::Side::Top;
    document::PartClass part_class = document::PartClass::Unknown;
    std::optional<patterns::HeatLimits> limits;
    geometry::Ring outline; ///< board frame
    Probe hot;              ///< its body, or the board below it
    std::vector<Probe> joints;
};

/// What depends on the chart, the side the air comes from, the shields in place, the target and the cell alone: it
/// stays while a hand moves the nozzle or a slider.
struct HeatScene {
    HeatLayout layout;
    std::string target_name;
    std::optional<document::PartClass> target_class;
    std::vector<WatchedJoint> joints;
    Probe target_body;                        ///< empty when it has none
    std::vector<WatchedNeighbour> neighbours; ///< in chart order, parts before keep-outs
};

struct HeatSetup : HeatScene {
    document::HeatPlan plan;
    HeatOptions options;
    patterns::BoardData board;
    patterns::Alloy alloy;
    patterns::Mixture mixture; ///< of the target's joints
    HeatCases cases;
    std::string station; ///< whose calibration is used, by name; empty: the plan has none that holds
    Diagnostics remarks; ///< on the station; those on the board are the layout's
};

/// Errors as heat() states them. `cell_mm` overrides what the options ask for.
[[nodiscard]] Result<HeatSetup> heat_setup(const document::Chart& chart, const document::HeatPlan& plan,
                                           const HeatOptions& options, std::optional<double> cell_mm = std::nullopt);
/// The same for another plan on the scene that is there. Errors as heat() states them; the setup is then of no use.
/// Requires: same_scene(setup.plan, plan), and the chart and the cell are those it was made with.
[[nodiscard]] Result<void> renew(HeatSetup& setup, const document::Chart& chart, const document::HeatPlan& plan,
                                 const HeatOptions& options);
[[nodiscard]] bool same_scene(const document::HeatPlan& a, const document::HeatPlan& b);
/// Distance from a place to an area's outline, 0 inside.
[[nodiscard]] double gap_to(geometry::Vec2 place, const geometry::Ring& outline);
/// Cell size for a board of that extent: never finer than pays, never more cells than the resolution stands for.
[[nodiscard]] double cell_for(Resolution resolution, const geometry::Box& board);

[[nodiscard]] JetSettings jet_settings(const HeatSetup& setup, const HeatCase& unknowns);
/// The jet of a case over the whole layout.
[[nodiscard]] JetField jet_field(const HeatSetup& setup, const HeatModel& model);
/// Room temperature, or soaked through over the preheater before the air comes.
[[nodiscard]] std::vector<double> start_state(HeatModel& model, const HeatSetup& setup);

/// How hot a neighbour is at its hottest spot: its body, or the board at it where it has none; over a preheater what
/// lies without a body on the far side is taken half-way to the hot plate.
struct HotSpot {
    double celsius = 0.0;
    std::optional<std::size_t> node;
};
[[nodiscard]] HotSpot hottest_of(const HeatSetup& setup, const WatchedNeighbour& watch,
                                 std::span<const double> celsius);

/// Coldest joint's board temperature.
[[nodiscard]] double coldest_joint(const std::vector<WatchedJoint>& joints, std::span<const double> celsius);

} // namespace padchart::analysis
