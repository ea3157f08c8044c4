// `padchart check`: everything that needs attention, most urgent first; of one chart or of all below a folder.

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "base/counted.hpp"
#include "base/disk_file.hpp"
#include "base/plain_text.hpp"
#include "cli/check_folder.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"

namespace padchart::cli {
namespace {

int check_one(const Arguments& arguments, Streams streams) {
    const Result<CheckedChart> chart = checked_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    if (arguments.has("json")) {
        json::JsonWriter out;
        out.begin_object().member("parts", chart->parts).key("findings");
        write_findings(out, chart->findings);
        out.end_object();
        streams.out << std::move(out).str();
    } else {
        print(streams.err, chart->findings);
        streams.out << fmt::format("{} looked at, {}\n", counted(chart->parts, "part"),
                                   counted(chart->findings.size(), "finding"));
    }
    return exit_code_of(chart->findings);
}

void print_json(const std::vector<CheckedFile>& files, Streams streams) {
    json::JsonWriter out;
    out.begin_object().key("files").begin_array();
    for (const CheckedFile& file : files) {
        out.begin_object().member("file", file.name);
        out.member("error", file.error ? describe(*file.error) : std::string());
        out.member("parts", file.chart ? file.chart->parts : 0).key("findings");
        write_findings(out, file.chart ? file.chart->findings : Diagnostics{});
        out.end_object();
    }
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

void print_table(const std::vector<CheckedFile>& files, Streams streams) {
    std::size_t width = 4;
    for (const CheckedFile& file : files)
        width = std::max(width, file.name.size());
    streams.out << fmt::format("{:<{}}  {:>6} {:>7} {:>9} {:>6}\n", "file", width, "parts", "faults", "warnings",
                               "notes");
    for (const CheckedFile& file : files) {
        if (file.error)
            streams.out << fmt::format("{:<{}}  {}\n", on_one_line(file.name), width, "cannot be read");
        else
            streams.out << fmt::format("{:<{}}  {:>6} {:>7} {:>9} {:>6}\n", on_one_line(file.name), width,
                                       file.chart->parts, file.count(Severity::Fault), file.count(Severity::Warning),
                                       file.count(Severity::Note));
    }
    streams.out << counted(files.size(), "chart") << " checked\n";
}

int exit_code_of(const std::vector<CheckedFile>& files) {
    int code = kFine;
    for (const CheckedFile& file : files)
        code = std::max(code, file.error ? static_cast<int>(kCouldNotDo) : cli::exit_code_of(file.chart->findings));
    return code;
}

int check_all(const Arguments& arguments, Streams streams) {
    const Result<std::vector<CheckedFile>> files = checked_folder(arguments.text("all"));
    if (!files) return fail(streams, files.error());
    if (arguments.has("junit")) {
        const std::string path = arguments.text("junit");
        if (lower_case(path).ends_with(".json"))
            return fail(streams, {"is the name of a chart; right would be a name like checks.xml", path});
        if (const Result<void> done = replace_file(path, junit_xml(*files)); !done) return fail(streams, done.error());
    }
    for (const CheckedFile& file : *files)
        if (file.error) streams.err << "padchart: " << on_one_line(describe(*file.error)) << '\n';
    if (arguments.has("json"))
        print_json(*files, streams);
    else
        print_table(*files, streams);
    return exit_code_of(*files);
}

int run_check(const Arguments& arguments, Streams streams) {
    if (arguments.has("all") == arguments.has("CHART"))
        return fail(streams, {"one CHART is wanted, or --all FOLDER", "check"});
    if (arguments.has("all")) return check_all(arguments, streams);
    if (arguments.has("junit")) return fail(streams, {"--junit goes with --all", "check"});
    return check_one(arguments, streams);
}

} // namespace

Command check_command() {
    return {"check",
            "list everything that needs attention, most urgent first",
            "Hazards, parts that could go back the wrong way round without a record, gaps below the chart's rules, "
            "names used twice, faults on record, conflicts that a merge left, and what was never looked at. With --all "
            "every NAME.chart.json below a folder, several at a time, as a table.",
            "padchart check demo/river-logger.chart.json",
            {{"CHART", OptionKind::Text, "the chart file, NAME.chart.json"},
             {"--all", OptionKind::Text, "a folder: check every chart below it"},
             {"--junit", OptionKind::Text, "with --all: also write a report as build servers read it"},
             json_flag()},
            run_check};
}

} // namespace padchart::cli
