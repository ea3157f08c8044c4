#pragma once
// The walk over the board after rework: every part once, in an order that begins where the heat was felt, and how far
// the walk has come. What a person saw is kept in the chart as ticks of the task kSameAsBefore, one a part: done where
// it is as it was, not done where it differs, with what differs as its note.

#include <string>
#include <vector>

#include "analysis/compare.hpp"

namespace padchart::analysis {

inline constexpr std::string_view kSameAsBefore = "same-as-before";

/// Why a part stands where it does in the walk.
enum class SweepZone {
    Neighbour,        ///< within the heat of a plan, on the side the air came from
    NeighbourThrough, ///< within it, on the other side of the board
    Target,           ///< what was reworked: looked at by everybody anyway
    Rest
};

struct SweepStep {
    document::Id before_id; ///< empty for a part that is new
    document::Id after_id;  ///< empty for one that is missing
    std::string name;
    SweepZone zone = SweepZone::Rest;
    double from_heat_mm = 0.0;        ///< from the nearest plan's aim to the part's box; 0 without a plan
    std::vector<std::size_t> changes; ///< positions in CompareReport::changes
    bool differs_on_charts = false;   ///< one of them is of the board: gone, new, moved, turned, another side or state

    /// What a tick is about: the part on the second chart, or on the first where it is missing.
    [[nodiscard]] const document::Id& subject() const { return after_id.is_empty() ? before_id : after_id; }
};

/// Neighbours first, nearest first; then the reworked parts themselves, then the rest by distance. The plans are those
/// of the second chart, or of the first where that has none; without any plan the parts of the first chart in its
/// order. The report must be of these two charts.
[[nodiscard]] std::vector<SweepStep> sweep_of(const document::Chart& before, const document::Chart& after,
                                              const CompareReport& report);

/// The tick about that part, or null.
[[nodiscard]] const document::Tick* sweep_tick(const document::Chart& chart, const document::Id& subject);

struct SweepProgress {
    std::size_t parts = 0;
    std::size_t compared = 0;         ///< somebody has looked
    std::size_t differ = 0;           ///< of those
    std::size_t differ_on_charts = 0; ///< beside those: nobody says that they differ, but the charts do
    [[nodiscard]] std::size_t not_checked() const { return parts - compared; }
    [[nodiscard]] std::size_t all_that_differ() const { return differ + differ_on_charts; }
};
/// Ticks about parts that are no step of the walk do not count.
[[nodiscard]] SweepProgress sweep_progress(const document::Chart& after, const std::vector<SweepStep>& steps);
/// "14 of 31 compared; 3 differ, 1 more by the charts; 17 not checked again".
[[nodiscard]] std::string in_words(const SweepProgress& progress);

} // namespace padchart::analysis
