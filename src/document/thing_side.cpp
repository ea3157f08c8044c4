#include "document/thing_side.hpp"

#include "document/things.hpp"

namespace padchart::document {

std::optional<Side> side_of(const Chart& chart, const Id& id) {
    if (const auto at = find_part(chart, id)) return chart.parts[*at].placement.side;
    if (const Note* note = find_note(chart, id)) return note->side;
    if (const Reading* reading = find_reading(chart, id)) return reading->side;
    if (const KeepOut* keep_out = find_keep_out(chart, id)) return keep_out->side;
    if (const Shield* shield = find_shield(chart, id)) return shield->side;
    return std::nullopt;
}

} // namespace padchart::document
