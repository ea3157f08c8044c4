#pragma once
// Before and after: what changed on the board between two charts of it, and what was not looked at again.
//
// The second chart may lie anywhere: it is laid on the first by its fixed points (outline, holes, parts that did not
// move) before any place is compared. Parts are taken for the same by id, then by name, then by place. Places and
// directions of the answer are those of the first chart's frame: board mm, y down, seen from the top.
//
// Tolerances are common practice, no source: a part counts as moved beyond 0.1 mm or 10 % of its narrowest land,
// WHICHEVER IS LARGER, since a trace by hand is seldom better than 0.1 mm; as turned beyond 5 degrees.

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

struct CompareOptions {
    double moved_mm = 0.1;
    double moved_share_of_land = 0.1; ///< of the narrowest land; 0: `moved_mm` alone
    double turned_deg = 5.0;
};

/// How the second chart was laid on the first.
struct Registration {
    geometry::Affine before_from_after; ///< rigid, or mirrored; stretched by `scale`
    bool mirrored = false;              ///< the second chart is a mirror image of the first
    bool sides_swapped = false;         ///< and calls the top bottom: the same board seen from its other side
    double scale = 1.0;                 ///< other than 1 only within what both charts' scales leave open
    std::size_t points = 0;             ///< outline corners, holes and parts there were to go by
    std::size_t points_used = 0;        ///< those that agree; the rest moved or was traced otherwise
    double rms_mm = 0.0;                ///< left over at the points used
    double worst_mm = 0.0;
    /// Three points or more agree, and they are at least half of all, or all but the whole outline and three parts.
    bool is_sure = false;
};

enum class ChangeKind {
    Missing, ///< on the first chart only
    Added,   ///< on the second chart only
    Moved,
    Turned,
    Side,
    Name,
    Class,
    Role,
    Value,
    Pattern, ///< pads were drawn otherwise
    Orientation,
    State,
    PadState,
    NotCheckedAgain, ///< it was checked before and nobody has looked since
    Reading,
    ReadingMissing, ///< not measured again
    KeepOut
};

/// "not-checked-again": stable, for machines.
[[nodiscard]] std::string_view to_text(ChangeKind kind);

struct Move {
    geometry::Vec2 by_mm;
    double distance_mm = 0.0;
    double tolerance_mm = 0.0;
};

/// Counter-clockwise as seen from the part's own side.
struct Turn {
    double by_deg = 0.0;       ///< in (-180, 180]
    double quarter_deg = 0.0;  ///< nearest of 0, 90, 180, 270
    double residual_deg = 0.0; ///< by_deg less the quarter, in [-45, 45]
};
/// "counter-clockwise" or "clockwise". Requires: other than 0.
[[nodiscard]] std::string_view way_in_words(double turn_deg);

struct ReadingChange {
    std::optional<double> difference; ///< after less before, in the unit of before; nothing for OL, short, unstable
    std::optional<double> percent;    ///< of before; nothing where before is 0
    bool comparable = true;           ///< same meter, leads, power state and kind of unit
    std::string why_not;              ///< "other meter", or empty
};

struct Change {
    ChangeKind kind = ChangeKind::Missing;
    document::Id before_id; ///< part, reading or keep-out on the first chart; empty for what was added
    document::Id after_id;  ///< on the second; empty for what is missing
    std::string name;       ///< what people call it
    std::string field;      ///< "joint", "pad 2 land", "diode-drop at pad 1 to GND", or empty
    std::string before;     ///< the values in words, or empty
    std::string after;
    bool harmless = false; ///< as a resistor turned by 180 degrees, or a state that was checked and is good
    std::optional<Move> move;
    std::optional<Turn> turn;
    std::optional<ReadingChange> reading;
    std::string message; ///< one sentence
};

/// What may still be on the board: tape, shields, parts taken off for the heat.
struct LeftInPlace {
    document::Id id; ///< keep-out or shield of the second chart
    std::string name;
    std::string message;
};

/// The same part on both charts.
struct MatchedPart {
    document::Id before_id;
    document::Id after_id;
};

struct CompareReport {
    std::size_t parts_compared = 0; ///< found on both charts
    std::size_t parts_before = 0;
    std::size_t parts_after = 0;
    std::size_t readings_compared = 0;
    bool places_compared = false; ///< false: a chart has no scale, or nothing to go by was found
    Registration registration;
    std::vector<MatchedPart> matched; ///< in the order of the first chart
    std::vector<Change> changes; ///< parts in the order of the first chart, then what was added, readings, keep-outs
    std::vector<LeftInPlace> left_in_place;
    Diagnostics findings; ///< how far the comparison can be trusted
};

[[nodiscard]] CompareReport compare(const document::Chart& before, const document::Chart& after,
                                    const CompareOptions& options = {});

} // namespace padchart::analysis
