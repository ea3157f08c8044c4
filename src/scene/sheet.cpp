#include "scene/sheet.hpp"

#include <algorithm>

#include "scene/page_writer.hpp"
#include "scene/sheet_blocks.hpp"
#include "scene/sheet_cards.hpp"
#include "scene/sheet_map.hpp"
#include "scene/sheet_tables.hpp"

namespace padchart::scene {

using document::Chart;
using document::Side;

namespace {

PageFormat upright(Paper paper) {
    return paper == Paper::A4 ? PageFormat{210.0, 297.0} : PageFormat{215.9, 279.4};
}
PageFormat oblong(Paper paper) {
    return {upright(paper).height_mm, upright(paper).width_mm};
}

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

/// The way of the paper that shows the first map larger; upright where it makes no difference, as tables read better.
PageFormat format_for(const Chart& chart, const Reports& reports, const SheetOptions& options, Side first) {
    const PageFormat tall = upright(options.paper);
    const PageFormat wide = oblong(options.paper);
    const double in_tall = map_enlargement(chart, reports, options, tall, first);
    const double in_wide = map_enlargement(chart, reports, options, wide, first);
    return in_wide > in_tall ? wide : tall;
}

void append(std::vector<Page>& pages, std::vector<Page> more) {
    std::move(more.begin(), more.end(), std::back_inserter(pages));
}

void add_frames(std::vector<Page>& pages, const PageFormat& format, const document::Title& title,
                const SheetOptions& options) {
    for (std::size_t i = 0; i < pages.size(); ++i) {
        Scene& scene = pages[i].scenes.back().scene;
        const SheetNumber number{i + 1, pages.size()};
        add_frame(scene, format);
        if (i == 0)
            add_title_block(scene, format, title, options, number);
        else
            add_title_strip(scene, format, title, options, number);
    }
}

} // namespace

Document make_sheet(const Chart& chart, const Reports& reports, const SheetOptions& options) {
    const std::vector<Side> sides = sides_of(chart);
    const PageFormat format = format_for(chart, reports, options, sides.front());
    Document sheet;
    sheet.title = chart.title.title.empty() ? "Chart" : chart.title.title;
    sheet.author = chart.title.author;
    sheet.subject = options.document_type;
    sheet.day = chart.title.date;
    for (const Side side : sides)
        append(sheet.pages, map_pages(chart, reports, options, format, side, sheet.pages.empty()));
    for (const document::HeatPlan& plan : chart.heat_plans)
        if (std::optional<Page> page = heat_area_page(chart, reports, options, format, plan))
            sheet.pages.push_back(std::move(*page));
    if (options.with_cards) append(sheet.pages, card_pages(chart, reports, format));
    PageWriter writer(format, kTitleStrip_mm + 2.0);
    write_blocks(writer, written_part(chart, reports, options));
    append(sheet.pages, writer.finish());
    add_frames(sheet.pages, format, chart.title, options);
    return sheet;
}

} // namespace padchart::scene
