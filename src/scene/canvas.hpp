#pragma once
// What the layers of a chart's picture share while it is made. Private to the scene module.

#include <functional>
#include <unordered_set>
#include <vector>

#include "scene/chart_scene.hpp"

namespace padchart::scene {

/// A part of the side that is looked at, with all that several layers need of it. Scene mm.
struct PartView {
    const document::Footprint* part = nullptr;
    std::int32_t source = -1;
    geometry::Affine scene_from_part;
    geometry::Ring outline; ///< body or box round the pads
    geometry::Ring inner;   ///< of a heat-sensitive part: its second line
    geometry::Box body_box; ///< of the outline
    geometry::Box box;      ///< body and pads
    geometry::Box mark_box;
    geometry::Box badge_box;
    std::vector<geometry::Box> pads_on_top; ///< boxes of pads drawn over the body
    bool absent = false;
    bool is_cover = false; ///< a shield can, or whatever else has smaller bodies on it; known once parts are drawn
    bool sensitive = false;
    bool needs_record = false;
    bool has_record = false;

    [[nodiscard]] bool is_unknown() const { return needs_record && !has_record; }
};

/// The frame of what is selected stands this far off; its handles reach this far from its corners.
inline constexpr double kFrame_px = 5.0, kHandle_px = 4.0;

struct KeepOutView {
    const document::KeepOut* keep_out = nullptr;
    geometry::Polygon outline;
    std::int32_t source = -1;
};

struct Canvas {
    const document::Chart& chart;
    const Reports& reports;
    const ViewOptions& options;
    geometry::Affine map;                        ///< board to scene
    std::unordered_set<document::Id> selected{}; ///< as in the options
    Scene scene{};
    std::vector<PartView> views{};            ///< parts of the near side, in chart order
    std::vector<KeepOutView> keep_outs{};     ///< those that hold for the near side
    std::vector<geometry::Polygon> hatched{}; ///< where letters need a plate
    std::vector<geometry::Box> avoided{};     ///< by names that stand beside their parts: lines and areas of a stage
    std::vector<geometry::Box> taken{};       ///< by labels that are placed before the names of parts

    [[nodiscard]] double mm(double px) const { return px / options.px_per_mm; }
    [[nodiscard]] bool is_near(document::Side side) const { return side == options.seen_from; }
    [[nodiscard]] bool is_selected(const document::Id& id) const { return selected.contains(id); }
    /// A selected part has handles where it may be moved and turned; it keeps its place elsewhere.
    [[nodiscard]] bool has_handles(const document::Id& part) const {
        return options.stage == Stage::Survey && is_selected(part);
    }
};

/// Ring and aim cross of a plan.
void add_nozzle(Canvas& canvas, const document::HeatPlan& plan);

/// What a stage draws in between the chart's own layers.
struct StageLayers {
    std::function<void(Canvas&)> over_ground; ///< below lands and bodies
    std::function<void(Canvas&)> over_parts;  ///< below badges and names
};
[[nodiscard]] Scene layered_scene(const document::Chart& chart, const Reports& reports, const ViewOptions& options,
                                  const StageLayers& between);

// Layers, from the bottom up.
void collect_parts(Canvas& canvas);
void add_ground(Canvas& canvas); ///< board, zones, keep-outs, shields, the board's edge, the far side
void add_parts(Canvas& canvas);  ///< copper, bodies, marks
void add_plans(Canvas& canvas);
void add_annotations(Canvas& canvas); ///< badges, names, pins
void add_selection(Canvas& canvas);

} // namespace padchart::scene
