#pragma once
// From a chart and what was computed of it to the picture of one stage, seen from one side. Seen from the bottom the
// whole picture is mirrored (x to -x), as the board is when it is turned over; text never is.

#include <optional>
#include <string>
#include <vector>

#include "analysis/clearance.hpp"
#include "analysis/fit.hpp"
#include "document/chart.hpp"
#include "scene/scene.hpp"

namespace padchart::scene {

enum class Stage { Survey, Orient, Heat, Access, Inspect, HandOver };

struct ViewOptions {
    Stage stage = Stage::Survey;
    document::Side seen_from = document::Side::Top;
    std::vector<document::Id> selection;
    std::optional<document::Id> hover;
    bool show_zones = true;
    bool show_far_side = true;    ///< as faint dashed outlines
    bool show_pad_numbers = false;
    bool show_labels = true;
};

/// What has been computed so far; a null pointer is simply not drawn.
struct Reports {
    const analysis::ClearanceReport* clearance = nullptr;
    const analysis::FitReport* fit = nullptr;
};

[[nodiscard]] Scene chart_scene(const document::Chart& chart, const Reports& reports, const ViewOptions& options);

/// Board mm to scene mm for a side: identity from the top, mirrored from the bottom. Its own inverse.
[[nodiscard]] geometry::Vec2 scene_from_board(geometry::Vec2 board, document::Side seen_from);

/// What the legend has to explain: the roles that occur, in reading order, with their words.
struct LegendEntry {
    Role role;
    std::string text;
};
[[nodiscard]] std::vector<LegendEntry> legend_of(const Scene& scene);

} // namespace padchart::scene
