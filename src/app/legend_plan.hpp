#pragma once
// Which entries of the legend find room, and where each stands.

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/vec2.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::app {

/// Sizes of the legend, px.
struct LegendSizes {
    double row = 0.0, sample = 0.0, pad = 0.0, space = 0.0, room = 0.0;
    std::function<float(std::string_view)> width_of; ///< of words in the legend's type
};

struct PlacedEntry {
    scene::LegendEntry entry;
    geometry::Vec2 at; ///< about the upper left corner
    std::vector<std::string> lines;
};

struct LegendPlan {
    std::vector<PlacedEntry> placed;
    int rows = 0;
    double width = 0.0;
    bool leaves_out = false;
};

/// The line that tells how many entries found no room; it explains no shape.
[[nodiscard]] bool is_remainder(const scene::LegendEntry& entry);
/// How far the words stand behind their sample.
[[nodiscard]] double words_after(const scene::LegendEntry& entry, const LegendSizes& sizes);
/// As many entries as find room in so many rows, and how many did not with the key that shows them; an entry that is
/// wider than the room is broken into lines. The stage tells what explains itself and gives way first.
[[nodiscard]] LegendPlan legend_plan(const std::vector<scene::LegendEntry>& all, scene::Stage stage, int most_rows,
                                     const std::string& key, const LegendSizes& sizes);
/// All entries in their order, in as many pages as it takes; each tells how many are still to come. The last one for
/// any page behind it.
[[nodiscard]] LegendPlan legend_page(const std::vector<scene::LegendEntry>& all, int page, int most_rows,
                                     const std::string& key, const LegendSizes& sizes);

/// Which page the whole legend shows.
struct LegendDesk {
    int page = 0;
};

} // namespace padchart::app
