// `padchart freeze`: the chart as it is now kept as the chart from before the heat.

#include <fmt/format.h>

#include <ostream>

#include "base/counted.hpp"
#include "cli/frozen.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

int run_freeze(const Arguments& arguments, Streams streams) {
    const Result<std::string> day = day_of(arguments);
    if (!day) return fail(streams, day.error());
    const std::string path = arguments.text("CHART");
    if (lower_case(path).ends_with(".html"))
        return fail(streams, {"is a page, which stays as it was written; right would be the chart in it: `padchart "
                              "extract` takes it out",
                              path});
    const Result<document::Chart> chart = json::load_chart(path);
    if (!chart) return fail(streams, chart.error());
    const Result<Frozen> frozen = freeze_as_before(*chart, path, arguments.text("by"), *day);
    if (!frozen) return fail(streams, frozen.error());
    if (const Result<void> saved = json::save_chart(frozen->chart, path); !saved) return fail(streams, saved.error());
    if (arguments.has("json")) {
        json::JsonWriter out;
        out.begin_object().member("before", frozen->file.string()).member("parts", chart->parts.size());
        out.member("checksum", frozen->chart.frozen_before->checksum).end_object();
        streams.out << std::move(out).str();
    } else {
        streams.out << fmt::format("{}: {} kept as before\n", frozen->file.string(),
                                   counted(chart->parts.size(), "part"));
    }
    return kFine;
}

} // namespace

Command freeze_command() {
    return {
        "freeze",
        "keep the chart as it is now as the chart from before the heat",
        "Writes NAME.before.chart.json beside NAME.chart.json and remembers it in the chart with its checksum; then "
        "`padchart compare NAME.chart.json` needs no second chart. An older copy is never written over: the next "
        "one is NAME.before-2.chart.json. Ticks of an earlier comparison are taken off the chart and stay in the "
        "copy.",
        "padchart freeze demo/river-logger.chart.json --by \"bench 2\" --date 2031-04-02",
        {chart_positional(),
         {"--by", OptionKind::Text, "who says that it is so"},
         {"--date", OptionKind::Text, "the day, such as 2031-04-02"},
         json_flag()},
        run_freeze};
}

} // namespace padchart::cli
