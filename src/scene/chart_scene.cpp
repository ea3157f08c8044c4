#include "scene/chart_scene.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "document/part_finder.hpp"
#include "document/thing_side.hpp"
#include "document/things.hpp"
#include "scene/canvas.hpp"
#include "scene/double_arrow.hpp"
#include "scene/heat_overlay.hpp"
#include "scene/labels.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using document::Side;
using geometry::Affine;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

Ring framed(const Box& box, const Affine& map) {
    if (box.is_empty()) return {};
    const Ring corners{box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}};
    return geometry::transformed(corners, map);
}

/// In the part's own axes, so that the frame turns with it.
// Of more things than these the handles, or the names, would only hide one another.
constexpr std::size_t kHandled = 200, kNamedFar = 20;

Ring frame_of(const Canvas& canvas, const Footprint& part, double grow) {
    Box box = geometry::bounds(document::extent_in_part(part));
    for (const document::Pad& pad : part.pads)
        box.add(geometry::bounds(document::outline_in_part(pad)));
    return framed(box.grown(grow), canvas.map * document::board_from_part(part.placement));
}

Box box_of_thing(const Canvas& canvas, const document::Id& id) {
    const double pin = canvas.mm(6);
    for (const document::KeepOut& thing : canvas.chart.keep_outs)
        if (thing.id == id) return geometry::bounds(thing.outline);
    for (const document::Shield& thing : canvas.chart.shields)
        if (thing.id == id) return geometry::bounds(thing.outline);
    for (const document::Note& thing : canvas.chart.notes)
        if (thing.id == id) return Box{thing.at, thing.at}.grown(pin);
    for (const document::Reading& thing : canvas.chart.readings)
        if (thing.id == id) return Box{thing.at, thing.at}.grown(pin);
    return {};
}

Ring frame_of(const Canvas& canvas, document::PartFinder& finder, const document::Id& id, double grow) {
    if (const std::optional<std::size_t> part = finder.find(id))
        return frame_of(canvas, canvas.chart.parts[*part], grow);
    return framed(box_of_thing(canvas, id).grown(grow), canvas.map);
}

/// As side_of, found at once for parts.
std::optional<Side> side_of_selected(const Chart& chart, document::PartFinder& finder, const document::Id& id) {
    if (const std::optional<std::size_t> part = finder.find(id)) return chart.parts[*part].placement.side;
    return document::side_of(chart, id);
}

/// Dashed and named: it is selected, but not to be taken hold of from here.
void add_far_selection(Canvas& canvas, Ring frame) {
    canvas.scene.add(Role::Marquee, Line{std::move(frame), true, Weight::Normal});
    const RoleWords words{Role::Marquee, "selected, on the other side"};
    const auto is_same = [&](const RoleWords& known) { return known.role == words.role; };
    if (std::none_of(canvas.scene.legend_words.begin(), canvas.scene.legend_words.end(), is_same))
        canvas.scene.legend_words.push_back(words);
}

/// Above the frame, below it, beside it, then farther off; over words only where there is no room at all.
Vec2 place_by_frame(const Canvas& canvas, const LabelBlock& block, const Box& frame) {
    const double high = canvas.mm(canvas.options.label_px), wide = block.width_mm() / 2.0 + canvas.mm(6);
    const Vec2 middle = frame.centre();
    const auto is_free = [&](Vec2 at) {
        const Box box = block.box_at(at).grown(canvas.mm(1));
        return std::none_of(canvas.taken.begin(), canvas.taken.end(),
                            [&](const Box& taken) { return taken.overlaps(box); });
    };
    const Vec2 above{middle.x, frame.min.y - high};
    for (double off = 0.0; off < 6.0; ++off)
        for (const Vec2 at : {above - Vec2{0, off * 1.5 * high}, Vec2{middle.x, frame.max.y + high * (1 + 1.5 * off)},
                              Vec2{frame.max.x + wide, middle.y + off * 1.5 * high},
                              Vec2{frame.min.x - wide, middle.y + off * 1.5 * high}})
            if (is_free(at)) return at;
    return above;
}

/// "D1, other side". Placed before the names of parts, which make way.
void add_far_names(Canvas& canvas) {
    if (canvas.options.selection.size() > kNamedFar) return;
    document::PartFinder finder(canvas.chart);
    for (const document::Id& id : canvas.options.selection) {
        const std::optional<Side> side = side_of_selected(canvas.chart, finder, id);
        if (!side || canvas.is_near(*side)) continue;
        const Box frame = geometry::bounds(frame_of(canvas, finder, id, canvas.mm(kFrame_px)));
        if (frame.is_empty()) continue;
        const LabelBlock block{.lines = {{document::spoken_name(canvas.chart, id) + ", other side", Role::Selection,
                                          canvas.options.label_px, true}},
                               .px_per_mm = canvas.options.px_per_mm};
        const Vec2 at = place_by_frame(canvas, block, frame);
        canvas.taken.push_back(block.box_at(at).grown(canvas.mm(1)));
        add_block(canvas.scene, block, at, 0.0, true, -1);
    }
}

} // namespace

void add_nozzle(Canvas& canvas, const document::HeatPlan& plan) {
    const std::int32_t source = canvas.scene.add_source(plan.id);
    const Vec2 at = canvas.map(plan.aim);
    const double radius = plan.nozzle_bore_mm / 2.0;
    Ring ring = geometry::transformed(geometry::circle(radius, 0.002), Affine::translation(at));
    canvas.scene.add(Role::NozzleRing, Line{std::move(ring), true, Weight::Normal}, source);
    for (const Vec2 d : {Vec2{1, 0}, Vec2{0, 1}, Vec2{-1, 0}, Vec2{0, -1}}) {
        const Vec2 from = at + d * (radius * 1.12);
        canvas.scene.add(Role::AimCross, Line{{from, from + d * canvas.mm(14)}, false, Weight::Normal}, source);
    }
}

void add_plans(Canvas& canvas) {
    if (canvas.reports.plan != nullptr) return add_plan_in_hand(canvas);
    const bool wanted = canvas.options.stage == Stage::Heat || canvas.options.stage == Stage::HandOver;
    if (!canvas.options.show_plans || !wanted) return;
    for (const document::HeatPlan& plan : canvas.chart.heat_plans)
        if (canvas.is_near(plan.side)) add_nozzle(canvas, plan);
}

void add_selection(Canvas& canvas) {
    document::PartFinder finder(canvas.chart);
    if (canvas.options.hover && !canvas.is_selected(*canvas.options.hover)) {
        Ring frame = frame_of(canvas, finder, *canvas.options.hover, canvas.mm(4));
        if (!frame.empty()) canvas.scene.add(Role::Hover, Line{std::move(frame), true, Weight::Normal});
    }
    for (const document::Id& id : canvas.options.selection) {
        Ring frame = frame_of(canvas, finder, id, canvas.mm(kFrame_px));
        if (frame.empty()) continue;
        const std::optional<Side> side = side_of_selected(canvas.chart, finder, id);
        if (side && !canvas.is_near(*side)) {
            add_far_selection(canvas, std::move(frame));
            continue;
        }
        canvas.scene.add(Role::Selection, Line{frame, true, Weight::Normal});
        if (canvas.options.selection.size() > kHandled) continue;
        if (finder.find(id) && !canvas.has_handles(id)) continue;
        for (const Vec2 corner : frame)
            canvas.scene.add(Role::SelectionHandle, Symbol{corner, Sign::Handle, kHandle_px});
    }
}

Scene layered_scene(const Chart& chart, const Reports& reports, const ViewOptions& options,
                    const StageLayers& between) {
    Canvas canvas{chart, reports, options, scene_from_board(options.seen_from)};
    canvas.selected.insert(options.selection.begin(), options.selection.end());
    collect_parts(canvas);
    add_ground(canvas);
    add_isotherms(canvas);
    if (between.over_ground) between.over_ground(canvas);
    add_parts(canvas);
    add_plans(canvas);
    if (between.over_parts) between.over_parts(canvas);
    add_far_names(canvas);
    add_annotations(canvas);
    add_selection(canvas);
    return std::move(canvas.scene);
}

Scene chart_scene(const Chart& chart, const Reports& reports, const ViewOptions& options) {
    return layered_scene(chart, reports, options, {});
}

Affine scene_from_board(Side seen_from) {
    return seen_from == Side::Top ? Affine{} : Affine::scaling(-1.0, 1.0);
}

Vec2 scene_from_board(Vec2 board, Side seen_from) {
    return scene_from_board(seen_from)(board);
}

void add_gap(Scene& scene, const geometry::Gap& gap, Side seen_from, double px_per_mm) {
    const Vec2 from = scene_from_board(gap.from, seen_from);
    const Vec2 to = scene_from_board(gap.to, seen_from);
    add_double_arrow(scene, from, to, px_per_mm);
    scene.add(Role::LabelMeasure, Text{.at = geometry::lerp(from, to, 0.5),
                                       .text = fmt::format("{:.{}f} mm", gap.mm, gap.mm < 1 ? 2 : 1),
                                       .height_px = 11.5,
                                       .strong = true,
                                       .halo = true});
}

} // namespace padchart::scene
