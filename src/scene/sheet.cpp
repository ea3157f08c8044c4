#include "scene/sheet.hpp"

#include <algorithm>

#include "scene/page_writer.hpp"
#include "scene/sheet_blocks.hpp"
#include "scene/sheet_cards.hpp"
#include "scene/sheet_cover.hpp"
#include "scene/sheet_map.hpp"
#include "scene/sheet_parking.hpp"
#include "scene/sheet_plan.hpp"
#include "scene/sheet_tables.hpp"

namespace padchart::scene {

using document::Chart;
using document::Side;

namespace {

bool has_anything_on(const Chart& chart, Side side) {
    const auto on_side = [side](const auto& thing) { return thing.side == side; };
    return std::any_of(chart.parts.begin(), chart.parts.end(),
                       [side](const document::Footprint& part) { return part.placement.side == side; }) ||
           std::any_of(chart.keep_outs.begin(), chart.keep_outs.end(), on_side) ||
           std::any_of(chart.shields.begin(), chart.shields.end(), on_side) ||
           std::any_of(chart.notes.begin(), chart.notes.end(), on_side) ||
           std::any_of(chart.readings.begin(), chart.readings.end(), on_side) ||
           std::any_of(chart.heat_plans.begin(), chart.heat_plans.end(), on_side);
}

/// A side without anything on it gets no map, but a sheet without any map is none.
std::vector<Side> sides_of(const Chart& chart) {
    std::vector<Side> sides;
    for (const Side side : {Side::Top, Side::Bottom})
        if (has_anything_on(chart, side)) sides.push_back(side);
    if (sides.empty()) sides.push_back(Side::Top);
    return sides;
}

void append(std::vector<Page>& pages, std::vector<Page> more) {
    std::move(more.begin(), more.end(), std::back_inserter(pages));
}

void add_frames(std::vector<Page>& pages, const document::Title& title, const SheetOptions& options) {
    for (std::size_t i = 0; i < pages.size(); ++i) {
        Scene& scene = pages[i].scenes.back().scene;
        const PageFormat format{pages[i].width_mm, pages[i].height_mm};
        const SheetNumber number{i + 1, pages.size()};
        add_frame(scene, format);
        if (i == 0)
            add_title_block(scene, format, title, options, number);
        else
            add_title_strip(scene, format, title, options, number);
    }
}

const analysis::HeatReport* heat_of(const SheetOptions& options, const document::HeatPlan& plan) {
    for (const PlanHeat& heat : options.heat)
        if (heat.plan == plan.id) return heat.heat;
    return nullptr;
}

/// Maps on paper that suits them, everything written on upright paper.
std::vector<Page> pages_of(const Chart& chart, const Reports& reports, const SheetOptions& options,
                           const MapLayout& layout, const std::vector<Side>& sides) {
    std::vector<Page> pages;
    for (const Side side : sides)
        append(pages, map_pages(chart, reports, options, layout, side, pages.empty()));
    for (const document::HeatPlan& plan : chart.heat_plans) {
        if (const analysis::HeatReport* heat = heat_of(options, plan))
            append(pages, plan_pages(chart, reports, options, plan, *heat));
        else if (std::optional<Page> page = heat_area_page(chart, reports, options, layout, plan))
            pages.push_back(std::move(*page));
    }
    const PageFormat format = layout.alone ? upright_paper(options.paper) : layout.format;
    if (options.with_cards) append(pages, card_pages(chart, reports, format, options.evidence));
    if (options.with_parking) append(pages, parking_pages(chart, reports, format));
    PageWriter writer(format, kTitleStrip_mm + 2.0);
    write_blocks(writer, layout.alone ? tables_part(chart, reports, options) : written_part(chart, reports, options));
    append(pages, writer.finish());
    return pages;
}

} // namespace

Document make_sheet(const Chart& chart, const Reports& reports, const SheetOptions& options) {
    const std::vector<Side> sides = sides_of(chart);
    const MapLayout layout = map_layout(chart, reports, options, sides.front());
    Document sheet;
    sheet.title = chart.title.title.empty() ? "Chart" : chart.title.title;
    sheet.author = chart.title.author;
    sheet.subject = options.document_type;
    sheet.day = chart.title.date;
    std::vector<Page> pages = pages_of(chart, reports, options, layout, sides);
    if (layout.alone) sheet.pages = cover_pages(chart, options, legend_of_maps(chart, reports, options, sides), pages);
    append(sheet.pages, std::move(pages));
    add_frames(sheet.pages, chart.title, options);
    return sheet;
}

} // namespace padchart::scene
