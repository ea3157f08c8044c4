// `padchart pattern`: a traced footprint saved to be used again, or such a file looked at.

#include <fmt/format.h>

#include <filesystem>
#include <ostream>

#include "analysis/fit.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "patterns/own_pattern.hpp"
#include "json/chart_file.hpp"
#include "json/pattern_file.hpp"

namespace padchart::cli {
namespace {

std::string turns_in_words(const std::vector<double>& turns) {
    std::string text;
    for (const double turn : turns)
        text += fmt::format("{}{:g}", text.empty() ? "" : " ", turn);
    return text;
}

void print_summary(const json::PatternFile& file, Streams streams) {
    const document::Footprint& pattern = file.pattern;
    const analysis::PartFit fit = analysis::fit_of(pattern, analysis::kLeastUncertainty_mm);
    streams.out << fmt::format("name      {}\n", pattern.name.empty() ? "(no name)" : pattern.name);
    streams.out << fmt::format("class     {}\n", document::to_text(pattern.part_class));
    streams.out << fmt::format("pads      {}\n", document::pad_count(pattern));
    const geometry::Box box = geometry::bounds(document::extent_in_part(pattern));
    streams.out << fmt::format("extent    {:.2f} x {:.2f} mm{}\n", box.width(), box.height(),
                               pattern.body ? "" : " (no body drawn)");
    streams.out << fmt::format("seats at  {}\n", turns_in_words(fit.seating_turns));
    if (!file.note.empty()) streams.out << fmt::format("note      {}\n", file.note);
}

bool is_pattern_file(const std::string& path) {
    return path.ends_with(".pattern.json");
}

/// A chart without a scale holds no millimetres, and a pattern is nothing but millimetres.
Result<json::PatternFile> pattern_from_chart(const Arguments& arguments) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return chart.error();
    if (!chart->scale)
        return Error{"the chart has no scale, so its lengths are not mm; right would be a chart with one",
                     arguments.text("CHART")};
    const Result<document::Id> id = part_by_name(*chart, arguments.text("part"));
    if (!id) return id.error();
    const document::Footprint& part = chart->parts[*document::find_part(*chart, *id)];
    if (part.pads.empty() && !part.body)
        return Error{"the part has neither pads nor a body, so there is nothing to save", display_name(part)};
    json::PatternFile file;
    file.pattern = patterns::as_pattern(part);
    file.pattern.name = arguments.text("name", part.name);
    file.note =
        arguments.text("note", fmt::format("lengths right within {:g} %", 100.0 * chart->scale->relative_uncertainty));
    return file;
}

int save(const Arguments& arguments, Streams streams) {
    const std::string output = arguments.text("output");
    if (!is_pattern_file(output)) return fail(streams, {"the name must end in .pattern.json", output});
    if (const auto refusal = would_overwrite(arguments.text("output"), {}, arguments.has("force")))
        return fail(streams, *refusal);
    const Result<json::PatternFile> file = pattern_from_chart(arguments);
    if (!file) return fail(streams, file.error());
    if (const Result<void> done = json::save_pattern(*file, output); !done) return fail(streams, done.error());
    streams.out << fmt::format("{}, {} pads\n", output, file->pattern.pads.size());
    return kFine;
}

int show(const Arguments& arguments, Streams streams) {
    const Result<json::PatternFile> file = json::load_pattern(arguments.text("CHART"));
    if (!file) return fail(streams, file.error());
    print_summary(*file, streams);
    return kFine;
}

int run_pattern(const Arguments& arguments, Streams streams) {
    if (is_pattern_file(arguments.text("CHART"))) {
        if (arguments.has("part") || arguments.has("output"))
            return fail(streams, {"--part and -o are for a chart; a pattern file is only shown", "pattern"});
        return show(arguments, streams);
    }
    if (!arguments.has("part") || !arguments.has("output"))
        return fail(streams, {"--part NAME and -o FILE.pattern.json are needed with a chart", "pattern"});
    return save(arguments, streams);
}

} // namespace

Command pattern_command() {
    return {
        "pattern",
        "save a traced footprint as a pattern to be used again, or show such a file",
        "Keeps copper, body, kind, heat limits and what its mark is; leaves out place, name on the board, state and "
        "who saw what. The file is plain JSON and can be shared.",
        "padchart pattern demo/river-logger.chart.json --part TV2 -o clamp.pattern.json",
        {{"CHART", OptionKind::Text, "the chart file, or a FILE.pattern.json to be shown", true},
         {"--part", OptionKind::Text, "name of the part"},
         {"-o,--output", OptionKind::Text, "FILE.pattern.json"},
         {"--name", OptionKind::Text, "what the pattern is called (default: the part's name)"},
         {"--note", OptionKind::Text, "where it was measured and how well"},
         force_flag()},
        run_pattern};
}

} // namespace padchart::cli
