#pragma once
// One part of a chart with the geometry of its corrected trace. For svg/reimport alone.

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::svg {

struct UpdatedPart {
    document::Footprint part;
    std::vector<std::optional<std::size_t>> pads; ///< of each pad of the chart's part its position here; nothing: gone
    double turned_deg = 0.0; ///< how far its pads went round their middle as one, counter-clockwise from its own side
};

/// The chart's part with the trace's copper, body and place. `pads_spoken_of`: numbers that readings name. `unit`: "
/// mm", or " units" where no scale is known.
[[nodiscard]] UpdatedPart with_geometry_of(const document::Footprint& current, const document::Footprint& fresh,
                                           const std::set<std::string>& pads_spoken_of, std::string_view unit,
                                           Diagnostics& findings);

/// True when somebody, not the trace, said anything of the part.
[[nodiscard]] bool is_spoken_of(const document::Footprint& part);

/// The record is as the import of a trace makes it, and nobody said what it means.
[[nodiscard]] bool is_from_trace(const document::Orientation& record);

/// Its name, or its place where it has none: for findings.
[[nodiscard]] std::string called(const document::Footprint& part, std::string_view unit);

} // namespace padchart::svg
