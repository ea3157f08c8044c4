// `padchart check`: everything that needs attention, most urgent first.

#include <fmt/format.h>

#include <filesystem>
#include <ostream>

#include "analysis/check.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

void add_missing_photos(const document::Chart& chart, const std::filesystem::path& chart_path, Diagnostics& findings) {
    for (const document::Photo& photo : chart.photos) {
        const std::filesystem::path file = chart_path.parent_path() / photo.path;
        std::error_code ignored;
        if (!std::filesystem::exists(file, ignored))
            findings.push_back({Severity::Warning,
                                "photo-missing",
                                "The photo " + photo.path + " is not beside the chart.",
                                {},
                                photo.id.text});
    }
}

int run_check(const Arguments& arguments, Streams streams) {
    const std::filesystem::path path = arguments.text("CHART");
    const Result<document::Chart> chart = json::load_chart(path);
    if (!chart) return fail(streams, chart.error());
    Diagnostics findings = analysis::check(*chart, analysis::clearance(*chart), analysis::fit(*chart));
    add_missing_photos(*chart, path, findings);
    if (arguments.has("json")) {
        json::JsonWriter out;
        out.begin_object().member("parts", chart->parts.size()).key("findings");
        write_findings(out, findings);
        out.end_object();
        streams.out << std::move(out).str();
    } else {
        print(streams.err, findings);
        streams.out << fmt::format("{} parts looked at, {} findings\n", chart->parts.size(), findings.size());
    }
    return exit_code_of(findings);
}

} // namespace

Command check_command() {
    return {"check",
            "list everything that needs attention, most urgent first",
            "Hazards, parts that could go back the wrong way round without a record, gaps below the chart's rules, "
            "names used "
            "twice, faults on record, and what was never looked at.",
            "padchart check demo/river-logger.chart.json",
            {chart_positional(), json_flag()},
            run_check};
}

} // namespace padchart::cli
