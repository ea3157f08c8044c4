#pragma once
// From a chart and what was computed of it to the picture of one stage, seen from one side. Seen from the bottom the
// whole picture is mirrored (x to -x), as the board is when it is turned over; text never is.

#include <optional>
#include <string>
#include <vector>

#include "analysis/clearance.hpp"
#include "analysis/fit.hpp"
#include "analysis/heat_noaim.hpp"
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
    bool show_far_side = true; ///< as faint dashed outlines
    bool show_pad_numbers = false;
    bool show_labels = true;
    bool only_names_that_fit = false; ///< of parts: inside their bodies or not at all, but for what is selected
    bool show_plans = true;           ///< nozzle ring and aim of the heat plans, in the stages that speak of heat
    /// The scale the picture will be seen at (px of 1/96 in per mm): decides which names fit inside their parts. Labels
    /// that would not fit at the true scale are left out by the painter, so a new zoom wants a new scene only for
    /// looks.
    double px_per_mm = 60.0;
    double label_px = 11.0;            ///< height of a part's name
    std::optional<double> heat_time_s; ///< isotherms at this time of the run; nothing: the peak over the whole run
    bool heat_is_stale = false;        ///< the estimate belongs to an older plan: drawn pale
    bool no_aim_is_stale = false;
};

/// What has been computed so far; a null pointer is simply not drawn.
struct Reports {
    const analysis::ClearanceReport* clearance = nullptr;
    const analysis::FitReport* fit = nullptr;
    // Of the plan in hand, for the heat stage. Where a map is given it stands instead of the clearance zones.
    const document::HeatPlan* plan = nullptr;     ///< drawn instead of the chart's own version of it
    const document::HeatPlan* compared = nullptr; ///< a second plan, drawn beside it
    const analysis::HeatReport* heat = nullptr;
    const analysis::NoAimMap* no_aim = nullptr;
};

[[nodiscard]] Scene chart_scene(const document::Chart& chart, const Reports& reports, const ViewOptions& options);

/// Board mm to scene mm for a side: identity from the top, mirrored from the bottom. Its own inverse.
[[nodiscard]] geometry::Vec2 scene_from_board(geometry::Vec2 board, document::Side seen_from);

[[nodiscard]] geometry::Affine scene_from_board(document::Side seen_from);

/// A measured gap: a line with arrow heads between two points (board frame) and the distance in words on a plate.
void add_gap(Scene& scene, const geometry::Gap& gap, document::Side seen_from, double px_per_mm);

/// What the legend has to explain: the roles that occur, in reading order, with their words.
struct LegendEntry {
    Role role;
    std::string text;
};
[[nodiscard]] std::vector<LegendEntry> legend_of(const Scene& scene);
/// What the heat stage explains; the rest was explained in the stages before.
[[nodiscard]] bool is_about_heat(Role role);
/// The role of the line that goes with an area, for a legend's sample: NoAimEdge for NoAim. Nothing where it has none.
[[nodiscard]] std::optional<Role> edge_of(Role area);

} // namespace padchart::scene
