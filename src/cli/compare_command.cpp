// `padchart compare`: what changed on the board between two charts of it.

#include <fmt/format.h>

#include <ostream>

#include "analysis/compare.hpp"
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

void print_json(const CompareReport& report, Streams streams) {
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
    out.end_array().key("findings");
    write_findings(out, report.findings);
    out.end_object();
    streams.out << std::move(out).str();
}

void print_text(const CompareReport& report, Streams streams) {
    for (const Change& change : report.changes)
        streams.out << fmt::format("{:<17} {}\n", to_text(change.kind), change.message);
    for (const analysis::LeftInPlace& left : report.left_in_place)
        streams.out << fmt::format("{:<17} {}\n", "left-in-place", left.message);
    streams.out << fmt::format("{} parts and {} readings compared ({} parts before, {} after): {}.\n",
                               report.parts_compared, report.readings_compared, report.parts_before, report.parts_after,
                               report.changes.empty() ? std::string("no difference")
                                                      : fmt::format("{} difference{}", report.changes.size(),
                                                                    report.changes.size() == 1 ? "" : "s"));
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

int run_compare(const Arguments& arguments, Streams streams) {
    const analysis::CompareOptions options = options_of(arguments);
    if (!(options.moved_mm > 0.0) || !(options.turned_deg > 0.0))
        return fail(streams, {"a tolerance must be above 0", "compare"});
    const Result<document::Chart> before = json::load_chart(arguments.text("BEFORE"));
    if (!before) return fail(streams, before.error());
    const Result<document::Chart> after = json::load_chart(arguments.text("AFTER"));
    if (!after) return fail(streams, after.error());
    const CompareReport report = analysis::compare(*before, *after, options);
    if (arguments.has("json"))
        print_json(report, streams);
    else
        print_text(report, streams);
    print(streams.err, report.findings);
    const bool quiet = report.changes.empty() && report.left_in_place.empty();
    return quiet ? exit_code_of(report.findings) : kFindings;
}

} // namespace

Command compare_command() {
    return {
        "compare",
        "list what changed on the board between two charts of it",
        "Missing, added, moved and turned parts, what is said of them, states, readings, what was not checked "
        "again, and "
        "what may still lie on the board. The second chart is laid on the first by outline, holes and the parts "
        "that did not move. Moved: beyond 0.1 mm or 10 % of the narrowest land, whichever is larger. What may still "
        "lie on the board counts as a finding.",
        "padchart compare demo/river-logger.chart.json demo/river-logger.chart.json",
        {{"BEFORE", OptionKind::Text, "the chart from before the heat", true},
         {"AFTER", OptionKind::Text, "the chart from after it", true},
         {"--moved-mm", OptionKind::Number, "moved beyond this, whatever the land's width (usual: 0.1)"},
         {"--turned-deg", OptionKind::Number, "turned beyond this (usual: 5)"},
         json_flag()},
        run_compare};
}

} // namespace padchart::cli
