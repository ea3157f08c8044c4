// `padchart import`: a traced SVG becomes a chart file.

#include <fmt/format.h>

#include <filesystem>
#include <ostream>

#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "svg/trace_to_chart.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

/// The scale the user states; nothing leaves it to the trace.
Result<svg::TraceOptions> options_of(const Arguments& arguments) {
    svg::TraceOptions options;
    if (const auto mm = arguments.number("mm-per-unit")) {
        if (!(*mm > 0.0)) return Error{"mm per unit must be above 0", "--mm-per-unit"};
        options.scale = document::Scale{
            *mm, document::ScaleSource::Drawn, options.relative_uncertainty, "stated on the command line", {}};
    }
    return options;
}

void print_summary(const document::Chart& chart, const std::string& output, Streams streams) {
    std::size_t pads = 0;
    std::size_t sensitive = 0;
    for (const document::Footprint& part : chart.parts) {
        pads += part.pads.size();
        if (part.heat) ++sensitive;
    }
    streams.out << fmt::format("{}: {} parts, {} pads, {} heat-sensitive, {} keep-outs, {}\n", output,
                               chart.parts.size(), pads, sensitive, chart.keep_outs.size(),
                               chart.board.outline ? "board outline found" : "no board outline");
    if (chart.scale)
        streams.out << fmt::format("scale: 1 unit = {:g} mm, within {:g} % ({})\n", chart.scale->mm_per_unit,
                                   chart.scale->relative_uncertainty * 100.0, chart.scale->note);
    else
        streams.out << "scale: none. Nothing can be measured until it is set; see --mm-per-unit.\n";
}

int run_import(const Arguments& arguments, Streams streams) {
    const std::string path = arguments.text("TRACE");
    const std::string output = arguments.text("output");
    if (std::filesystem::exists(output) && !arguments.has("force"))
        return fail(streams, {"exists; it may hold somebody's work. Choose another name or say --force", output});
    const Result<svg::TraceOptions> options = options_of(arguments);
    if (!options) return fail(streams, options.error());
    const Result<std::string> bytes = read_file(path);
    if (!bytes) return fail(streams, bytes.error());
    const Result<svg::Drawing> drawing = svg::read(*bytes);
    if (!drawing) return fail(streams, {drawing.error().message, path + ":" + drawing.error().where});
    Result<svg::TraceResult> trace = svg::chart_from_trace(*drawing, *options);
    if (!trace) return fail(streams, {trace.error().message, path});
    trace->chart.title.title = std::filesystem::path(path).stem().string();
    if (const Result<void> saved = json::save_chart(trace->chart, output); !saved) return fail(streams, saved.error());
    print_summary(trace->chart, output, streams);
    print(streams.err, trace->diagnostics);
    return exit_code_of(trace->diagnostics);
}

} // namespace

Command import_command() {
    return {"import",
            "turn a traced SVG into a chart",
            "Layers, groups, classes or ids named outline, cut-out, body, pads, mark, keep-out, sensitive, shield "
            "decide what "
            "a shape becomes; the tracing guide in the README tells more.",
            "padchart import demo/power-corner.svg -o corner.chart.json",
            {{"TRACE", OptionKind::Text, "the traced drawing, an SVG file", true},
             {"-o,--output", OptionKind::Text, "the chart file to write", true},
             {"--mm-per-unit", OptionKind::Number, "scale of a trace that states no size, or a wrong one"},
             {"--force", OptionKind::Flag, "write over an existing file"}},
            run_import};
}

} // namespace padchart::cli
