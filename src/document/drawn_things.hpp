#pragma once
// Everything of a chart that lies somewhere on the board, for what changes all of it at once. For document/ alone.

#include <utility>

#include "document/chart.hpp"

namespace padchart::document {

template <class T, class Change>
void change_each(Items<T>& items, const Change& change) {
    for (std::size_t i = 0; i < items.size(); ++i) {
        T thing = items[i];
        change(thing);
        items.replace(i, std::move(thing));
    }
}

/// `change` takes a Polygon &, a Vec2 & (the place of a note, a reading, an aim), a Footprint & or a Photo & each.
template <class Change>
void change_all_drawn(Chart& chart, const Change& change) {
    const auto area = [&](auto& thing) { change(thing.outline); };
    const auto place = [&](auto& thing) { change(thing.at); };
    if (chart.board.outline) change(*chart.board.outline);
    change_each(chart.parts, change);
    change_each(chart.keep_outs, area);
    change_each(chart.shields, area);
    change_each(chart.copper_areas, area);
    change_each(chart.notes, place);
    change_each(chart.readings, place);
    change_each(chart.heat_plans, [&](HeatPlan& plan) { change(plan.aim); });
    change_each(chart.photos, change);
}

} // namespace padchart::document
