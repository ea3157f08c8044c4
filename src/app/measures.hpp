#pragma once
// What was measured on the chart and stays on show until it is dismissed: edge to edge between true shapes, point to
// point, an angle, the pitch of a row of pads. Shapes are remembered, not numbers: when a part moves, so does the
// answer. Every length carries the uncertainty of the chart's scale (relative, times the length); an angle needs no
// scale.

#include <optional>
#include <string>
#include <vector>

#include "document/chart.hpp"
#include "geometry/distance.hpp"

namespace padchart::scene {
struct Scene;
}

namespace padchart::app {

/// A thing whose outline can be measured from.
struct MeasuredShape {
    enum class Kind { None, Part, Pad, KeepOut, Shield, BoardEdge };
    Kind kind = Kind::None;
    document::Id id;
    std::size_t pad = 0;

    bool operator==(const MeasuredShape&) const = default;
};
/// "U4", "pad 3 of U4", "the board's edge".
[[nodiscard]] std::string name_of(const document::Chart& chart, const MeasuredShape& shape);
/// Nothing where it is gone, or has no outline, or both are one.
[[nodiscard]] std::optional<geometry::Gap> gap_between(const document::Chart& chart, const MeasuredShape& a,
                                                       const MeasuredShape& b);

enum class MeasureKind { Distance, Angle, Pitch };

struct Measurement {
    MeasureKind kind = MeasureKind::Distance;
    document::Side side = document::Side::Top;
    std::vector<geometry::Vec2> points; ///< board frame; Distance and Pitch: two; Angle: corner, then one on each arm
    MeasuredShape from, to;             ///< Distance: where both are there, the points do not count
    int steps = 1;                      ///< Pitch: from the first pad to the last
};

struct Measured {
    geometry::Gap gap;  ///< Distance and Pitch: from where to where, and how long in all
    double value = 0.0; ///< mm; of a Pitch one step; of an Angle degrees, 0 to 180
    double plus_minus = 0.0;
    std::string words;   ///< "3.40 mm ± 0.07 mm", "0.500 mm ± 0.005 mm, 9 steps", "41.2°"
    std::string between; ///< "R1 and R2", or empty
};
/// Nothing where its shapes are gone, or for a length on a chart without a scale.
[[nodiscard]] std::optional<Measured> evaluate(const document::Chart& chart, const Measurement& measurement);

/// How many steps lie between two pads' middles: pads of that side whose middles lie on the line between them, within a
/// quarter of the step. 1 where there are none in between.
[[nodiscard]] int counted_steps(const document::Chart& chart, document::Side side, geometry::Vec2 from,
                                geometry::Vec2 to);

/// "3.40 mm ± 0.07 mm": two digits of the uncertainty decide how many of the length are told; without one, hundredths.
[[nodiscard]] std::string length_words(double mm, double plus_minus);

/// Those on show.
struct MeasureDesk {
    std::vector<Measurement> pinned;
};

/// Line, arrow heads or arc, and the words on a plate. `px_per_mm` at scale 1.
void add_measured(scene::Scene& out, const Measurement& measurement, const Measured& measured, double px_per_mm,
                  document::Side seen_from);
/// All that are on show on that side; what has lost its shapes is left out.
void add_pinned(scene::Scene& out, const MeasureDesk& desk, const document::Chart& chart, double px_per_mm,
                document::Side seen_from);

} // namespace padchart::app
