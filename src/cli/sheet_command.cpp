// `padchart sheet`: what is handed to a colleague, on paper or as a picture.

#include "analysis/heat.hpp"
#include "cli/page_output.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "scene/sheet.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

/// What the air of each plan is estimated to do, in the report's own sentences; a plan that cannot be run says why.
std::vector<scene::SheetSection> heat_sections(const document::Chart& chart) {
    std::vector<scene::SheetSection> sections;
    for (const document::HeatPlan& plan : chart.heat_plans) {
        const std::string name = plan.name.empty() ? display_name(chart, plan.target) : plan.name;
        scene::SheetSection section{"Heat estimate: " + name, {}};
        const Result<analysis::HeatReport> report = analysis::heat(chart, plan);
        if (report)
            section.paragraphs = report->sentences;
        else
            section.paragraphs = {"Not computed: " + describe(report.error())};
        section.paragraphs.emplace_back("An estimate, not a measurement: check with a thermocouple.");
        sections.push_back(std::move(section));
    }
    return sections;
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
    options.sections = heat_sections(*chart);
    const scene::Document document = scene::make_sheet(*chart, reports, options);
    const paint::Theme& theme = arguments.has("grey") ? paint::grey_print_theme() : paint::paper_theme();
    const PageOutput output{arguments.text("output"), arguments.number("dpi").value_or(150.0)};
    const Result<void> done = write_document(document, theme, output, streams);
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
