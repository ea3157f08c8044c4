// `padchart scale`: a chart put to scale by two points or by a part of known size.

#include <fmt/format.h>

#include <optional>
#include <ostream>

#include "cli/scale_options.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

/// All that was stated, surest first to be used, the rest to be held against it.
Result<analysis::ScaleReading> stated_scale(const document::Chart& chart, const Arguments& arguments) {
    const analysis::ScaleErrors errors = scale_errors_of(arguments);
    std::vector<analysis::ScaleReading> readings;
    const auto take = [&](const Result<analysis::ScaleReading>& reading) -> Result<void> {
        if (!reading) return reading.error();
        readings.push_back(*reading);
        return {};
    };
    for (const std::string& text : arguments.all("points"))
        if (const auto taken = take(scale_from_points_text(text, "--points", errors)); !taken) return taken.error();
    for (const std::string& text : arguments.all("part"))
        if (const auto taken = take(scale_from_part_text(chart, text, "--part", errors)); !taken) return taken.error();
    if (readings.empty())
        return Error{"nothing was stated; right would be --points X1,Y1,X2,Y2,MM or --part NAME=SIZE", {}};
    return analysis::surest(readings);
}

void print_json(const analysis::Rescaled& result, const Diagnostics& findings, Streams streams) {
    const document::Scale& scale = *result.chart.scale;
    json::JsonWriter out;
    out.begin_object().member("factor", result.factor).member("mm_per_unit", scale.mm_per_unit);
    out.member("source", document::to_text(scale.source));
    out.member("relative_uncertainty", scale.relative_uncertainty).member("note", scale.note);
    out.key("findings");
    write_findings(out, findings);
    out.end_object();
    streams.out << std::move(out).str();
}

/// A surer scale is never given up in silence.
std::optional<Error> would_degrade(const analysis::Rescaled& result, const Arguments& arguments) {
    if (arguments.has("less-sure")) return std::nullopt;
    for (const Diagnostic& finding : result.findings)
        if (finding.code == "scale-less-sure")
            return Error{finding.message + "; --less-sure takes the new one all the same", {}};
    return std::nullopt;
}

int run_scale(const Arguments& arguments, Streams streams) {
    if (const auto refusal = would_overwrite(arguments)) return fail(streams, *refusal);
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    const Result<analysis::ScaleReading> stated = stated_scale(*chart, arguments);
    if (!stated) return fail(streams, stated.error());
    const Result<analysis::Rescaled> result = analysis::put_to_scale(*chart, stated->scale);
    if (!result) return fail(streams, result.error());
    if (const auto refusal = would_degrade(*result, arguments)) return fail(streams, *refusal);
    if (const auto saved = save_output(result->chart, arguments); !saved) return fail(streams, saved.error());
    Diagnostics findings = stated->findings;
    findings.insert(findings.end(), result->findings.begin(), result->findings.end());
    const document::Scale& scale = *result->chart.scale;
    if (arguments.has("json"))
        print_json(*result, findings, streams);
    else
        streams.out << fmt::format("{}: every length times {:.6g}; 1 unit = {:.6g} mm, within {:.2g} % ({})\n",
                                   arguments.text("output"), result->factor, scale.mm_per_unit,
                                   scale.relative_uncertainty * 100.0, scale.note);
    print(streams.err, findings);
    return exit_code_of(findings);
}

} // namespace

Command scale_command() {
    Command command{
        "scale",
        "put a chart to scale by a measured distance or a part of known size",
        "Points are in the chart's present lengths. Of several statements the surest is used; one that does not agree "
        "with it is a finding, and so is the scale the chart had. A scale less sure than the chart's own is refused.",
        "padchart scale demo/river-logger.chart.json --part C1=1608M --less-sure -o scaled.chart.json",
        {chart_positional(),
         {"-o,--output", OptionKind::Text, "the chart file to write", true},
         force_flag(),
         {"--points",
          OptionKind::Text,
          "X1,Y1,X2,Y2,MM: two points and the distance measured between them",
          false,
          {},
          true},
         {"--part", OptionKind::Text, "NAME=SIZE: a part and its size, such as R1=1608M", false, {}, true},
         {"--less-sure", OptionKind::Flag, "take the stated scale even where the chart's own is surer"}},
        run_scale};
    for (const Option& option : scale_error_options())
        command.options.push_back(option);
    command.options.push_back(json_flag());
    return command;
}

} // namespace padchart::cli
