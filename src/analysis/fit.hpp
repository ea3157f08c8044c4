#pragma once
// Could this part be soldered back the wrong way round? Judged on the true copper, in the part's own axes, about the
// pads' own centre. Turns are degrees counter-clockwise; 0 is as it sits and is always listed as exact and seating.
//
// own axes: the direction most of the straight copper edges follow, so that a part traced askew answers like one that
//          lies straight; own centre: the middle of the box round the pads in those axes (see fit_pattern.hpp).
// turns:   quarters; and where the outermost pads lie evenly on a ring (three, five, six, ... fold), the turns that
//          bring the ring onto itself, about the mean of the pad centres.
// exact:   every turned pad matches another one in place, size and shape within a tolerance (kExactTolerance_mm).
// seating: every turned pad is covered at least half by one pad, one to one, and overlaps no second pad by more than a
//          tenth of its own area. Judged without a shift and at the best shift of the part, up to half the smallest
//          pad's width in x and y, since a hand slides a part until it sits and molten solder pulls it. Whether such a
//          shift exists is decided by ruling out squares of shifts, not by trying some (see fit_seat.hpp): no window is
//          too narrow to be found.
// lands:   pads of which one lies by more than half on the other are one land: copper drawn twice, or in pieces.
// nearly:  turns whose exact answer is another one with the tolerance that much larger or smaller, or whose seating
//          answer (at the best shift) can be another one: with every edge that much off, as a share of the pad's width,
//          or with each pad lying that much off in x and y, on its own.
// risky:   seating (at the best shift) less the turns harmless for what the part is; and, "unsure", those that do not
//          seat as drawn but would with the lands where they may be: a hand's drawing is no proof that a turn is safe.
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
    geometry::Vec2 shift_mm; ///< in the part's frame, of the turned part: where near by it sits most at ease
};

/// How badly a wrong turn ends, by class of part (common practice, no source).
enum class Consequence { NoEffect, WorksLessWell, DoesNotWork, Damage, Hazard };

struct PartFit {
    document::Id part;
    std::vector<double> exact_turns;
    std::vector<double> seating_turns; ///< at the best shift
    std::vector<double> seating_turns_unshifted;
    std::vector<ShiftedTurn> needs_shift; ///< seat only with a shift
    std::vector<double> nearly_turns;
    bool mirrored_seats = false; ///< the mirrored pattern seats at some turn
    std::vector<double> harmless_turns;
    std::vector<double> risky_turns;
    std::vector<double> unsure_turns; ///< of the risky ones: seat only if the drawing is off as much as it may be
    Consequence consequence = Consequence::NoEffect;
    bool needs_record = false;   ///< risky_turns not empty
    bool has_record = false;     ///< a mark and its bearing are on record
    bool looked_no_mark = false; ///< somebody looked and found no mark: no protection, but not forgotten
    /// Every pad the part is said to have is drawn. Else the turns speak of the drawn ones only; without any nothing
    /// can be said, and no turn but 0 is listed.
    bool is_complete = true;
    std::size_t joined_pads = 0; ///< pads that lie on others and count as one land with them
};

struct FitReport {
    /// Without a scale lengths are not mm: seating answers still hold (they are shares of areas), exact and nearly do
    /// not.
    bool has_scale = false;
    double uncertainty_mm = 0.0; ///< used for `nearly` and `unsure`
    std::vector<PartFit> parts;  ///< in chart order
};

[[nodiscard]] FitReport fit(const document::Chart& chart);
/// Requires: uncertainty_mm >= 0.
[[nodiscard]] PartFit fit_of(const document::Footprint& part, double uncertainty_mm);
/// The turns at which the pattern lies exactly on itself, 0 included.
/// Requires: tolerance_mm >= 0.
[[nodiscard]] std::vector<double> exact_turns(const document::Footprint& part,
                                              double tolerance_mm = kExactTolerance_mm);
/// The chart's measuring uncertainty at the size of a pad, mm: its scale's relative uncertainty times the longer side
/// of the middle pad (by size), never below kLeastUncertainty_mm.
inline constexpr double kLeastUncertainty_mm = 0.02;
[[nodiscard]] double measuring_uncertainty(const document::Chart& chart);

/// The risky turns that seat as drawn.
[[nodiscard]] std::vector<double> sure_risks(const PartFit& fit);
/// "also seats turned by 180 degrees", "may also seat turned by 90 and 270 degrees", or both. Empty without risky
/// turns.
[[nodiscard]] std::string risk_in_words(const PartFit& fit);

/// Turns that change nothing for a part of this class (table; a part's own list wins).
[[nodiscard]] std::vector<double> harmless_turns(const document::Footprint& part);
[[nodiscard]] Consequence consequence_of(document::PartClass part_class);

} // namespace padchart::analysis
