#include "app/part_boxes.hpp"

#include <unordered_map>
#include <utility>

#include "app/editor.hpp"

namespace padchart::app {

geometry::Box bounds_without_parts(const document::Chart& chart) {
    geometry::Box box;
    if (chart.board.outline) box.add(geometry::bounds(*chart.board.outline));
    for (const document::KeepOut& keep_out : chart.keep_outs)
        box.add(geometry::bounds(keep_out.outline));
    return box;
}

geometry::Box PartBoxes::bounds(const document::Chart& chart) {
    std::unordered_map<const document::Footprint*, geometry::Box> elsewhere; // once parts were added or taken away
    if (known_.size() != chart.parts.size())
        for (const Known& known : known_)
            elsewhere.emplace(known.part.get(), known.box);
    std::vector<Known> before = std::exchange(known_, {});
    known_.reserve(chart.parts.size());
    geometry::Box box = bounds_without_parts(chart);
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        const auto& part = chart.parts.pointer(i);
        if (i < before.size() && before[i].part == part)
            known_.push_back(std::move(before[i]));
        else if (const auto found = elsewhere.find(part.get()); found != elsewhere.end())
            known_.push_back({part, found->second});
        else
            known_.push_back({part, bounds_of(*part)});
        box.add(known_.back().box);
    }
    return box;
}

} // namespace padchart::app
