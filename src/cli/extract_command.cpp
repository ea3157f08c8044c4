// `padchart extract`: the chart out of a one-file page, byte by byte.

#include <ostream>

#include "base/disk_file.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

int run_extract(const Arguments& arguments, Streams streams) {
    const std::string path = arguments.text("CHART");
    const Result<std::string> bytes = json::load_chart_text(path);
    if (!bytes) return fail(streams, bytes.error());
    if (const Result<document::Chart> chart = json::read_chart(*bytes, path); !chart)
        return fail(streams, chart.error());
    const std::string output = arguments.text("output");
    // Not even over the page it came from, unless that is wanted.
    if (const auto refusal = would_overwrite(output, {}, arguments.has("force"))) return fail(streams, *refusal);
    if (const Result<void> done = replace_file(output, *bytes); !done) return fail(streams, done.error());
    streams.out << output << ", " << bytes->size() << " bytes\n";
    return kFine;
}

} // namespace

Command extract_command() {
    return {"extract",
            "take the chart out of a one-file page",
            "The chart file the page was made of, byte by byte, checked against its hash. Other commands take the page "
            "itself in place of a chart.",
            "padchart extract logger.html -o back.chart.json",
            {{"CHART", OptionKind::Text, "NAME.html, written by `padchart sheet`", true},
             {"-o,--output", OptionKind::Text, "the chart file to write", true},
             force_flag()},
            run_extract};
}

} // namespace padchart::cli
