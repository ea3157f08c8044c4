// `padchart merge`: two hands' edits of one chart together; what git's merge driver calls.

#include <fmt/format.h>

#include <ostream>

#include "base/counted.hpp"
#include "base/plain_text.hpp"
#include "cli/merge_notes.hpp"
#include "cli/merge_picture.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"
#include "json/chart_in_page.hpp"
#include "json/merge.hpp"

namespace padchart::cli {
namespace {

/// git takes any code up to 128 for "merged, with conflicts" and stops the merge above.
constexpr int kStopsGit = 129;

int fail_merge(Streams streams, const Error& error) {
    fail(streams, error);
    return kStopsGit;
}

/// Where both sides added the chart, git gives an empty file for what they began with.
Result<document::Chart> load_base(const std::string& path) {
    const Result<std::string> text = read_file(path);
    if (!text) return text.error();
    if (text->find_first_not_of(" \t\r\n") == std::string::npos) return document::Chart{};
    return json::load_chart(path);
}

/// A copy that was edited; or the notes a colleague sent back, which stand for a copy of BASE with them in it.
Result<document::Chart> load_theirs(const document::Chart& base, const Arguments& arguments, Streams streams) {
    const std::string path = arguments.text("THEIRS");
    Result<std::string> text = read_file(path);
    if (!text) return text.error();
    if (!is_notes_text(*text)) return json::load_chart(path);
    return with_notes(base, {}, path, streams);
}

std::string shortened(const std::string& json) {
    constexpr std::size_t kLongest = 60;
    if (json.empty()) return "nothing";
    return json.size() > kLongest ? "something longer" : json;
}

std::string spoken(const document::Chart& chart, const document::Conflict& conflict) {
    std::string what = conflict.thing.is_empty() ? "chart" : display_name(chart, conflict.thing);
    what += conflict.field.empty() ? " as a whole" : " " + conflict.field.substr(1);
    return fmt::format("{}: {} has {}, {} has {}", what, conflict.ours_label, shortened(conflict.ours),
                       conflict.theirs_label, shortened(conflict.theirs));
}

void write_conflict(json::JsonWriter& out, const document::Conflict& conflict) {
    const auto value = [&](std::string_view key, const std::string& json) {
        out.key(key).raw(json.empty() ? "null" : json);
    };
    out.begin_object();
    out.member("thing", conflict.thing.text).member("field", conflict.field);
    value("base", conflict.base);
    value("ours", conflict.ours);
    value("theirs", conflict.theirs);
    out.end_object();
}

void print_json(const json::MergeResult& result, Streams streams) {
    json::JsonWriter out;
    out.begin_object().member("parts", result.chart.parts.size());
    out.member("unsettled_conflicts", result.chart.conflicts.size()).key("conflicts").begin_array();
    for (const document::Conflict& conflict : result.conflicts)
        write_conflict(out, conflict);
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

void print_text(const json::MergeResult& result, Streams streams) {
    for (const document::Conflict& conflict : result.conflicts)
        streams.out << "conflict: " << on_one_line(spoken(result.chart, conflict)) << '\n';
    const std::size_t count = result.conflicts.size();
    streams.out << fmt::format("{} merged, {}{}\n", counted(result.chart.parts.size(), "part"),
                               counted(count, "conflict"),
                               count == 0 ? "" : "; both values stand in the chart, `padchart check` lists them");
}

int run_merge(const Arguments& arguments, Streams streams) {
    if (arguments.has("notes")) return run_merge_notes(arguments, streams);
    if (!arguments.has("OURS") || !arguments.has("THEIRS"))
        return fail_merge(streams, Error{"BASE, OURS and THEIRS are needed, or one CHART and --notes FILE", "merge"});
    const Result<document::Chart> base = load_base(arguments.text("BASE"));
    if (!base) return fail_merge(streams, base.error());
    const Result<document::Chart> ours = json::load_chart(arguments.text("OURS"));
    if (!ours) return fail_merge(streams, ours.error());
    const Result<document::Chart> theirs = load_theirs(*base, arguments, streams);
    if (!theirs) return fail_merge(streams, theirs.error());
    const json::MergeLabels labels{arguments.text("label-ours", "ours"), arguments.text("label-theirs", "theirs")};
    const Result<json::MergeResult> result = json::merge(*base, *ours, *theirs, labels);
    if (!result) return fail_merge(streams, result.error());
    // git gives OURS as the output as well.
    const std::vector<std::string> own{arguments.text("BASE"), arguments.text("OURS"), arguments.text("THEIRS")};
    if (const auto refusal = would_overwrite(arguments.text("output"), own, arguments.has("force")))
        return fail_merge(streams, *refusal);
    if (const Result<void> saved = json::save_chart(result->chart, arguments.text("output")); !saved)
        return fail_merge(streams, saved.error());
    if (arguments.has("json"))
        print_json(*result, streams);
    else
        print_text(*result, streams);
    if (arguments.has("picture") && !result->conflicts.empty()) {
        // What it writes is named on the error stream where the answer is for a machine.
        const Streams named{arguments.has("json") ? streams.err : streams.out, streams.err};
        if (const Result<void> done = write_merge_picture({*base, *ours, *theirs, *result}, arguments.text("picture"),
                                                          arguments.has("force"), named);
            !done)
            return fail_merge(streams, done.error());
    }
    return result->conflicts.empty() ? kFine : kFindings;
}

} // namespace

Command merge_command() {
    return {
        "merge",
        "put two hands' edits of one chart together",
        "Edits of different fields combine. Where both edited the same one, the chart takes that of OURS and keeps "
        "both in its list of conflicts, which `check` shows. BASE may be empty. Works as git's merge driver: "
        "`git config merge.padchart.driver \"padchart merge %O %A %B -o %A\"` with `*.chart.json merge=padchart` in "
        ".gitattributes. Where other commands end with 2, this one ends with 129: git takes anything up to 128 for a "
        "merge with conflicts and would go on with a half-written chart. What a colleague wrote on a one-file page "
        "comes "
        "in with `padchart merge CHART --notes FILE -o OUT`, or as THEIRS.",
        "padchart merge demo/river-logger.chart.json demo/river-logger.chart.json demo/river-logger.chart.json -o "
        "merged.chart.json",
        {{"BASE", OptionKind::Text, "the chart both began with; with --notes the chart they go into", true},
         {"OURS", OptionKind::Text, "one edited copy"},
         {"THEIRS", OptionKind::Text, "the other, or a file of notes"},
         {"--notes",
          OptionKind::Text,
          "NAME.notes.json or a mail with notes in it; may be given several times",
          false,
          {},
          true},
         {"-o,--output", OptionKind::Text, "the merged chart", true},
         force_flag(),
         {"--picture", OptionKind::Text,
          "FILE.svg, FILE.png or FILE.pdf: each thing in conflict, before and by either hand; none without a conflict"},
         {"--label-ours", OptionKind::Text, "who edited OURS"},
         {"--label-theirs", OptionKind::Text, "who edited THEIRS"},
         json_flag()},
        run_merge,
        "0 all edits went together, 1 merged with conflicts that stand in the chart, 129 not merged: a file is no "
        "chart, "
        "the edits make none together, or OUT cannot be written; with --notes that is 2; 2 an unknown option"};
}

} // namespace padchart::cli
