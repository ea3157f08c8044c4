#pragma once
// What the orient panel says and asks, apart from how it looks: verdicts in words, the eight places a mark can be at,
// and which part comes next. Bearings in degrees counter-clockwise as seen from the part's own side.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "analysis/fit.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::app {

enum class FitTone { OneWay, NoDirection, Open, Recorded };

struct FitVerdict {
    FitTone tone = FitTone::OneWay;
    std::string sentence;
    std::string reason;
};
[[nodiscard]] FitVerdict verdict_of(const document::Footprint& part, const analysis::PartFit& fit);

/// "array, 6 pads"
[[nodiscard]] std::string short_description(const document::Footprint& part);
/// What the list says of it: "180 seats", "bar = anode".
[[nodiscard]] std::string list_remark(const document::Footprint& part, const analysis::PartFit& fit);

/// One of eight places round the part as it sits: corners and middles of the sides, from the upper left on, clockwise
/// as seen. x and y are -1, 0 or 1 (y down).
struct MarkPlace {
    int x = 0, y = 0;
    Angle bearing; ///< in the part's own frame, as Orientation keeps it
};
/// Taken round the box of the turned extent. Empty without an extent.
[[nodiscard]] std::vector<MarkPlace> mark_places(const document::Footprint& part);
/// Position in mark_places of the nearest to the bearing; nothing where none is within 25 degrees.
[[nodiscard]] std::optional<std::size_t> nearest_place(const std::vector<MarkPlace>& places, Angle bearing);
/// "0 180" as a list of turns; empty is none. Errors: a word that is no number of degrees.
[[nodiscard]] Result<std::vector<double>> turns_from_text(std::string_view text);
[[nodiscard]] std::string turns_as_text(const std::vector<double>& turns);

/// The next part without a record after `current`; nothing when all are recorded.
[[nodiscard]] std::optional<document::Id> next_unrecorded(const analysis::FitReport& report,
                                                          const document::Id& current);

} // namespace padchart::app
