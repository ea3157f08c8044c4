#include <cmath>

#include "scene/canvas.hpp"
#include "scene/heat_overlay.hpp"

namespace padchart::scene {

using document::Side;
using geometry::Ring;

namespace {

void add_area(Canvas& canvas, Role fill, Role edge, const geometry::Polygon& polygon, std::int32_t source) {
    canvas.scene.add(fill, Fill{polygon}, source);
    canvas.scene.add(edge, Line{polygon.outer, true, Weight::Normal}, source);
    for (const Ring& hole : polygon.holes)
        canvas.scene.add(edge, Line{hole, true, Weight::Normal}, source);
}

void add_board(Canvas& canvas) {
    if (!canvas.chart.board.outline) return;
    const geometry::Polygon outline = geometry::transformed(*canvas.chart.board.outline, canvas.map);
    canvas.scene.add(Role::Board, Fill{outline});
    for (const Ring& hole : outline.holes)
        canvas.scene.add(Role::CutOut, Fill{{hole, {}}});
}

/// Above the zones, so that the edge can be followed through them.
void add_board_edge(Canvas& canvas) {
    if (!canvas.chart.board.outline) return;
    const geometry::Polygon outline = geometry::transformed(*canvas.chart.board.outline, canvas.map);
    canvas.scene.add(Role::BoardEdge, Line{outline.outer, true, Weight::Bold});
    for (const Ring& hole : outline.holes)
        canvas.scene.add(Role::BoardEdge, Line{hole, true, Weight::Normal});
}

bool speaks_of_aim(Stage stage) {
    return stage != Stage::Orient && stage != Stage::Access && stage != Stage::Inspect;
}

void add_zones(Canvas& canvas) {
    if (canvas.reports.no_aim != nullptr) return add_no_aim_map(canvas);
    const analysis::ClearanceReport* report = canvas.reports.clearance;
    if (!canvas.options.show_zones || report == nullptr || !speaks_of_aim(canvas.options.stage)) return;
    for (const geometry::Polygon& polygon : canvas.is_near(Side::Top) ? report->top_zones : report->bottom_zones) {
        canvas.hatched.push_back(geometry::transformed(polygon, canvas.map));
        add_area(canvas, Role::NoAim, Role::NoAimEdge, canvas.hatched.back(), -1);
    }
}

bool holds_here(const Canvas& canvas, const document::KeepOut& keep_out) {
    return canvas.is_near(keep_out.side) || keep_out.through_board;
}

bool is_taken_off(const document::KeepOut& keep_out) {
    return keep_out.measure == document::Measure::Removed;
}

void add_keep_outs(Canvas& canvas) {
    for (const document::KeepOut& keep_out : canvas.chart.keep_outs) {
        if (!holds_here(canvas, keep_out)) continue;
        const std::int32_t source = canvas.scene.add_source(keep_out.id);
        geometry::Polygon outline = geometry::transformed(keep_out.outline, canvas.map);
        if (is_taken_off(keep_out)) { // nothing is left to be hurt: it is drawn like a part that is not there
            canvas.scene.add(Role::MissingEdge, Line{outline.outer, true, Weight::Thin}, source);
            canvas.keep_outs.push_back({&keep_out, std::move(outline), source});
            continue;
        }
        add_area(canvas, Role::KeepOut, Role::KeepOutEdge, outline, source);
        canvas.hatched.push_back(outline);
        canvas.keep_outs.push_back({&keep_out, std::move(outline), source});
    }
}

void add_shields(Canvas& canvas) {
    for (const document::Shield& shield : canvas.chart.shields)
        if (canvas.is_near(shield.side))
            add_area(canvas, Role::Shield, Role::ShieldEdge, geometry::transformed(shield.outline, canvas.map),
                     canvas.scene.add_source(shield.id));
}

void add_far_side(Canvas& canvas) {
    if (!canvas.options.show_far_side) return;
    for (const document::KeepOut& keep_out : canvas.chart.keep_outs)
        if (!holds_here(canvas, keep_out))
            canvas.scene.add(Role::FarSideEdge,
                             Line{geometry::transformed(keep_out.outline.outer, canvas.map), true, Weight::Thin},
                             canvas.scene.add_source(keep_out.id));
    for (const document::Footprint& part : canvas.chart.parts) {
        if (canvas.is_near(part.placement.side)) continue;
        Ring outline = geometry::transformed(document::extent_on_board(part), canvas.map);
        if (!outline.empty())
            canvas.scene.add(Role::FarSideEdge, Line{std::move(outline), true, Weight::Thin},
                             canvas.scene.add_source(part.id));
    }
}

} // namespace

void add_ground(Canvas& canvas) {
    add_board(canvas);
    add_zones(canvas);
    add_keep_outs(canvas);
    add_shields(canvas);
    add_board_edge(canvas);
    add_far_side(canvas);
}

} // namespace padchart::scene
