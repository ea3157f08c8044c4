#include "scene/sheet_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "analysis/check.hpp"
#include "scene/sheet_blocks.hpp"

namespace padchart::scene {

using document::Chart;
using document::Side;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kHeading_mm = 16.0;
constexpr double kTileOverlap_mm = 10.0;
/// A whole board is shown unless its charted corner could be shown at least this much larger.
constexpr double kWorthCropping = 3.0;
constexpr double kMapMargin_mm = 7.0;   ///< for names that stand outside their parts
constexpr double kTightMargin_mm = 3.0; ///< of a map alone on its page, where every millimetre counts
constexpr double kTightHeading_mm = 13.0;
constexpr std::array kEnlargements{50.0, 20.0, 10.0, 5.0, 2.0, 1.0};

Scene scene_of(const Chart& chart, const Reports& reports, const SheetOptions& options, Side side, double scale) {
    ViewOptions view;
    view.stage = Stage::HandOver;
    view.seen_from = side;
    view.show_zones = options.with_zones;
    view.px_per_mm = scale / kPaperPx_mm;
    view.label_px = kTextHeight_mm / kPaperPx_mm;
    return chart_scene(chart, reports, view);
}

/// What somebody charted, without the bare board round it. Scene mm.
Box charted(const Scene& scene) {
    Box box;
    for (const Item& item : scene.items) {
        if (item.source < 0) continue;
        if (item.kind == Item::Kind::Fill) box.add(geometry::bounds(scene.fills[item.index].area));
        if (item.kind == Item::Kind::Line) box.add(geometry::bounds(scene.lines[item.index].points));
        if (item.kind == Item::Kind::Symbol) box.add(scene.symbols[item.index].at);
    }
    return box;
}

Box whole(const Chart& chart, const Scene& scene, Side side) {
    Box box = charted(scene);
    if (chart.board.outline)
        box.add(geometry::bounds(geometry::transformed(*chart.board.outline, scene_from_board(side))));
    return box.is_empty() ? Box{{0, 0}, {10, 10}} : box;
}

struct Plan {
    Box content; ///< scene mm
    double enlargement = 1.0;
    bool is_cropped = false;
    std::size_t columns = 1;
    std::size_t rows = 1;
    std::string heading;
    std::string bookmark;
};

Vec2 size_of(const Box& box) {
    return {box.width(), box.height()};
}

Vec2 room_of(const Box& area, double margin) {
    return {area.width() - 2 * margin, area.height() - 2 * margin};
}

std::string seen_in_words(Side side) {
    return side == Side::Top ? "top side, seen from the top" : "bottom side, seen from the bottom";
}

struct Layout {
    Box heading, map, legend, scale;
    double margin = kMapMargin_mm;
    bool alone = false; ///< no legend, and the scale bar in the heading
};

Plan plan_of(const Chart& chart, const Scene& scene, Side side, const Layout& layout, std::optional<double> forced) {
    const Box& area = layout.map;
    const Vec2 room = room_of(area, layout.margin);
    Plan plan;
    plan.heading = side == Side::Top ? "Top side, seen from the top" : "Bottom side, seen from the bottom";
    plan.bookmark = side == Side::Top ? "Map, top side" : "Map, bottom side";
    plan.content = whole(chart, scene, side);
    plan.enlargement = forced.value_or(standard_enlargement(size_of(plan.content), room));
    const Box corner = charted(scene);
    if (!corner.is_empty() && !forced) {
        const double closer = standard_enlargement(size_of(corner), room);
        if (closer >= kWorthCropping * plan.enlargement) {
            plan.content = corner;
            plan.enlargement = closer;
            plan.is_cropped = true;
        }
    }
    const Vec2 size = size_of(plan.content) * plan.enlargement;
    const auto tiles = [&](double length, double one, double full) {
        return length <= one ? 1.0
                             : std::ceil((length + 2 * layout.margin - kTileOverlap_mm) / (full - kTileOverlap_mm));
    };
    plan.columns = static_cast<std::size_t>(tiles(size.x, room.x, area.width()));
    plan.rows = static_cast<std::size_t>(tiles(size.y, room.y, area.height()));
    return plan;
}

Layout layout_of(const PageFormat& format, std::size_t legend_entries, double foot_mm) {
    const Box frame = format.frame();
    const Box inner{{frame.min.x + 4, frame.min.y + 3}, {frame.max.x - 4, frame.max.y - foot_mm - 3}};
    Layout layout;
    layout.heading = {inner.min, {inner.max.x, inner.min.y + kHeading_mm}};
    const double legend = legend_height_mm(legend_entries, inner.width());
    layout.legend = {{inner.min.x, inner.max.y - legend}, inner.max};
    layout.scale = {{inner.min.x, layout.legend.min.y - kScaleBlock_mm - 2}, {inner.max.x, layout.legend.min.y - 2}};
    layout.map = {{frame.min.x, layout.heading.max.y}, {frame.max.x, layout.scale.min.y - 2}};
    return layout;
}

Layout alone_on(const PageFormat& format) {
    const Box frame = format.frame();
    Layout layout;
    layout.alone = true;
    layout.margin = kTightMargin_mm;
    const double foot = frame.min.y + kTightHeading_mm;
    const double middle = frame.min.x + frame.width() * 0.55;
    layout.heading = {{frame.min.x + 4, frame.min.y + 0.5}, {middle, foot}};
    layout.scale = {{middle + 6, frame.min.y + 0.5}, {frame.max.x - 4, foot}};
    layout.map = {{frame.min.x, foot}, {frame.max.x, frame.max.y - kTitleStrip_mm}};
    return layout;
}

std::string up_in_words(const Chart& chart) {
    return chart.title.up_edge.empty() ? "Which edge is up was not stated." : "Up: " + chart.title.up_edge + ".";
}

struct Tile {
    std::size_t column = 0;
    std::size_t row = 0;
};

void add_heading(Scene& scene, const Layout& layout, const Chart& chart, const Plan& plan, Side side, Tile tile) {
    const Vec2 at = layout.heading.min;
    write_fitted(scene, at + Vec2{0, 3.2}, plan.heading, layout.heading.width(),
                 {.role = Role::PageHeading, .height_mm = kTextHeight_mm * 1.25});
    std::string text = up_in_words(chart);
    if (side == Side::Bottom) text += " Left and right are swapped against the top side.";
    if (plan.is_cropped) text += " The board goes on beyond what is shown.";
    if (plan.columns * plan.rows > 1)
        text += fmt::format(" Tile {} of {}: row {}, column {}.", tile.row * plan.columns + tile.column + 1,
                            plan.columns * plan.rows, tile.row + 1, tile.column + 1);
    write_fitted(scene, at + Vec2{0, 9.2}, text, layout.heading.width());
}

/// Lines along which the tiles are laid together, and which tile joins there.
void add_joining_marks(Scene& scene, const Box& area, const Plan& plan, Tile tile) {
    const double half = kTileOverlap_mm / 2.0;
    const auto number_at = [&](std::size_t column, std::size_t row) { return row * plan.columns + column + 1; };
    const auto upright = [&](double x, double text_x, Align align, std::size_t other) {
        draw_line(scene, Role::PageTick, {x, area.min.y}, {x, area.max.y}, Weight::Hair);
        for (const double y : {area.min.y + 8, area.max.y - 8})
            write(scene, {text_x, y}, fmt::format("tile {}", other), {.role = Role::PageMuted, .align = align});
    };
    const auto level = [&](double y, double text_y, std::size_t other) {
        draw_line(scene, Role::PageTick, {area.min.x, y}, {area.max.x, y}, Weight::Hair);
        for (const double x : {area.min.x + 35, area.max.x - 35})
            write(scene, {x, text_y}, fmt::format("tile {}", other), {.role = Role::PageMuted, .align = Align::Centre});
    };
    if (tile.column > 0)
        upright(area.min.x + half, area.min.x + half + 1.5, Align::Left, number_at(tile.column - 1, tile.row));
    if (tile.column + 1 < plan.columns)
        upright(area.max.x - half, area.max.x - half - 1.5, Align::Right, number_at(tile.column + 1, tile.row));
    if (tile.row > 0) level(area.min.y + half, area.min.y + half + 3, number_at(tile.column, tile.row - 1));
    if (tile.row + 1 < plan.rows) level(area.max.y - half, area.max.y - half - 3, number_at(tile.column, tile.row + 1));
}

/// Where the scene's origin comes to lie on the page.
Vec2 origin_of(const Plan& plan, const Box& area, Tile tile) {
    const Vec2 step = size_of(area) - Vec2{kTileOverlap_mm, kTileOverlap_mm};
    const Vec2 all = size_of(area) +
                     Vec2{step.x * static_cast<double>(plan.columns - 1), step.y * static_cast<double>(plan.rows - 1)};
    const Vec2 shift{step.x * static_cast<double>(tile.column), step.y * static_cast<double>(tile.row)};
    return area.min + all / 2.0 - shift - plan.content.centre() * plan.enlargement;
}

Page page_of(const Chart& chart, const Scene& map, const PageFormat& format, const Layout& layout, const Plan& plan,
             Side side, Tile tile) {
    std::string bookmark = plan.bookmark;
    if (plan.columns * plan.rows > 1) bookmark += fmt::format(", tile {}", tile.row * plan.columns + tile.column + 1);
    Page page = format.blank(std::move(bookmark));
    page.scenes.insert(page.scenes.begin(), PlacedScene{.scene = map,
                                                        .scale = plan.enlargement,
                                                        .at = origin_of(plan, layout.map, tile),
                                                        .clip = layout.map});
    Scene& scene = page.scenes.back().scene;
    add_heading(scene, layout, chart, plan, side, tile);
    draw_line(scene, Role::PageRule, layout.map.min, {layout.map.max.x, layout.map.min.y}, Weight::Hair);
    draw_line(scene, Role::PageRule, {layout.map.min.x, layout.map.max.y}, layout.map.max, Weight::Hair);
    if (plan.columns * plan.rows > 1) add_joining_marks(scene, layout.map, plan, tile);
    if (!chart.scale)
        add_no_scale(scene, layout.scale);
    else if (layout.alone)
        add_short_scale_bar(scene, layout.scale, plan.enlargement);
    else
        add_scale_bar(scene, layout.scale, plan.enlargement, *chart.scale);
    if (!layout.alone) add_legend(scene, layout.legend, legend_of(map));
    return page;
}

/// The scene decides the legend, the legend the room, the room the scale, the scale which names fit into the scene:
/// once round is enough, since the roles that occur do not depend on the scale.
struct Prepared {
    Layout layout;
    Plan plan;
};
Prepared prepare(const Chart& chart, const Reports& reports, const SheetOptions& options, const PageFormat& format,
                 Side side, double foot_mm, bool alone) {
    const Scene probe = scene_of(chart, reports, options, side, 10.0);
    Prepared prepared;
    prepared.layout = alone ? alone_on(format) : layout_of(format, legend_of(probe).size(), foot_mm);
    prepared.plan = plan_of(chart, probe, side, prepared.layout, options.enlargement);
    return prepared;
}

PageFormat upright(Paper paper) {
    return paper == Paper::A4 ? PageFormat{210.0, 297.0} : PageFormat{215.9, 279.4};
}
PageFormat oblong(Paper paper) {
    return {upright(paper).height_mm, upright(paper).width_mm};
}

} // namespace

Box heat_area(const Chart& chart, const document::HeatPlan& plan) {
    const double reach = analysis::heat_area_radius(plan);
    Box box = Box{plan.aim, plan.aim}.grown(reach);
    if (const auto target = document::find_part(chart, plan.target))
        box.add(geometry::bounds(document::extent_on_board(chart.parts[*target])));
    const Vec2 a = scene_from_board(box.min, plan.side);
    const Vec2 b = scene_from_board(box.max, plan.side);
    Box seen;
    seen.add(a);
    seen.add(b);
    return seen;
}

double standard_enlargement(Vec2 content_mm, Vec2 room_mm) {
    for (const double k : kEnlargements)
        if (content_mm.x * k <= room_mm.x && content_mm.y * k <= room_mm.y) return k;
    return kEnlargements.back();
}

PageFormat upright_paper(Paper paper) {
    return upright(paper);
}

MapLayout map_layout(const Chart& chart, const Reports& reports, const SheetOptions& options, Side side) {
    MapLayout best;
    std::size_t fewest = 0;
    for (const bool alone : {false, true})
        for (const PageFormat& format : {upright(options.paper), oblong(options.paper)}) {
            const Plan plan =
                prepare(chart, reports, options, format, side, title_block_mm(format, chart.title, options), alone)
                    .plan;
            const std::size_t tiles = plan.columns * plan.rows;
            const bool is_better =
                plan.enlargement > best.enlargement || (plan.enlargement == best.enlargement && tiles < fewest);
            if (fewest != 0 && !is_better) continue;
            best = {format, alone, plan.enlargement};
            fewest = tiles;
        }
    return best;
}

std::vector<LegendEntry> legend_of_maps(const Chart& chart, const Reports& reports, const SheetOptions& options,
                                        const std::vector<Side>& sides) {
    Scene all;
    for (const Side side : sides) {
        const Scene map = scene_of(chart, reports, options, side, 10.0);
        all.items.insert(all.items.end(), map.items.begin(), map.items.end());
        all.legend_words.insert(all.legend_words.end(), map.legend_words.begin(), map.legend_words.end());
    }
    return legend_of(all);
}

std::vector<Page> map_pages(const Chart& chart, const Reports& reports, const SheetOptions& options,
                            const MapLayout& how, Side side, bool is_first) {
    const double foot = is_first ? title_block_mm(how.format, chart.title, options) : kTitleStrip_mm;
    const auto [layout, plan] = prepare(chart, reports, options, how.format, side, foot, how.alone);
    const Scene map = scene_of(chart, reports, options, side, plan.enlargement);
    std::vector<Page> pages;
    for (std::size_t row = 0; row < plan.rows; ++row)
        for (std::size_t column = 0; column < plan.columns; ++column)
            pages.push_back(page_of(chart, map, how.format, layout, plan, side, {column, row}));
    return pages;
}

std::optional<Page> heat_area_page(const Chart& chart, const Reports& reports, const SheetOptions& options,
                                   const MapLayout& how, const document::HeatPlan& heat_plan) {
    Prepared prepared = prepare(chart, reports, options, how.format, heat_plan.side, kTitleStrip_mm, how.alone);
    const double whole_map = prepared.plan.enlargement;
    Plan& plan = prepared.plan;
    plan.content = heat_area(chart, heat_plan);
    plan.enlargement =
        standard_enlargement(size_of(plan.content), room_of(prepared.layout.map, prepared.layout.margin));
    if (plan.enlargement <= whole_map) return std::nullopt;
    plan.is_cropped = true;
    plan.columns = plan.rows = 1;
    const auto target = document::find_part(chart, heat_plan.target);
    const std::string name = target ? chart.parts[*target].name : heat_plan.name;
    plan.heading = "Heat area of " + name + ", " + seen_in_words(heat_plan.side);
    plan.bookmark = "Heat area of " + name;
    const Scene map = scene_of(chart, reports, options, heat_plan.side, plan.enlargement);
    return page_of(chart, map, how.format, prepared.layout, plan, heat_plan.side, {});
}

} // namespace padchart::scene
