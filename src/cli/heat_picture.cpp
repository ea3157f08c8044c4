#include "cli/heat_picture.hpp"

#include <filesystem>

#include "cli/shared.hpp"
#include "paint/cairo_painter.hpp"
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
    if (path.extension() == ".svg") return paint::write_svg(page, paint::paper_theme(), path.string());
    if (path.extension() == ".png") return paint::write_png(page, paint::paper_theme(), kPicture_dpi, path.string());
    if (path.extension() == ".pdf") {
        scene::Document document;
        document.title = page.bookmark;
        document.pages.push_back(page);
        return paint::write_pdf(document, paint::paper_theme(), path.string());
    }
    return Error{"the ending \"" + path.extension().string() + "\" is not one of svg, png, pdf", "--svg"};
}

} // namespace padchart::cli
