// `padchart clearance`: who stands too near to whom, and where a nozzle may not go.

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "analysis/clearance.hpp"
#include "base/counted.hpp"
#include "base/plain_text.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

std::string_view to_text(analysis::GapKind kind) {
    switch (kind) {
    case analysis::GapKind::BodyToBody: return "body-to-body";
    case analysis::GapKind::PadToPad: return "pad-to-pad";
    case analysis::GapKind::PadToEdge: return "pad-to-edge";
    case analysis::GapKind::BodyToEdge: return "body-to-edge";
    }
    return "body-to-body";
}

void write_gap(json::JsonWriter& out, const geometry::Gap& gap) {
    out.member("distance_mm", gap.mm).key("from_mm");
    write_point(out, gap.from);
    out.key("to_mm");
    write_point(out, gap.to);
}

void write_close(json::JsonWriter& out, const document::Chart& chart, const analysis::CloseGap& close) {
    out.begin_object();
    out.member("kind", to_text(close.kind)).member("side", document::to_text(close.side));
    out.member("first", display_name(chart, close.first)).member("first_id", close.first.text);
    out.member("first_pad", close.first_pad);
    out.member("second", close.second.is_empty() ? "edge" : display_name(chart, close.second));
    out.member("second_id", close.second.text).member("second_pad", close.second_pad);
    out.member("rule_mm", close.rule_mm);
    write_gap(out, close.gap);
    out.end_object();
}

void write_zone(json::JsonWriter& out, const analysis::HeatZone& zone) {
    out.begin_object();
    out.member("name", zone.name).member("id", zone.source.text).member("side", document::to_text(zone.side));
    out.member("through_board", zone.through_board).member("reach_mm", zone.reach_mm);
    out.member("area_mm2", geometry::area(zone.area)).key("area");
    write_region(out, zone.area);
    out.end_object();
}

void write_sensitive(json::JsonWriter& out, const document::Chart& chart, const analysis::SensitiveGap& gap) {
    out.begin_object();
    out.member("target", display_name(chart, gap.target)).member("sensitive", display_name(chart, gap.sensitive));
    out.member("same_side", gap.same_side).member("inside_ring", gap.inside_ring);
    write_gap(out, gap.gap);
    out.end_object();
}

void print_json(const document::Chart& chart, const analysis::ClearanceReport& report,
                const std::vector<analysis::SensitiveGap>& sensitive, Streams streams) {
    json::JsonWriter out;
    out.begin_object().member("parts_compared", report.parts_compared);
    out.key("close").begin_array();
    for (const analysis::CloseGap& close : report.close)
        write_close(out, chart, close);
    out.end_array().key("sensitive").begin_array();
    for (const analysis::SensitiveGap& gap : sensitive)
        write_sensitive(out, chart, gap);
    out.end_array().key("zones").begin_array();
    for (const analysis::HeatZone& zone : report.zones)
        write_zone(out, zone);
    out.end_array().key("top_zones");
    write_region(out, report.top_zones);
    out.key("bottom_zones");
    write_region(out, report.bottom_zones);
    out.key("findings");
    write_findings(out, report.findings);
    out.end_object();
    streams.out << std::move(out).str();
}

void print_text(const document::Chart& chart, const analysis::ClearanceReport& report,
                const std::vector<analysis::SensitiveGap>& sensitive, Streams streams) {
    for (const analysis::CloseGap& close : report.close)
        streams.out << fmt::format("{:<13} {:<10} {:<10} {:6.3f} mm (rule {:.2f} mm) at x {:.2f} y {:.2f}\n",
                                   to_text(close.kind), on_one_line(display_name(chart, close.first)),
                                   close.second.is_empty() ? "edge" : on_one_line(display_name(chart, close.second)),
                                   close.gap.mm, close.rule_mm, close.gap.from.x, close.gap.from.y);
    for (const analysis::SensitiveGap& gap : sensitive)
        streams.out << fmt::format("{} to {}: {:.2f} mm{}{}\n", on_one_line(display_name(chart, gap.target)),
                                   on_one_line(display_name(chart, gap.sensitive)), gap.gap.mm,
                                   gap.same_side ? "" : ", through the board",
                                   gap.inside_ring ? ", INSIDE the nozzle's reach" : "");
    streams.out << fmt::format("{} compared, {} below the rule, {}, no-go area {:.1f} mm² top, {:.1f} mm² "
                               "bottom\n",
                               counted(report.parts_compared, "part"), counted(report.close.size(), "gap"),
                               counted(report.zones.size(), "zone"), geometry::area(report.top_zones),
                               geometry::area(report.bottom_zones));
}

Result<document::Chart> chart_with_rules(const Arguments& arguments) {
    Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return chart;
    document::Rules rules = chart->rules;
    rules.nozzle_bore_mm = arguments.number("nozzle").value_or(rules.nozzle_bore_mm);
    rules.nozzle_margin_mm = arguments.number("margin").value_or(rules.nozzle_margin_mm);
    return document::set_rules(*chart, rules);
}

int run_clearance(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = chart_with_rules(arguments);
    if (!chart) return fail(streams, chart.error());
    const analysis::ClearanceReport report = analysis::clearance(*chart);
    if (!report.has_scale)
        return fail(streams, {"the chart has no scale, so no distance on it is known", arguments.text("CHART")});
    std::vector<analysis::SensitiveGap> sensitive;
    if (arguments.has("target")) {
        const Result<document::Id> target = part_by_name(*chart, arguments.text("target"));
        if (!target) return fail(streams, target.error());
        sensitive = analysis::gaps_to_sensitive(*chart, *target);
    }
    if (arguments.has("json"))
        print_json(*chart, report, sensitive, streams);
    else
        print_text(*chart, report, sensitive, streams);
    print(streams.err, report.findings);
    const bool inside = std::any_of(sensitive.begin(), sensitive.end(),
                                    [](const analysis::SensitiveGap& gap) { return gap.inside_ring; });
    return report.close.empty() && !inside ? exit_code_of(report.findings) : kFindings;
}

} // namespace

Command clearance_command() {
    return {"clearance",
            "list gaps below the chart's rules and the zones a nozzle must keep out of",
            "True distances between outlines with the two nearest points, in board mm. With --target also the distance "
            "from "
            "that part to every heat-sensitive one. Zones are rounded up, never down.",
            "padchart clearance demo/river-logger.chart.json --target U4",
            {chart_positional(),
             {"--target", OptionKind::Text, "the part to be reworked"},
             {"--nozzle", OptionKind::Number, "nozzle bore in mm instead of the chart's"},
             {"--margin", OptionKind::Number, "margin in mm instead of the chart's"},
             json_flag()},
            run_clearance};
}

} // namespace padchart::cli
