// `padchart compare`: what changed on the board between two charts of it.

#include <fmt/format.h>

#include <ostream>
#include <utility>

#include "analysis/sweep.hpp"
#include "base/counted.hpp"
#include "base/plain_text.hpp"
#include "cli/frozen.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

using analysis::Change;
using analysis::CompareReport;

void write_details(json::JsonWriter& out, const Change& change) {
    if (change.move) {
        out.key("moved").begin_object(json::JsonLayout::OneLine).key("by_mm");
        write_point(out, change.move->by_mm);
        out.member("distance_mm", change.move->distance_mm).member("tolerance_mm", change.move->tolerance_mm);
        out.end_object();
    }
    if (change.turn) {
        out.key("turned").begin_object(json::JsonLayout::OneLine);
        out.member("by_deg", change.turn->by_deg).member("quarter_deg", change.turn->quarter_deg);
        out.member("residual_deg", change.turn->residual_deg).end_object();
    }
    if (change.reading) {
        out.key("reading").begin_object(json::JsonLayout::OneLine);
        out.member("difference", change.reading->difference).member("percent", change.reading->percent);
        out.member("comparable", change.reading->comparable).member("why_not", change.reading->why_not).end_object();
    }
}

void write_change(json::JsonWriter& out, const Change& change) {
    out.begin_object();
    out.member("kind", to_text(change.kind)).member("name", change.name);
    out.member("before_id", change.before_id.text).member("after_id", change.after_id.text);
    out.member("field", change.field).member("before", change.before).member("after", change.after);
    out.member("harmless", change.harmless);
    write_details(out, change);
    out.member("message", change.message).end_object();
}

void write_registration(json::JsonWriter& out, const analysis::Registration& r) {
    const geometry::Affine& m = r.before_from_after;
    const double rows[] = {m.a, m.c, m.e, m.b, m.d, m.f};
    out.begin_object();
    out.key("before_from_after").numbers(rows);
    out.member("mirrored", r.mirrored).member("sides_swapped", r.sides_swapped).member("scale", r.scale);
    out.member("points", r.points).member("points_used", r.points_used);
    out.member("rms_mm", r.rms_mm).member("worst_mm", r.worst_mm).member("is_sure", r.is_sure);
    out.end_object();
}

/// What is compared, and what came of it.
struct Comparison {
    document::Chart before;
    document::Chart after;
    CompareReport report;
    analysis::SweepProgress progress;
};

void write_progress(json::JsonWriter& out, const analysis::SweepProgress& progress) {
    out.begin_object(json::JsonLayout::OneLine).member("parts", progress.parts);
    out.member("compared", progress.compared).member("differ", progress.differ);
    out.member("differ_on_charts", progress.differ_on_charts);
    out.member("not_checked", progress.not_checked()).end_object();
}

void print_json(const Comparison& comparison, Streams streams) {
    const CompareReport& report = comparison.report;
    json::JsonWriter out;
    out.begin_object();
    out.member("parts_compared", report.parts_compared).member("parts_before", report.parts_before);
    out.member("parts_after", report.parts_after).member("readings_compared", report.readings_compared);
    out.member("places_compared", report.places_compared).key("registration");
    write_registration(out, report.registration);
    out.key("changes").begin_array();
    for (const Change& change : report.changes)
        write_change(out, change);
    out.end_array().key("left_in_place").begin_array();
    for (const analysis::LeftInPlace& left : report.left_in_place) {
        out.begin_object();
        out.member("id", left.id.text).member("name", left.name).member("message", left.message).end_object();
    }
    out.end_array().key("looked_at_again");
    write_progress(out, comparison.progress);
    out.key("findings");
    write_findings(out, report.findings);
    out.end_object();
    streams.out << std::move(out).str();
}

/// "2 differences, 1 thing may still lie on the board", "no difference".
std::string outcome(const CompareReport& report) {
    std::string text = report.changes.empty() ? "no difference" : counted(report.changes.size(), "difference");
    if (!report.left_in_place.empty())
        text +=
            fmt::format(", {} may still lie on the board or be off it", counted(report.left_in_place.size(), "thing"));
    return text;
}

void print_text(const Comparison& comparison, Streams streams) {
    const CompareReport& report = comparison.report;
    for (const Change& change : report.changes)
        streams.out << fmt::format("{:<17} {}\n", to_text(change.kind), on_one_line(change.message));
    for (const analysis::LeftInPlace& left : report.left_in_place)
        streams.out << fmt::format("{:<17} {}\n", "left-in-place", on_one_line(left.message));
    streams.out << fmt::format("{} and {} compared ({} before, {} after): {}.\n",
                               counted(report.parts_compared, "part"), counted(report.readings_compared, "reading"),
                               counted(report.parts_before, "part"), report.parts_after, outcome(report));
    if (comparison.after.frozen_before || comparison.progress.compared > 0)
        streams.out << "Looked at again: " << in_words(comparison.progress) << ".\n";
    if (!report.places_compared) return;
    const analysis::Registration& r = report.registration;
    streams.out << fmt::format("Laid on each other by {} of {} fixed points, {:.3f} mm left over (worst {:.3f} mm).\n",
                               r.points_used, r.points, r.rms_mm, r.worst_mm);
}

analysis::CompareOptions options_of(const Arguments& arguments) {
    analysis::CompareOptions options;
    if (const auto moved_mm = arguments.number("moved-mm")) {
        options.moved_mm = *moved_mm;
        options.moved_share_of_land = 0.0;
    }
    options.turned_deg = arguments.number("turned-deg").value_or(options.turned_deg);
    return options;
}

/// Two charts, or one and what it was frozen as.
Result<Comparison> charts_of(const Arguments& arguments) {
    const std::string first = arguments.text("BEFORE");
    Result<document::Chart> chart = json::load_chart(first);
    if (!chart) return chart.error();
    if (!arguments.has("AFTER")) {
        Result<BeforeChart> before = load_before(*chart, first);
        if (!before) return before.error().where.empty() ? Error{before.error().message, first} : before.error();
        Comparison out{std::move(before->chart), std::move(*chart), {}, {}};
        out.report.findings = std::move(before->findings);
        return out;
    }
    Result<document::Chart> after = json::load_chart(arguments.text("AFTER"));
    if (!after) return after.error();
    return Comparison{std::move(*chart), std::move(*after), {}, {}};
}

int run_compare(const Arguments& arguments, Streams streams) {
    const analysis::CompareOptions options = options_of(arguments);
    if (!(options.moved_mm > 0.0) || !(options.turned_deg > 0.0))
        return fail(streams, {"a tolerance must be above 0", "compare"});
    Result<Comparison> made = charts_of(arguments);
    if (!made) return fail(streams, made.error());
    Diagnostics of_the_file = std::exchange(made->report.findings, {});
    made->report = analysis::compare(made->before, made->after, options);
    made->report.findings.insert(made->report.findings.begin(), of_the_file.begin(), of_the_file.end());
    made->progress = analysis::sweep_progress(made->after, analysis::sweep_of(made->before, made->after, made->report));
    if (arguments.has("json"))
        print_json(*made, streams);
    else
        print_text(*made, streams);
    print(streams.err, made->report.findings);
    const bool quiet = made->report.changes.empty() && made->report.left_in_place.empty();
    return quiet ? exit_code_of(made->report.findings) : kFindings;
}

} // namespace

Command compare_command() {
    return {
        "compare",
        "list what changed on the board between two charts of it",
        "Missing, added, moved and turned parts, what is said of them, states, readings, what was not checked again, "
        "measures at keep-outs that are no longer what they were, and what may still lie on the board. The second "
        "chart is laid on the first by outline, holes and the parts that did not move. Moved: beyond 0.1 mm or 10 % of "
        "the narrowest land, whichever is larger. With one chart alone it is compared with what `padchart freeze` "
        "kept.",
        "padchart compare demo/river-logger.chart.json demo/river-logger.chart.json",
        {{"BEFORE", OptionKind::Text, "the chart from before the heat; alone: a chart that was frozen", true},
         {"AFTER", OptionKind::Text, "the chart from after it"},
         {"--moved-mm", OptionKind::Number, "moved beyond this, whatever the land's width (usual: 0.1)"},
         {"--turned-deg", OptionKind::Number, "turned beyond this (usual: 5)"},
         json_flag()},
        run_compare,
        "0 nothing differs and nothing is left in place; 1 any difference, a shield or tape still on the second chart, "
        "a "
        "measure that still says removed or shielded, or a doubt how the charts lie on each other; 2 could not do it"};
}

} // namespace padchart::cli
