// Writing the sheet to hand over.

#include <algorithm>
#include <array>
#include <filesystem>

#include "app/documents.hpp"
#include "app/sheet_name.hpp"
#include "base/disk_file.hpp"
#include "cli/compared.hpp"
#include "cli/page_pictures.hpp"
#include "cli/photo_pictures.hpp"
#include "cli/shared.hpp"
#include "page/page.hpp"
#include "page/sheet_options.hpp"
#include "paint/cairo_painter.hpp"
#include "scene/sheet.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {
namespace {

Error given_up() {
    return {"given up", ""};
}

/// Which of the heat plans is being worked out: that takes the longest.
std::function<void(std::size_t)> telling_plans(const document::Chart& chart, const WorkSteps& steps) {
    return [&steps, of = " of " + std::to_string(chart.heat_plans.size())](std::size_t plan) {
        steps.say("working out heat plan " + std::to_string(plan) + of);
    };
}

/// The chart as it is on the screen, saved or not.
Result<void> write_page(const document::Chart& chart, const SheetWish& wish, const WorkSteps& steps) {
    const std::filesystem::path& file = wish.chart_file;
    steps.say("working out the reports");
    page::HandOverReports reports = page::hand_over_reports(chart, true, steps.stop, telling_plans(chart, steps));
    if (steps.stop.stop_requested()) return given_up();
    reports.compared = cli::compared_with_before(chart, file);
    steps.say("writing the page");
    const std::string bytes = json::write_chart(chart);
    const std::string name =
        file.empty() ? std::filesystem::path(wish.path).stem().string() + ".chart.json" : file.filename().string();
    page::PageInput input{chart, reports, bytes, name};
    input.stop = steps.stop;
    if (!file.empty()) input.evidence = cli::evidence_for_page(chart, file);
    if (!file.empty() && wish.with_photos) {
        steps.say("reading the photos");
        input.photos = cli::photos_for_page(chart, file);
        if (steps.stop.stop_requested()) return given_up();
    }
    const std::string html = page::one_file_page(input);
    if (steps.stop.stop_requested()) return given_up();
    return replace_file(wish.path, html, steps.stop);
}

std::string ending_of(const std::string& path) {
    return cli::lower_case(std::filesystem::path(path).extension().string());
}

/// A picture is one page: that of the first map, not the cover before it.
const scene::Page& first_map(const scene::Document& sheet) {
    const auto found = std::find_if(sheet.pages.begin(), sheet.pages.end(),
                                    [](const scene::Page& page) { return page.bookmark.starts_with("Map, "); });
    return found == sheet.pages.end() ? sheet.pages.front() : *found;
}

} // namespace

std::optional<Error> fault_of_sheet_name(const std::string& path) {
    constexpr std::array<std::string_view, 4> kEndings{".pdf", ".html", ".svg", ".png"};
    if (std::find(kEndings.begin(), kEndings.end(), ending_of(path)) != kEndings.end()) return std::nullopt;
    return Error{"The name must end with .pdf, .html, .svg or .png.", path};
}

Result<void> write_sheet(const document::Chart& chart, const SheetWish& wish, const WorkSteps& steps) {
    const std::filesystem::path& file = wish.chart_file;
    const std::string& path = wish.path;
    constexpr double kPictureDpi = 200;
    const std::string ending = ending_of(path);
    if (auto fault = fault_of_sheet_name(path)) return *fault;
    if (ending == ".html") return write_page(chart, wish, steps);
    steps.say("working out the reports");
    page::HandOverReports computed = page::hand_over_reports(chart, false, steps.stop, telling_plans(chart, steps));
    if (steps.stop.stop_requested()) return given_up();
    computed.compared = cli::compared_with_before(chart, file);
    steps.say("laying out the pages");
    scene::SheetOptions options = page::sheet_options(chart, computed);
    if (!file.empty()) options.evidence = cli::evidence_pictures(chart, file);
    const scene::Document sheet = scene::make_sheet(chart, {&computed.clearance, &computed.fit}, options);
    if (steps.stop.stop_requested()) return given_up();
    const paint::Theme& theme = paint::grey_print_theme();
    if (ending == ".pdf") {
        const std::string of = " of " + std::to_string(sheet.pages.size());
        return paint::write_pdf(sheet, theme, path, steps.stop,
                                [&](std::size_t page) { steps.say("writing page " + std::to_string(page) + of); });
    }
    steps.say("writing the map");
    if (ending == ".svg") return paint::write_svg(first_map(sheet), theme, path, steps.stop);
    return paint::write_png(first_map(sheet), theme, kPictureDpi, path, steps.stop);
}

Result<void> write_sheet(const Session& s, const std::string& path) {
    // The reports must be of this very chart, also when the thread behind is late.
    return write_sheet(s.editor.chart(), {s.editor.path(), path, s.page_has_photos}, {});
}

} // namespace padchart::app
