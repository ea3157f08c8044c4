#pragma once
// A trace was corrected: its geometry goes into the chart, and everything a hand has said there stays. A drawing that
// lies elsewhere as a whole, turned or larger, takes all of the chart along first. Parts are found
// again by what they were called in the trace, then by their id, then by their place, last by their size near it; one
// whose name stands on the other side now is the same part laid over. Names that moved onto each other's places are
// told: what was said goes with the name.
//
//   follows the trace      pads and body of traced parts, places, the board's outline, keep-outs and shields; names and
//                          marks that came from the trace and that nobody touched since
//   stays                  names a hand gave, roles, values, classes, records of direction, heat, states, comments,
//                          patterns taken from a family (their place follows), title, rules, plans, locked parts
//   goes along             notes, readings and plans pinned to a part move as their part does
//   gone from the trace    stays with a finding; only parts leave of which nothing was ever said

#include <optional>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"
#include "svg/drawing.hpp"

namespace padchart::svg {

enum class FoundBy { TraceKey, Id, Place };

/// "trace key", "id", "place"
[[nodiscard]] std::string_view to_text(FoundBy how);

struct FoundAgain {
    document::Id current; ///< in the chart
    document::Id fresh;   ///< in the new import; not kept
    FoundBy how = FoundBy::TraceKey;
    double moved_mm = 0.0;   ///< of the centre on the board
    bool is_changed = false; ///< its copper or body lies elsewhere or has another shape: a finding tells how
};

struct ReimportResult {
    document::Chart chart;
    std::vector<FoundAgain> parts;   ///< in the chart's order
    std::vector<document::Id> added; ///< parts and keep-outs that are new
    std::vector<document::Id> kept;  ///< gone from the trace, kept for what was said of them
    std::vector<std::string> left;   ///< gone from the trace and from the chart: their names, or their trace keys
    /// One for each part or area that came, went or is drawn differently, and how many parts are not. `target` is an
    /// id of `chart`.
    Diagnostics findings;
};

/// False where the chart's scale was got over a photo or by drawing and nothing in the chart was traced: it says
/// nothing of a trace's unit.
[[nodiscard]] bool is_scale_of_trace(const document::Chart& chart);

/// The scale to read a corrected trace in: the chart's own where the trace states none, or where the chart's was
/// measured and the trace states the size of its page only; the trace's own guess, as a guess, where it is to be held
/// against what is found again. Nothing: the trace's own counts. Read so, loose pads and touching ends are judged in
/// true mm. Finding "chart-scale-taken" where the trace states no size, "scale-changed" where its page does not fit the
/// chart's scale.
[[nodiscard]] std::optional<document::Scale>
scale_for_correction(const Drawing& drawing, const document::Chart& current, Diagnostics& findings);

/// Both charts in mm, or both in the trace's own units. Where their scales differ one of them is put to the other's
/// first: the fresh one wins where it was measured or where the chart's is the page's size only, and none wins where
/// the chart's was not of a trace.
/// Errors: a drawing under other names that lies elsewhere and may lie so in more than one way, of which nothing is
/// taken, so that no chart lies in two frames; an answer that could not stand as a chart; told to stop, which it looks
/// at before every part.
[[nodiscard]] Result<ReimportResult> reimport(const document::Chart& current, const document::Chart& fresh,
                                              const std::stop_token& stop = {});

} // namespace padchart::svg
