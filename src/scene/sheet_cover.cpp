#include "scene/sheet_cover.hpp"

#include <fmt/format.h>

#include "scene/sheet_blocks.hpp"
#include "scene/sheet_map.hpp"
#include "scene/sheet_tables.hpp"

namespace padchart::scene {
namespace {

bool is_another(const std::string& bookmark) {
    return bookmark.find(", continued") == std::string::npos &&
           (bookmark.find(", tile ") == std::string::npos || bookmark.ends_with(", tile 1"));
}

std::vector<Row> contents_of(const std::vector<Page>& rest, std::size_t before) {
    std::vector<Row> rows;
    for (std::size_t i = 0; i < rest.size(); ++i) {
        const std::string page = fmt::format("{}", before + i + 1);
        std::string name = rest[i].bookmark.substr(0, rest[i].bookmark.find(", tile 1"));
        if (is_another(rest[i].bookmark)) rows.push_back({std::move(name), page});
        for (const std::string& section : rest[i].sections)
            rows.push_back({section, page});
    }
    return rows;
}

/// Two entries a line: with one a line the list of a usual chart would run over to a page of its own.
std::vector<Row> in_pairs(std::vector<Row> entries) {
    const std::size_t half = (entries.size() + 1) / 2;
    std::vector<Row> rows;
    for (std::size_t i = 0; i < half; ++i) {
        Row row = entries[i];
        const Row second = half + i < entries.size() ? entries[half + i] : Row{"", ""};
        row.insert(row.end(), second.begin(), second.end());
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<Page> written(const document::Chart& chart, const SheetOptions& options,
                          const std::vector<LegendEntry>& legend, const std::vector<Page>& rest, std::size_t before) {
    const PageFormat format = upright_paper(options.paper);
    PageWriter writer(format, title_block_mm(format, chart.title, options) + 2.0);
    write_blocks(writer, cautions_part(chart, options));
    writer.heading("Legend of the maps");
    const double width = format.frame().width() - 8.0;
    const geometry::Box box = writer.reserve(legend_height_mm(legend.size(), width));
    add_legend(writer.scene(), box, legend);
    writer.space(2.0);
    writer.paragraph(chart.scale ? "Scale: " + scale_in_words(*chart.scale) + "."
                                 : "Not to scale: this chart has no scale yet. Measure nothing on this sheet.");
    writer.heading("On these sheets");
    writer.table({{"What", 4.0}, {"Sheet", 1.0, true}, {"What", 4.0}, {"Sheet", 1.0, true}},
                 in_pairs(contents_of(rest, before)));
    return writer.finish();
}

} // namespace

std::vector<Page> cover_pages(const document::Chart& chart, const SheetOptions& options,
                              const std::vector<LegendEntry>& legend, const std::vector<Page>& rest) {
    // How many pages come before is known only when they are written.
    const std::size_t before = written(chart, options, legend, rest, 1).size();
    return written(chart, options, legend, rest, before);
}

} // namespace padchart::scene
