#pragma once
// The lists of a chart whose things bear ids, one after the other, so that what is done to each of them is written
// once.

#include <string_view>

#include "document/chart.hpp"

namespace padchart::document {

/// Calls visit(key, list of `first`, same list of `second`), `key` as the file spells it. Both may be one chart.
template <class First, class Second, class Visit>
void each_list(First& first, Second& second, Visit visit) {
    visit(std::string_view("parts"), first.parts, second.parts);
    visit(std::string_view("keep_outs"), first.keep_outs, second.keep_outs);
    visit(std::string_view("shields"), first.shields, second.shields);
    visit(std::string_view("notes"), first.notes, second.notes);
    visit(std::string_view("readings"), first.readings, second.readings);
    visit(std::string_view("heat_plans"), first.heat_plans, second.heat_plans);
    visit(std::string_view("photos"), first.photos, second.photos);
    visit(std::string_view("copper_areas"), first.copper_areas, second.copper_areas);
    visit(std::string_view("stations"), first.stations, second.stations);
    visit(std::string_view("ticks"), first.ticks, second.ticks);
    visit(std::string_view("revisions"), first.revisions, second.revisions);
}

} // namespace padchart::document
