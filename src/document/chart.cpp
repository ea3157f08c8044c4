#include "document/chart.hpp"

#include <algorithm>

namespace padchart::document {
namespace {

template <class T>
bool bears(const Items<T>& items, const Id& id) {
    return std::any_of(items.begin(), items.end(), [&](const T& thing) { return thing.id == id; });
}

} // namespace

std::optional<std::size_t> find_part(const Chart& chart, const Id& id) {
    for (std::size_t i = 0; i < chart.parts.size(); ++i)
        if (chart.parts[i].id == id) return i;
    return std::nullopt;
}

std::optional<std::size_t> find_part_named(const Chart& chart, std::string_view name) {
    for (std::size_t i = 0; i < chart.parts.size(); ++i)
        if (chart.parts[i].name == name) return i;
    return std::nullopt;
}

bool is_taken(const Chart& chart, const Id& id) {
    return bears(chart.parts, id) || bears(chart.keep_outs, id) || bears(chart.shields, id) || bears(chart.notes, id) ||
           bears(chart.readings, id) || bears(chart.heat_plans, id) || bears(chart.photos, id) ||
           bears(chart.copper_areas, id) || bears(chart.stations, id) || bears(chart.ticks, id) ||
           bears(chart.revisions, id);
}

Id free_id(const Chart& chart, std::string_view prefix, std::string_view seed) {
    Id id = id_of(prefix, seed);
    for (int n = 2; is_taken(chart, id); ++n)
        id = id_of(prefix, std::string(seed) + "#" + std::to_string(n));
    return id;
}

} // namespace padchart::document
