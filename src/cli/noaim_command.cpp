// `padchart noaim`: where the nozzle's axis may not go, as polygons.

#include <fmt/format.h>

#include <ostream>

#include "analysis/heat_noaim.hpp"
#include "cli/heat_options.hpp"
#include "cli/heat_picture.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

using analysis::NoAimMap;
using analysis::NoAimZone;

void write_zone(json::JsonWriter& out, const NoAimZone& zone) {
    out.begin_object();
    out.member("name", zone.name).member("id", zone.source.text).member("limit_c", zone.limit_c);
    out.member("take_out", zone.is_to_be_out);
    out.key("no_aim");
    write_region(out, zone.no_aim);
    out.key("depends");
    write_region(out, zone.depends);
    out.key("certain");
    write_region(out, zone.certain);
    out.end_object();
}

void print_json(const NoAimMap& map, Streams streams) {
    json::JsonWriter out;
    out.begin_object().member("sentence", analysis::no_aim_sentence(map)).member("calibrated", map.is_calibrated);
    out.member("steady", map.is_steady).member("step_mm", map.lattice.cell_mm);
    out.member("share_no_aim", map.share_no_aim).member("share_depends", map.share_depends);
    const std::pair<const char*, const geometry::Region*> regions[] = {
        {"no_aim", &map.no_aim}, {"depends", &map.depends},           {"certain", &map.certain},
        {"melts", &map.melts},   {"melts_surely", &map.melts_surely}, {"good", &map.good},
        {"likely", &map.likely}};
    for (const auto& [key, region] : regions) {
        out.key(key);
        write_region(out, *region);
    }
    out.key("zones").begin_array();
    for (const NoAimZone& zone : map.zones)
        write_zone(out, zone);
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

void print_text(const NoAimMap& map, Streams streams) {
    for (const NoAimZone& zone : map.zones)
        streams.out << fmt::format(
            "{:<16} limit {:>4g} C: no aim within {:7.1f} mm², depends on the board in {:7.1f} mm² more{}\n", zone.name,
            zone.limit_c, geometry::area(zone.no_aim), geometry::area(zone.depends),
            zone.is_to_be_out ? "; take it out before any heat" : "");
    streams.out << fmt::format("no aim: {:.0f} % of the board, depends on the board: {:.0f} %\n",
                               100.0 * map.share_no_aim, 100.0 * map.share_depends);
    streams.out << fmt::format("aims that melt the target: {:.1f} mm² most likely, {:.1f} mm² for sure; that spare all "
                               "else too: {:.1f} mm² most likely, {:.1f} mm² for sure\n",
                               geometry::area(map.melts), geometry::area(map.melts_surely), geometry::area(map.likely),
                               geometry::area(map.good));
    streams.out << analysis::no_aim_sentence(map) << '\n';
    streams.out << "An estimate, not a measurement: check with a thermocouple.\n";
}

int run_noaim(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    const Result<document::HeatPlan> plan = heat_plan_of(*chart, arguments);
    if (!plan) return fail(streams, plan.error());
    analysis::NoAimOptions options;
    options.heat.circle_radius_mm = arguments.number("circle").value_or(0.0);
    options.step_mm = arguments.number("step");
    options.dwell_limited = arguments.has("dwell-limited");
    options.all_parts = arguments.has("all-parts");
    const Result<NoAimMap> map = analysis::no_aim(*chart, *plan, options);
    if (!map) return fail(streams, of_command(map.error(), *chart, *plan, arguments));
    scene::Reports reports;
    reports.plan = &*plan;
    reports.no_aim = &*map;
    if (const Result<void> drawn = write_heat_picture(*chart, reports, arguments); !drawn)
        return fail(streams, drawn.error());
    if (arguments.has("json"))
        print_json(*map, streams);
    else
        print_text(*map, streams);
    return map->good.empty() ? kFindings : kFine;
}

} // namespace

Command noaim_command() {
    std::vector<Option> options = heat_plan_options();
    options.push_back(circle_option());
    options.push_back({"--step", OptionKind::Number, "between aims, mm (default: some 1,800 aims on the board)"});
    options.push_back({"--dwell-limited", OptionKind::Flag, "at the end of the dwell instead of the steady bound"});
    options.push_back({"--all-parts", OptionKind::Flag, "also parts made for a reflow"});
    options.push_back(picture_option());
    options.push_back(force_flag());
    options.push_back(json_flag());
    return {
        "noaim",
        "map where the nozzle may not be aimed",
        "For every place on the board: would a neighbour pass its limit if the air stood there? Zones as polygons in "
        "board "
        "mm: no_aim (most likely case), depends (only the hot case), certain (even the cold case). With --json also, "
        "as "
        "rings of points with their holes: melts and melts_surely (aims that melt the target), likely and good (that "
        "spare everything as well, most likely and surely), the same per neighbour in zones, and shares of the board "
        "from 0 to 1. Exit code 1 when no place melts the target surely and spares everything.",
        "padchart noaim demo/river-logger.chart.json --target U4",
        std::move(options),
        run_noaim};
}

} // namespace padchart::cli
