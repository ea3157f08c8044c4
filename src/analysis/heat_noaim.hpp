#pragma once
// Where the nozzle's axis may not go: for every place on the board, how hot each delicate neighbour would get if the
// air stood there. Zones per neighbour and together, with the spread of the estimate, and the places from which the
// target melts. Board frame, mm, degrees Celsius.
//
// Steady temperatures are an upper bound for any dwell that starts cold (comparison principle); over a preheater the
// soaked state counts as well. With `dwell_limited` the state at the end of the plan's dwell stands instead.

#include <functional>
#include <stop_token>

#include "analysis/heat.hpp"

namespace padchart::analysis {

struct NoAimMap;

struct NoAimOptions {
    HeatOptions heat; ///< room, circle, calibration, cell, threads; the resolution defaults to Live here
    std::optional<double>
        step_mm; ///< between aims; nothing: some 1,800 aims on the board, 0.25 to 2 mm. At most five times that
    bool dwell_limited = false;
    bool all_parts = false;         ///< also parts made for a reflow, not only what technicians protect
    bool refine_everywhere = false; ///< every aim of the finest lattice is computed: slow, for checks
    std::stop_token stop;
    std::function<void(const NoAimMap&)> progress; ///< called with ever finer maps, from the calling thread

    NoAimOptions() { heat.resolution = Resolution::Live; }
};

struct NoAimZone {
    document::Id source;
    std::string name;
    double limit_c = 0.0;
    bool is_to_be_out = false;        ///< a cell or the like: off the board before any heat, never only shielded
    geometry::Region no_aim;          ///< nominal case passes the limit
    geometry::Region depends;         ///< only the hot case does
    geometry::Region certain;         ///< even the cold case does
    Cases<std::vector<float>> peak_c; ///< one value per aim of the lattice
};

struct NoAimMap {
    Grid lattice;                 ///< aims lie at its cell centres
    std::vector<NoAimZone> zones; ///< in chart order; only neighbours with a limit
    geometry::Region no_aim;      ///< of all together, clipped to the board
    geometry::Region depends;
    geometry::Region certain;
    geometry::Region melts;        ///< aims from which the target melts in the nominal case
    geometry::Region melts_surely; ///< also in the cold case
    geometry::Region good;         ///< melts_surely, and spares everything also in the hot case
    geometry::Region likely;       ///< melts, and spares everything, in the nominal case
    geometry::Region good_without; ///< the same two with what has to be off the board before any heat off it
    geometry::Region likely_without;
    std::vector<std::string> to_be_out;  ///< what that is, by name
    std::vector<std::string> in_the_way; ///< where `likely_without` is empty: whom the air that melts overheats
    bool may_melt = false;               ///< from some aim, at least in the hot case
    std::string target_name;             ///< empty: the spot under the nozzle
    bool is_calibrated = false;
    Cases<std::vector<float>> joint_c; ///< coldest joint of the target per aim
    std::vector<bool> is_computed;     ///< per aim; the others are interpolated where nothing is near its limit
    bool is_steady = true;
    bool is_finished = false;  ///< false: stopped early, or given to `progress` on the way
    double share_no_aim = 0.0; ///< of the board's area
    double share_depends = 0.0;
    std::size_t solves = 0;     ///< aims times cases
    std::size_t iterations = 0; ///< uses of the shared factors, each for sixteen aims
};

/// What the map says of places to aim at, in words: for sure, most likely, and what would help.
[[nodiscard]] std::string no_aim_sentence(const NoAimMap& map);

/// Errors: those of heat().
[[nodiscard]] Result<NoAimMap> no_aim(const document::Chart& chart, const document::HeatPlan& plan,
                                      const NoAimOptions& options = {});

} // namespace padchart::analysis
