#pragma once
// How long is a unit of this chart? Two points whose distance was measured, or a part of known size, and what follows
// from it before it is taken. Places are board places in the present lengths of the chart that is shown.

#include <optional>
#include <string>
#include <vector>

#include "analysis/scale.hpp"
#include "app/editor.hpp"

namespace padchart::app {

enum class ScaleWay { TwoPoints, KnownPart };

struct ScalePoint {
    geometry::Vec2 at;
    std::string words; ///< what it was snapped to, or empty
};

class ScaleDesk {
public:
    ScaleWay way = ScaleWay::TwoPoints;
    std::vector<ScalePoint> points;         ///< at most two
    std::optional<double> distance_mm;      ///< measured between them
    double measuring_mm = 0.05;             ///< how far that may be off
    double click_mm = 0.1;                  ///< how far a point or a drawn edge may be off
    document::Id part;                      ///< the part of known size
    std::optional<std::size_t> size;        ///< position in patterns::size_classes()
    std::optional<document::Chart> insists; ///< the chart a less sure scale was asked for once already
    bool wants_focus = false;               ///< the distance should be typed now
    bool is_entered = false;                ///< Enter has just been pressed in it: what follows is taken

    /// A third point begins anew.
    void pick(ScalePoint point);
    /// The last point, or the part. False where there was none.
    bool take_back();
    void forget_picks();
    /// Nothing that was picked, typed or chosen for another chart stays; how sure a hand is does.
    void begin_anew();

    [[nodiscard]] analysis::ScaleErrors errors() const { return {click_mm, measuring_mm}; }
    /// Nothing while something is still to be said.
    [[nodiscard]] std::optional<Result<analysis::ScaleReading>> reading(const document::Chart& chart) const;
    /// What the chart would become, with the reading's own findings first. Nothing as above.
    [[nodiscard]] std::optional<Result<analysis::Rescaled>> outcome(const document::Chart& chart) const;
    /// As above, of the chart's scale alone: `chart` in it holds nothing else. Costs the same for any chart.
    [[nodiscard]] std::optional<Result<analysis::Rescaled>> foreseen(const document::Chart& chart) const;
    /// One step of history. False, with a notice, where nothing follows yet; where the scale there is is surer or does
    /// not agree the first call only asks, the second takes it.
    bool apply(Editor& editor);
    /// What apply() will do: "Take this scale", or "Take it all the same".
    [[nodiscard]] bool asks_again(const Editor& editor) const { return insists && *insists == editor.chart(); }
};

/// The smallest part of one side whose body or pad lies there, or an empty id.
[[nodiscard]] document::Id part_under(const document::Chart& chart, geometry::Vec2 board, document::Side side);

/// Findings that speak against taking the new scale: "scale-less-sure", "scale-disagrees".
[[nodiscard]] bool speaks_against(const Diagnostic& finding);

} // namespace padchart::app
