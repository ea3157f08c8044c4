#pragma once
// Everything of a chart that lies somewhere on the board, for what changes all of it at once. For document/ alone.

#include <utility>

#include "document/chart.hpp"

namespace padchart::document {

/// `change` takes a Polygon &, a Vec2 & (the place of a note, a reading, an aim), a Footprint & or a Photo & each.
template <class Change>
void change_all_drawn(Chart& chart, const Change& change) {
    const auto each = [](auto& items, const auto& change_one) {
        for (std::size_t i = 0; i < items.size(); ++i) {
            auto thing = items[i];
            change_one(thing);
            items.replace(i, std::move(thing));
        }
    };
    const auto area = [&](auto& thing) { change(thing.outline); };
    const auto place = [&](auto& thing) { change(thing.at); };
    if (chart.board.outline) change(*chart.board.outline);
    each(chart.parts, change);
    each(chart.keep_outs, area);
    each(chart.shields, area);
    each(chart.copper_areas, area);
    each(chart.notes, place);
    each(chart.readings, place);
    each(chart.heat_plans, [&](HeatPlan& plan) { change(plan.aim); });
    each(chart.photos, change);
}

} // namespace padchart::document
