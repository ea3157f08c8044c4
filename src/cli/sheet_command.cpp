// `padchart sheet`: what is handed to a colleague, on paper or as a picture.

#include <fmt/format.h>

#include <filesystem>
#include <ostream>

#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "paint/cairo_painter.hpp"
#include "scene/sheet.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

/// "sheet.png" for the first page, "sheet-2.png" for the second.
std::string page_path(const std::filesystem::path& output, std::size_t page) {
    if (page == 0) return output.string();
    const std::string name = fmt::format("{}-{}{}", output.stem().string(), page + 1, output.extension().string());
    return (output.parent_path() / name).string();
}

Result<void> write_pages(const scene::Document& document, const paint::Theme& theme,
                         const std::filesystem::path& output, double dpi, Streams streams) {
    for (std::size_t i = 0; i < document.pages.size(); ++i) {
        const std::string path = page_path(output, i);
        const Result<void> done = output.extension() == ".svg" ? paint::write_svg(document.pages[i], theme, path)
                                                               : paint::write_png(document.pages[i], theme, dpi, path);
        if (!done) return done;
        streams.out << path << '\n';
    }
    return {};
}

Result<void> write(const scene::Document& document, const Arguments& arguments, Streams streams) {
    const std::filesystem::path output = arguments.text("output");
    const paint::Theme& theme = arguments.has("grey") ? paint::grey_print_theme() : paint::paper_theme();
    if (output.extension() == ".svg" || output.extension() == ".png") {
        const double dpi = arguments.number("dpi").value_or(150.0);
        if (!(dpi >= 20.0 && dpi <= 1200.0)) return Error{"the resolution must lie between 20 and 1200 dpi", "--dpi"};
        return write_pages(document, theme, output, dpi, streams);
    }
    if (output.extension() != ".pdf")
        return Error{"the ending \"" + output.extension().string() + "\" is not one of pdf, svg, png", output.string()};
    const Result<void> done = paint::write_pdf(document, theme, output.string());
    if (done) streams.out << fmt::format("{}, {} pages\n", output.string(), document.pages.size());
    return done;
}

int run_sheet(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    const analysis::ClearanceReport clearance = analysis::clearance(*chart);
    const analysis::FitReport fit = analysis::fit(*chart);
    scene::Reports reports;
    reports.clearance = &clearance;
    reports.fit = &fit;
    scene::SheetOptions options;
    options.paper = arguments.text("paper", "a4") == "letter" ? scene::Paper::Letter : scene::Paper::A4;
    options.owner = arguments.text("owner");
    options.approved_by = arguments.text("approved-by");
    const scene::Document document = scene::make_sheet(*chart, reports, options);
    const Result<void> done = write(document, arguments, streams);
    return done ? kFine : fail(streams, done.error());
}

} // namespace

Command sheet_command() {
    return {
        "sheet",
        "write the sheet to hand over, as PDF, SVG or PNG",
        "Maps of both sides at a standard enlargement with a scale bar, part table, keep-outs, readings, cautions and "
        "what is not mapped. SVG and PNG give one file a page.",
        "padchart sheet demo/river-logger.chart.json -o logger.pdf",
        {chart_positional(),
         {"-o,--output", OptionKind::Text, "FILE.pdf, FILE.svg or FILE.png", true},
         {"--paper", OptionKind::Text, "a4 or letter", false, {"a4", "letter"}},
         {"--grey", OptionKind::Flag, "in grey, for a printer without colours"},
         {"--dpi", OptionKind::Number, "resolution of a PNG (default 150)"},
         {"--owner", OptionKind::Text, "legal owner for the title block"},
         {"--approved-by", OptionKind::Text, "who approves, for the title block"}},
        run_sheet};
}

} // namespace padchart::cli
