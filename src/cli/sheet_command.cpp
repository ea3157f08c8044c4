// `padchart sheet`: what is handed to a colleague, on paper or as a picture.

#include <fmt/format.h>

#include <optional>
#include <ostream>

#include "analysis/photo_doubts.hpp"
#include "base/disk_file.hpp"
#include "cli/compared.hpp"
#include "cli/page_output.hpp"
#include "cli/page_pictures.hpp"
#include "cli/photo_pictures.hpp"
#include "cli/shared.hpp"
#include "cli/sheet_index.hpp"
#include "cli/subcommands.hpp"
#include "page/page.hpp"
#include "page/sheet_options.hpp"
#include "scene/sheet.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

bool is_page_name(const std::string& path) {
    const std::string ending = lower_case(std::filesystem::path(path).extension().string());
    return ending == ".html" || ending == ".htm";
}

/// "river-logger.chart.json", also where the chart was read from a page.
std::string chart_name_of(const std::filesystem::path& path) {
    if (!is_page_name(path.string())) return path.filename().string();
    return path.stem().string() + ".chart.json";
}

/// A colleague would believe what lies under the chart.
Diagnostics photos_left_out(const document::Chart& chart) {
    Diagnostics findings;
    for (const document::Photo& photo : chart.photos) {
        if (photo.hidden || photo.board != document::WhichBoard::ThisBoard) continue;
        for (Diagnostic& doubt : analysis::placement_doubts(photo, chart.scale.has_value())) {
            if (!analysis::speaks_against_place(doubt)) continue;
            doubt.message = photo.path + " is left out of the page: " + doubt.message;
            findings.push_back(std::move(doubt));
        }
    }
    return findings;
}

int write_page(const Arguments& arguments, Streams streams) {
    const std::string path = arguments.text("CHART");
    const Result<std::string> bytes = json::load_chart_text(path);
    if (!bytes) return fail(streams, bytes.error());
    const Result<document::Chart> chart = json::read_chart(*bytes, path);
    if (!chart) return fail(streams, chart.error());
    page::HandOverReports reports = page::hand_over_reports(*chart, true);
    reports.compared = compared_with_before(*chart, path);
    page::PageInput input{*chart, reports, *bytes, chart_name_of(path)};
    input.evidence = evidence_for_page(*chart, path);
    Diagnostics left_out;
    if (arguments.has("with-photos")) {
        input.photos = photos_for_page(*chart, path);
        left_out = photos_left_out(*chart);
    }
    const std::string output = arguments.text("output");
    if (const auto refusal = would_lose_page(output, arguments.has("force"))) return fail(streams, *refusal);
    const std::string html = page::one_file_page(input);
    if (const Result<void> done = replace_file(output, html); !done) return fail(streams, done.error());
    streams.out << fmt::format("{}, {} kB\n", output, (html.size() + 999) / 1000);
    print(streams.err, left_out);
    return exit_code_of(left_out);
}

/// An option that would do nothing to what is asked for.
std::optional<Error> idle_option(const Arguments& arguments) {
    const bool is_page = is_page_name(arguments.text("output"));
    if (arguments.has("with-photos") && !is_page)
        return Error{"--with-photos goes with a page, FILE.html; a sheet shows the pieces that are evidence", "sheet"};
    for (const char* of_sheet : {"paper", "enlargement", "grey", "dpi", "owner", "approved-by"})
        if (is_page && arguments.has(of_sheet))
            return Error{fmt::format("--{} goes with a sheet: FILE.pdf, FILE.svg or FILE.png", of_sheet), "sheet"};
    if (arguments.has("all") && arguments.has("with-photos"))
        return Error{"--with-photos goes with one CHART", "sheet"};
    return std::nullopt;
}

int run_sheet(const Arguments& arguments, Streams streams) {
    if (const auto refusal = idle_option(arguments)) return fail(streams, *refusal);
    if (arguments.has("all")) return run_sheet_index(arguments, streams);
    if (!arguments.has("CHART")) return fail(streams, Error{"CHART is needed, or --all FOLDER", "sheet"});
    if (is_page_name(arguments.text("output"))) return write_page(arguments, streams);
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    page::HandOverReports computed = page::hand_over_reports(*chart, false);
    computed.compared = compared_with_before(*chart, arguments.text("CHART"));
    scene::Reports reports;
    reports.clearance = &computed.clearance;
    reports.fit = &computed.fit;
    scene::SheetOptions options = page::sheet_options(*chart, computed);
    options.paper = arguments.text("paper", "a4") == "letter" ? scene::Paper::Letter : scene::Paper::A4;
    options.evidence = evidence_pictures(*chart, arguments.text("CHART"));
    if (arguments.has("enlargement")) options.enlargement = std::stod(arguments.text("enlargement"));
    options.owner = arguments.text("owner");
    options.approved_by = arguments.text("approved-by");
    const scene::Document document = scene::make_sheet(*chart, reports, options);
    const paint::Theme& theme = arguments.has("grey") ? paint::grey_print_theme() : paint::paper_theme();
    const PageOutput output{arguments.text("output"), arguments.number("dpi").value_or(150.0), arguments.has("force")};
    const Result<void> done = write_document(document, theme, output, streams);
    return done ? kFine : fail(streams, done.error());
}

} // namespace

Command sheet_command() {
    return {
        "sheet",
        "write the sheet to hand over, as PDF, SVG or PNG, or as a page for a browser",
        "Maps of both sides at a standard enlargement with a scale bar, part table, keep-outs, readings, cautions and "
        "what is not mapped. SVG and PNG give one file a page. HTML gives one page that needs no network and holds the "
        "chart itself: every command takes it in place of a chart. --all FOLDER "
        "-o index.html writes such pages into index-pages/ and an index of them; charts that cannot be read are listed "
        "as such.",
        "padchart sheet demo/river-logger.chart.json -o logger.pdf",
        {{"CHART", OptionKind::Text, "the chart file, NAME.chart.json"},
         {"--all", OptionKind::Text, "folder: a page for every chart below it, and an index of them"},
         {"-o,--output", OptionKind::Text, "FILE.pdf, FILE.svg, FILE.png or FILE.html", true},
         {"--paper", OptionKind::Text, "a4 or letter", false, {"a4", "letter"}},
         {"--enlargement",
          OptionKind::Text,
          "of the maps, tiled over pages where it does not fit (default: the largest that fits)",
          false,
          {"1", "2", "5", "10", "20", "50"}},
         {"--with-photos", OptionKind::Flag,
          "a page only: the last photo of each side that is placed, laid flat and reduced, below the map"},
         {"--grey", OptionKind::Flag, "in grey, for a printer without colours"},
         {"--dpi", OptionKind::Number, "resolution of a PNG (default 150)"},
         force_flag(),
         {"--owner", OptionKind::Text, "legal owner for the title block"},
         {"--approved-by", OptionKind::Text, "who approves, for the title block"}},
        run_sheet};
}

} // namespace padchart::cli
