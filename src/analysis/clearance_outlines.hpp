#pragma once
// The outlines a clearance is measured between, worked out once per question: every body and pad on the board, proper
// areas made of what was drawn. Board frame, mm. For the clearance files alone.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "document/chart.hpp"
#include "geometry/polygon.hpp"

namespace padchart::analysis {

struct Outline {
    std::size_t part = 0;           ///< position in the chart's parts
    std::optional<std::size_t> pad; ///< position in the part's pads; nothing for the body
    document::Side side = document::Side::Top;
    geometry::Region area;
    geometry::Box box;
};

struct Outlines {
    std::vector<Outline> bodies; ///< in chart order
    std::vector<Outline> pads;   ///< in chart order, pads in their own order
};

/// All bodies and pads. Outlines that cross themselves are mended, with a finding that says where.
[[nodiscard]] Outlines outlines_of(const document::Chart& chart, Diagnostics& findings);

/// False for a part that is known not to sit on its pads: missing, removed, lost, not fitted.
[[nodiscard]] bool sits_on_board(const document::Footprint& part);

/// The body where there is one to be hit, else all pads. Empty without either.
[[nodiscard]] geometry::Region plan_of(const document::Footprint& part);
/// What heat would hurt: the body, or where none is drawn the box round the pads, which a body of any kind covers.
[[nodiscard]] geometry::Region hot_area_of(const document::Footprint& part);

/// The proper area of an outline; with a finding about `what` ("The body of U4") where the drawn line was not proper.
[[nodiscard]] geometry::Region proper_area(const geometry::Polygon& drawn, const std::string& what,
                                           const document::Id& target, Diagnostics& findings);

/// "U4", or the id where the part has no name.
[[nodiscard]] std::string name_of(const document::Footprint& part);
/// The pad's number, or "#3" for the third when it has none.
[[nodiscard]] std::string pad_name(const document::Footprint& part, std::size_t pad);

} // namespace padchart::analysis
