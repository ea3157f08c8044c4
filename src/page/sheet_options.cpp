#include "page/sheet_options.hpp"

#include "page/access_sections.hpp"

namespace padchart::page {

scene::SheetOptions sheet_options(const document::Chart& chart, const HandOverReports& reports) {
    scene::SheetOptions options;
    options.heat = plan_heat(reports);
    options.sections = failed_plans(chart, reports);
    for (scene::SheetSection& section : access_sections(chart, reports))
        options.sections.push_back(std::move(section));
    options.compared = reports.compared;
    return options;
}

} // namespace padchart::page
