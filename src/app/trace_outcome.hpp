#pragma once
// From a found trace and what was said of it to the chart that would come of it. A function of its order, to be called
// on any thread. No window, no panel.

#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "app/work_progress.hpp"
#include "svg/reimport.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::app {

struct TraceOrder {
    std::shared_ptr<const svg::Drawing> drawing;
    /// What was said of which shapes; later ones win.
    std::vector<std::pair<svg::ShapeMeaning, std::vector<std::size_t>>> said;
    std::optional<document::Scale> scale; ///< measured by the user; nothing: the trace's own
    Diagnostics findings; ///< what is to be told of the order itself: of the scale, of what was only remembered
    /// The chart whose geometry is corrected; null: the trace becomes a chart of its own.
    std::shared_ptr<const document::Chart> current;
};

struct TraceOutcome {
    Result<svg::TraceResult> result = Error{}; ///< of the trace alone
    Result<document::Chart> chart = Error{};   ///< as it would be shown
    std::vector<document::Id> changed;         ///< of a corrected trace: what is new in the chart or drawn differently
    /// The reader's and of pins that run the wrong way, worst first; of a corrected trace before them what changes.
    Diagnostics findings;
    std::size_t groups = 0; ///< of loose pads that could be parts, to be proposed once the chart is made
};

/// Errors within: nothing in the trace can be charted, called off.
[[nodiscard]] TraceOutcome make_outcome(const TraceOrder& order, const Watch& watch = {});

} // namespace padchart::app
