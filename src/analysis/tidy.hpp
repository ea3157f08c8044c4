#pragma once
// Hand-traced pads made regular, on request only: rectangles and circles instead of free outlines, all of a part square
// to it or to the direction its pads have in common, one size, one line, one pitch (of pads that are a part, not of a
// heap that nobody has put together). Every step tells how far it moves any outline from where the hand drew it, before
// anybody takes it; a step that moves one farther than the limit is listed and not taken. Deviations count from the
// outlines as given, not from the step before, so that small steps do not add up unseen; of a part that was tidied
// before, how far it came then counts too (document/tidied.hpp). Own arithmetic.

#include <span>
#include <stop_token>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

enum class TidyKind { Rectangle, Round, Square, CommonSize, Row, Pitch };

/// "rectangle", "round", "square to the part", "common size", "row", "common pitch"
[[nodiscard]] std::string_view to_text(TidyKind kind);

struct TidyStep {
    document::Id part;
    TidyKind kind = TidyKind::Rectangle;
    std::vector<std::size_t> pads; ///< positions in the part
    double deviation_mm = 0.0;     ///< the farthest any outline comes from where it was drawn
    bool taken = false;            ///< within the limit
    std::string words;             ///< "U1: 20 pads to one size 0.80 x 0.28 mm, at most 0.006 mm off"
};

struct TidyResult {
    document::Chart chart;
    std::vector<TidyStep> steps; ///< those beyond the limit by up to three times are listed, not taken
};

/// All parts, or those named. Parts with a family pattern and locked ones stay as they are.
/// Errors: the chart has no scale; a limit not above 0; told to stop, which it looks at before every part.
[[nodiscard]] Result<TidyResult> tidy(const document::Chart& chart, double limit_mm,
                                      std::span<const document::Id> parts = {}, const std::stop_token& stop = {});

} // namespace padchart::analysis
