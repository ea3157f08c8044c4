#include "cli/heat_picture.hpp"

#include <filesystem>
#include <sstream>

#include "cli/page_output.hpp"
#include "cli/shared.hpp"
#include "scene/heat_page.hpp"

namespace padchart::cli {
namespace {

constexpr double kPicture_dpi = 150.0;

std::string title_of(const document::Chart& chart, const scene::Reports& reports) {
    const std::string target = display_name(chart, reports.plan->target);
    return reports.no_aim != nullptr ? "Where the air may not be aimed, to lift " + target
                                     : "Estimated heat, to lift " + target;
}

} // namespace

Option picture_option() {
    return {"--svg", OptionKind::Text, "also write a picture: FILE.svg, FILE.png or FILE.pdf"};
}

Result<void> write_heat_picture(const document::Chart& chart, scene::Reports reports, const Arguments& arguments) {
    if (!arguments.has("svg")) return {};
    const std::filesystem::path path = arguments.text("svg");
    const analysis::ClearanceReport clearance = analysis::clearance(chart);
    const analysis::FitReport fit = analysis::fit(chart);
    // The zones of the chart's rules would hide the field.
    if (reports.no_aim != nullptr) reports.clearance = &clearance;
    reports.fit = &fit;
    const scene::Page page = scene::heat_page(chart, reports, title_of(chart, reports));
    scene::Document document;
    document.title = page.bookmark;
    document.pages.push_back(page);
    // The answer stands on the output stream, perhaps for a machine: the picture is not named there.
    std::ostringstream unsaid;
    return write_document(document, paint::paper_theme(), {path, kPicture_dpi, arguments.has("force")},
                          {unsaid, unsaid});
}

} // namespace padchart::cli
