#pragma once
// What is on record for a part of a donor board, carried over to the same part of this one, with the turn between the
// two worked out. The two may lie at other turns, on other sides, and in charts traced another way up.
//
// turns:   those in which the donor's lands lie on this part's (fit_onto.hpp): where some match within the tolerance,
//          only they; else all in which the part could be soldered.
// settled: by the lands alone where one turn is left; else by pad numbers where both charts have them; else by the same
//          place on the same kind of board, if somebody says that it is the same kind. What contradicts settles
//          nothing.
// The bearing is kept about each part's own centre, so both bodies should be drawn, or neither.
// Rules: common practice, no source; turns and bearings are worked by hand in tests/analysis.

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

struct DonorOptions {
    /// Somebody says: same maker, board and revision. Then a part in the same place is turned the same way.
    bool same_kind_of_board = false;
    std::string by{};   ///< who looked; goes into the evidence
    std::string date{}; ///< ISO 8601 day, or empty
};

/// Where the donor's board lies in this chart's frame, found from the places of parts that bear the same name.
struct BoardMatch {
    Angle turn;              ///< counter-clockwise seen from the top
    geometry::Vec2 shift_mm; ///< after the turn
    std::size_t parts = 0;   ///< that were compared
    double worst_mm = 0.0;   ///< farthest from its namesake
    double allowed_mm = 0.0; ///< how far that may be for one layout
    [[nodiscard]] bool is_same_layout() const { return worst_mm <= allowed_mm; }
};
/// Fewest parts of one name that a layout is told by.
inline constexpr std::size_t kLeastNamesakes = 3;

/// Least squares without mirror. Nothing where fewer than kLeastNamesakes names are borne once on each chart, on one
/// side, or where all of them lie in one spot.
[[nodiscard]] std::optional<BoardMatch> match_boards(const document::Chart& donor, const document::Chart& here);

enum class DonorGround { Undecided, OnlyOneTurn, PadNumbers, SamePlace };

struct DonorTurn {
    double turn_deg = 0.0;    ///< from the donor part's frame to this part's, counter-clockwise, [0, 360)
    Angle bearing;            ///< of the mark in this part's frame at that turn
    bool matches = false;     ///< the lands lie on each other within the tolerance
    int numbers_compared = 0; ///< pads that bear a number on both charts
    int numbers_agreeing = 0;
    bool same_place = false; ///< where the same place on the same kind of board puts it
};

struct DonorTransfer {
    std::vector<DonorTurn> possible; ///< in rising order, at least one
    DonorGround ground = DonorGround::Undecided;
    bool is_certain = false;
    bool is_harmless = false; ///< several, but they differ by turns that change nothing for this part
    /// Recorded, evidence "seen on the donor", when certain; else not recorded.
    document::Orientation orientation;
    std::string sentence; ///< what follows, why, and if nothing does, what would settle it
};

/// Errors: a part that is not there, no mark on record for the donor's part, other numbers of pads, lands that do not
/// lie on each other, or only when mirrored.
[[nodiscard]] Result<DonorTransfer> transfer_from_donor(const document::Chart& donor, const document::Id& donor_part,
                                                        const document::Chart& here, const document::Id& part,
                                                        const DonorOptions& options = {});

} // namespace padchart::analysis
