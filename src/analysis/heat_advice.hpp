#pragma once
// Better heat plans, found by computing them: where to aim, how hot, with which nozzle, shield or preheater, so that
// the target melts even in the cold case and every delicate neighbour is spared even in the hot case. Where there is no
// such plan it says so and shows the one that misses by least. Coarse grid: what it proposes is then run by heat() in
// full.

#include <stop_token>

#include "analysis/heat.hpp"

namespace padchart::analysis {

struct AdviceOptions {
    HeatOptions heat;              ///< resolution defaults to Live
    double longest_dwell_s = 90.0; ///< common practice: stop then, cool, think again
    double farthest_aim_mm = 6.0;  ///< from the plan's own aim
    double hottest_set_point_c = 420.0;
    bool may_shield = true;
    bool may_preheat = true;
    bool may_change_nozzle = true; ///< bore, flow and stand-off
    std::size_t most_plans = 5;
    std::stop_token stop;

    AdviceOptions() { heat.resolution = Resolution::Live; }
};

struct AdvisedPlan {
    document::HeatPlan plan;                   ///< with the dwell it needs in the cold case
    std::vector<document::Shield> new_shields; ///< not on the chart yet; the plan's list names them
    double melt_margin_k = 0.0;                ///< coldest joint in the cold case over the liquidus; at least 0 to work
    double spare_margin_k = 0.0;               ///< limit over the hot case of the worst delicate neighbour
    std::string worst_neighbour;               ///< empty: nothing delicate is near
    Band joint_c;                              ///< coldest joint at the end of the dwell
    MaybeBand time_to_liquidus_s;
    std::size_t sturdy_over = 0; ///< parts made for a reflow that may pass their class temperature
    std::string sentence;        ///< what differs from the plan asked about, and what it brings

    [[nodiscard]] bool works() const { return melt_margin_k >= 0.0 && spare_margin_k > 0.0; }
    /// The smaller of both: what is ranked.
    [[nodiscard]] double margin_k() const { return melt_margin_k < spare_margin_k ? melt_margin_k : spare_margin_k; }
};

/// One change to the plan and what it does, nominal case, at the end of the plan's dwell.
struct WhatIf {
    std::string change; ///< "Aim 3 mm further left"
    document::HeatPlan plan;
    std::vector<document::Shield> new_shields; ///< not on the chart yet; the plan's list names them
    double joint_change_k = 0.0;
    std::string neighbour;           ///< the one with the least margin in the plan as it is
    double neighbour_change_k = 0.0; ///< below 0: it stays cooler
    std::string sentence;            ///< "Aim 3 mm further left: the joint loses 4 degrees, J2 keeps its margin."
};

struct Advice {
    bool exists = false;                     ///< a plan that works was found
    AdvisedPlan current;                     ///< the plan asked about, with the dwell it would need
    std::vector<AdvisedPlan> plans;          ///< that work, widest margin first
    std::optional<AdvisedPlan> nearest_miss; ///< when none works
    std::vector<WhatIf> what_ifs;            ///< most useful first
    std::vector<std::string> sentences;
    std::size_t settings_tried = 0;
    std::size_t aims_tried = 0;
    bool is_finished = true; ///< false: stopped early
};

/// Errors: those of heat().
[[nodiscard]] Result<Advice> heat_advice(const document::Chart& chart, const document::HeatPlan& plan,
                                         const AdviceOptions& options = {});

/// The single changes alone: quick.
[[nodiscard]] Result<std::vector<WhatIf>> what_ifs(const document::Chart& chart, const document::HeatPlan& plan,
                                                   const HeatOptions& asked = {});

} // namespace padchart::analysis
