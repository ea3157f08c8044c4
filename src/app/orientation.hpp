#pragma once
// What the orient panel says and asks, apart from how it looks: verdicts in words, the eight places a mark can be at,
// and which part comes next. Bearings in degrees counter-clockwise as seen from the part's own side.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "analysis/fit.hpp"
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
/// Width and height of the extent as it sits, mm.
[[nodiscard]] geometry::Vec2 turned_size(const document::Footprint& part);

/// The next part without a record after `current`; nothing when all are recorded.
[[nodiscard]] std::optional<document::Id> next_unrecorded(const analysis::FitReport& report,
                                                          const document::Id& current);

} // namespace padchart::app
