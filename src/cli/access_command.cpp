// `padchart access`: from which side a tool comes to a part.

#include <fmt/format.h>

#include <ostream>

#include "analysis/access.hpp"
#include "analysis/heat_floating.hpp"
#include "cli/heat_options.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

using analysis::AccessNeighbour;
using analysis::AccessQuery;
using analysis::AccessReport;
using analysis::AccessTool;
using analysis::Approach;
using document::Chart;
using document::Footprint;

Result<AccessTool> tool_of(const Arguments& arguments) {
    std::string key = arguments.text("tool", "tweezers");
    if (key == "tweezers") key = "tweezers-medium";
    if (key == "iron") key = "iron-cone";
    std::optional<AccessTool> tool = analysis::find_access_tool(key);
    if (!tool) {
        std::string known = "tweezers, iron";
        for (const AccessTool& row : analysis::access_tools())
            known += ", " + row.key;
        return Error{fmt::format("no tool is called \"{}\"; there are {}", key, known), "--tool"};
    }
    tool->tip_width_mm = arguments.number("tip-width").value_or(tool->tip_width_mm);
    tool->tip_thickness_mm = arguments.number("tip-thickness").value_or(tool->tip_thickness_mm);
    tool->rise_deg = arguments.number("rise").value_or(tool->rise_deg);
    tool->flare_deg = arguments.number("flare").value_or(tool->flare_deg);
    return *tool;
}

/// What the chart's own heat plan for the part may melt.
Result<void> add_molten(const Chart& chart, const std::string& path, AccessQuery& query) {
    for (const document::HeatPlan& plan : chart.heat_plans) {
        if (plan.target != query.target) continue;
        const Result<analysis::HeatReport> report = analysis::heat(chart, plan);
        if (!report) {
            Error error = of_plan(report.error(), chart, plan, path);
            error.message += " Mend the plan, or ask without it: --no-heat.";
            return error;
        }
        query.knows_molten = true;
        query.molten = analysis::floating_parts(*report);
        return {};
    }
    return {};
}

Result<AccessQuery> query_of(const Chart& chart, const Arguments& arguments) {
    AccessQuery query;
    const Result<document::Id> target = part_by_name(chart, arguments.text("target"));
    if (!target) return target.error();
    query.target = *target;
    const Result<AccessTool> tool = tool_of(arguments);
    if (!tool) return tool.error();
    query.tool = *tool;
    query.pad = arguments.text("pad");
    query.opening_mm = arguments.number("opening");
    query.play_mm = arguments.number("play").value_or(query.play_mm);
    query.slip_mm = arguments.number("slip").value_or(query.slip_mm);
    query.hand_deg = arguments.number("hand").value_or(query.hand_deg);
    query.board_turn_deg = arguments.number("board-turn").value_or(query.board_turn_deg);
    query.small_mm = arguments.number("small").value_or(query.small_mm);
    return query;
}

/// One query, or with an iron and no pad named one for each pad.
std::vector<AccessQuery> queries_of(const Chart& chart, const AccessQuery& query) {
    if (query.tool.kind != analysis::ToolKind::Iron || !query.pad.empty()) return {query};
    std::vector<AccessQuery> queries;
    const Footprint& part = chart.parts[*document::find_part(chart, query.target)];
    for (std::size_t i = 0; i < part.pads.size(); ++i) {
        queries.push_back(query);
        queries.back().pad = part.pads[i].number.empty() ? fmt::format("#{}", i + 1) : part.pads[i].number;
    }
    if (queries.empty()) queries.push_back(query);
    return queries;
}

// JSON
// -----------------------------------------------------------------------------------------------------------------

void write_sector(json::JsonWriter& out, const analysis::Sector& sector) {
    out.member("from_deg", sector.from_deg).member("to_deg", sector.to_deg()).member("width_deg", sector.width_deg);
}

void write_names(json::JsonWriter& out, std::string_view key, const AccessReport& report,
                 const std::vector<std::size_t>& which) {
    out.key(key).begin_array(json::JsonLayout::OneLine);
    for (const std::size_t i : which)
        out.value(report.neighbours[i].name);
    out.end_array();
}

void write_nearest(json::JsonWriter& out, const AccessReport& report, const std::optional<std::size_t>& nearest) {
    out.member("nearest", nearest ? report.neighbours[*nearest].name : std::string());
}

void write_approach(json::JsonWriter& out, const AccessReport& report, const Approach& way) {
    out.begin_object();
    write_sector(out, way.sector.bearings);
    out.member("passage", analysis::to_text(way.sector.passage)).member("works", way.sector.works);
    out.member("bearing_deg", way.bearing_deg).member("gap_mm", way.gap_mm);
    write_nearest(out, report, way.nearest);
    out.member("least_gap_mm", way.least_gap_mm);
    out.member("least_nearest", way.least_nearest ? report.neighbours[*way.least_nearest].name : std::string());
    out.member("opening_mm", way.opening_mm).member("across_mm", way.across_mm).member("on_lands", way.on_lands);
    out.member("turn_board_deg", way.turn_board_deg);
    out.key("only_if_lower_than_mm").begin_object(json::JsonLayout::OneLine);
    for (const analysis::HeightLimit& limit : way.limits)
        out.member(report.neighbours[limit.neighbour].name, limit.limit_mm);
    out.end_object();
    write_names(out, "in_slip", report, way.in_slip);
    out.key("slip_area");
    write_region(out, way.slip);
    out.end_object();
}

void write_neighbour(json::JsonWriter& out, const AccessNeighbour& near) {
    out.begin_object();
    out.member("name", near.name).member("id", near.source.text).member("keep_out", near.is_keep_out);
    out.member("height_mm", near.height_mm)
        .member("distance_mm", near.gap.mm)
        .member("least_gap_mm", near.least_gap_mm);
    out.member("small", near.is_small).member("molten", near.is_molten).member("stands_over", near.stands_over);
    out.key("takes").begin_array();
    for (const analysis::Sector& sector : near.takes) {
        out.begin_object(json::JsonLayout::OneLine);
        write_sector(out, sector);
        out.end_object();
    }
    out.end_array().end_object();
}

void write_directions(json::JsonWriter& out, const AccessReport& report) {
    out.key("directions").begin_array();
    for (const analysis::AccessDirection& at : report.directions) {
        out.begin_object(json::JsonLayout::OneLine);
        out.member("bearing_deg", at.bearing_deg).member("passage", analysis::to_text(at.passage));
        out.member("works", at.works).member("gap_mm", at.gap_mm);
        write_nearest(out, report, at.nearest);
        out.end_object();
    }
    out.end_array();
}

void write_report(json::JsonWriter& out, const AccessReport& report) {
    out.begin_object();
    out.member("pad", report.pad).key("at_mm");
    write_point(out, report.at);
    out.member("good", report.is_good()).key("sentences").begin_array();
    for (const std::string& sentence : report.sentences)
        out.value(sentence);
    out.end_array().key("sectors").begin_array();
    for (const analysis::AccessSector& sector : report.sectors) {
        out.begin_object(json::JsonLayout::OneLine);
        write_sector(out, sector.bearings);
        out.member("passage", analysis::to_text(sector.passage)).member("works", sector.works);
        out.end_object();
    }
    out.end_array().key("approaches").begin_array();
    for (const Approach& way : report.approaches)
        write_approach(out, report, way);
    out.end_array().key("neighbours").begin_array();
    for (const AccessNeighbour& near : report.neighbours)
        if (!near.takes.empty() || near.gap.mm <= analysis::kNear_mm) write_neighbour(out, near);
    out.end_array();
    write_names(out, "do_not_touch", report, report.do_not_touch);
    write_directions(out, report);
    out.key("findings");
    write_findings(out, report.remarks);
    out.end_object();
}

void write_tool(json::JsonWriter& out, const AccessTool& tool) {
    out.key("tool").begin_object(json::JsonLayout::OneLine);
    out.member("key", tool.key).member("kind", analysis::to_text(tool.kind)).member("tip_width_mm", tool.tip_width_mm);
    out.member("tip_thickness_mm", tool.tip_thickness_mm).member("rise_deg", tool.rise_deg);
    out.member("flare_deg", tool.flare_deg).member("length_mm", tool.length_mm);
    out.end_object();
}

void print_json(const std::vector<AccessReport>& reports, const AccessQuery& query, Streams streams) {
    json::JsonWriter out;
    out.begin_object();
    out.member("target", reports.front().target_name).member("id", query.target.text);
    out.member("seen_from", document::to_text(reports.front().side));
    write_tool(out, query.tool);
    out.key("answers").begin_array();
    for (const AccessReport& report : reports)
        write_report(out, report);
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

// Text
// -----------------------------------------------------------------------------------------------------------------

void print_frame(const Chart& chart, const AccessReport& report, Streams streams) {
    const std::string up = chart.title.up_edge.empty() ? "the chart's upper edge" : "the " + chart.title.up_edge;
    streams.out << fmt::format("Bearings are seen from the {} side with {} up: 0 right, 90 up, counter-clockwise.\n",
                               document::to_text(report.side), up);
}

void print_text(const Chart& chart, const std::vector<AccessReport>& reports, Streams streams) {
    if (reports.size() == 1)
        for (const std::string& sentence : reports.front().sentences)
            streams.out << sentence << "\n";
    else
        for (const AccessReport& report : reports)
            streams.out << fmt::format("pad {:<4} {}\n", report.pad, report.sentences.front());
    print_frame(chart, reports.front(), streams);
}

int run_access(const Arguments& arguments, Streams streams) {
    const Result<Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    Result<AccessQuery> query = query_of(*chart, arguments);
    if (!query) return fail(streams, query.error());
    if (!arguments.has("no-heat"))
        if (const Result<void> known = add_molten(*chart, arguments.text("CHART"), *query); !known)
            return fail(streams, known.error());
    std::vector<AccessReport> reports;
    for (const AccessQuery& one : queries_of(*chart, *query)) {
        Result<AccessReport> report = analysis::access(*chart, one);
        if (!report) return fail(streams, report.error());
        reports.push_back(std::move(*report));
    }
    if (arguments.has("json"))
        print_json(reports, *query, streams);
    else
        print_text(*chart, reports, streams);
    print(streams.err, reports.front().remarks);
    const bool all_good =
        std::all_of(reports.begin(), reports.end(), [](const AccessReport& report) { return report.is_good(); });
    return all_good ? exit_code_of(reports.front().remarks) : kFindings;
}

} // namespace

Command access_command() {
    return {
        "access",
        "tell from which side tweezers or an iron come to a part",
        "For every bearing the room to the bodies round it, over which the tool passes where it is high enough; the "
        "free sectors with their exact ends, what a slip would reach, and what must not be touched. A body of "
        "unknown height never leaves a bearing free. With an iron and no --pad one line for each pad.",
        "padchart access demo/river-logger.chart.json --target U4 --tool tweezers-fine",
        {chart_positional(),
         {"--target", OptionKind::Text, "the part to be held or soldered, by name", true},
         {"--tool", OptionKind::Text, "tweezers, iron, or one of the tool table such as tweezers-fine"},
         {"--pad", OptionKind::Text, "the pad an iron works on, by number"},
         {"--tip-width", OptionKind::Number, "tip width in mm, instead of the table's"},
         {"--tip-thickness", OptionKind::Number, "thickness of one tip in mm, in the direction it closes"},
         {"--opening", OptionKind::Number, "between the tips as they come in, mm; without it what the grip needs"},
         {"--rise", OptionKind::Number, "angle of the tool above the board, degrees"},
         {"--flare", OptionKind::Number, "how far each face of the tool leans outward, degrees"},
         {"--play", OptionKind::Number, "least room wanted beside the tool, mm"},
         {"--slip", OptionKind::Number, "length of a slip, mm"},
         {"--hand", OptionKind::Number, "bearing of your hand on the bench, degrees; 315 is lower right"},
         {"--board-turn", OptionKind::Number,
          "how the board lies turned on the bench, degrees counter-clockwise; bearings stay the chart's"},
         {"--small", OptionKind::Number, "a body no longer than this is moved by a touch, mm"},
         {"--no-heat", OptionKind::Flag, "do not ask the chart's heat plan which neighbours melt"},
         json_flag()},
        run_access};
}

} // namespace padchart::cli
