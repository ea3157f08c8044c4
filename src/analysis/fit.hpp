#pragma once
// Could this part be soldered back the wrong way round? Judged on the true copper, in the part's own axes, about the
// pads' own centre. Turns are degrees counter-clockwise; 0 is as it sits and is always listed as exact and seating.
//
// exact:   every turned pad matches another one in place, size and shape within kExactTolerance.
// seating: every turned pad is covered at least half by one pad, one to one, and overlaps no second pad by more than a
//          tenth of its own area. Judged without a shift and at the best shift of the part, up to half the smallest pad's
//          width in x and y, since a hand slides a part until it sits and molten solder pulls it.
// nearly:  turns whose exact or seating answer changes within the chart's measuring uncertainty.
// risky:   seating (at the best shift) less the turns harmless for what the part is.
// Rules and check values: common practice; patterns and numbers are worked in tests/analysis.

#include <optional>
#include <string>
#include <vector>

#include "document/chart.hpp"

namespace padchart::analysis {

inline constexpr double kExactTolerance_mm = 0.05;
inline constexpr double kSeatCover = 0.5;
inline constexpr double kSeatBridge = 0.1;

struct ShiftedTurn {
    double turn_deg = 0.0;
    geometry::Vec2 shift_mm;      ///< in the part's frame: a shift at which it seats
};

/// How badly a wrong turn ends, by class of part (common practice, no source).
enum class Consequence { NoEffect, WorksLessWell, DoesNotWork, Damage, Hazard };

struct PartFit {
    document::Id part;
    std::vector<double> exact_turns;
    std::vector<double> seating_turns;            ///< at the best shift
    std::vector<double> seating_turns_unshifted;
    std::vector<ShiftedTurn> needs_shift;         ///< seat only with a shift
    std::vector<double> nearly_turns;
    bool mirrored_seats = false;                  ///< the mirrored pattern seats at some turn
    std::vector<double> harmless_turns;
    std::vector<double> risky_turns;
    Consequence consequence = Consequence::NoEffect;
    bool needs_record = false;                    ///< risky_turns not empty
    bool has_record = false;                      ///< a mark is on record (or "no mark" was stated)
};

struct FitReport {
    bool has_scale = false;
    double uncertainty_mm = 0.0;                  ///< used for `nearly`
    std::vector<PartFit> parts;                   ///< in chart order
};

[[nodiscard]] FitReport fit(const document::Chart& chart);
[[nodiscard]] PartFit fit_of(const document::Footprint& part, double uncertainty_mm);
/// The chart's measuring uncertainty at the size of a pad, mm: from its scale, never below 0.02.
[[nodiscard]] double measuring_uncertainty(const document::Chart& chart);

/// Turns that change nothing for a part of this class (table; a part's own list wins).
[[nodiscard]] std::vector<double> harmless_turns(const document::Footprint& part);
[[nodiscard]] Consequence consequence_of(document::PartClass part_class);

} // namespace padchart::analysis
