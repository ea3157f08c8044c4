// `padchart heat`: what a plan does to the target's joints and to everything near them, as an estimate with a band.

#include <fmt/format.h>

#include <ostream>

#include "analysis/heat.hpp"
#include "base/counted.hpp"
#include "cli/heat_options.hpp"
#include "cli/heat_picture.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

using analysis::Band;
using analysis::HeatReport;

void write_band(json::JsonWriter& out, std::string_view key, const Band& band) {
    out.key(key).begin_object(json::JsonLayout::OneLine);
    out.member("low", band.low).member("nominal", band.nominal).member("high", band.high);
    out.end_object();
}

void write_maybe_band(json::JsonWriter& out, std::string_view key, const analysis::MaybeBand& band) {
    out.key(key).begin_object(json::JsonLayout::OneLine);
    out.member("low", band.low).member("nominal", band.nominal).member("high", band.high);
    out.end_object();
}

void write_plan(json::JsonWriter& out, const document::HeatPlan& plan, double circle_radius_mm) {
    out.key("plan").begin_object().key("aim_mm");
    write_point(out, plan.aim);
    out.member("side", document::to_text(plan.side)).member("set_point_c", plan.set_point_c);
    out.member("flow_l_per_min", plan.flow_l_per_min).member("nozzle_bore_mm", plan.nozzle_bore_mm);
    out.member("stand_off_mm", plan.stand_off_mm).member("preheat_c", plan.preheat_c).member("dwell_s", plan.dwell_s);
    out.member("alloy", plan.alloy).member("low_melt_fraction", plan.low_melt_fraction);
    out.member("circle_radius_mm", circle_radius_mm);
    out.end_object();
}

void write_target(json::JsonWriter& out, const analysis::TargetReport& target) {
    out.key("target").begin_object();
    out.member("part", target.name).member("id", target.part.text).member("alloy", target.alloy);
    out.member("solidus_c", target.solidus_c).member("liquidus_c", target.liquidus_c);
    out.member("verdict", analysis::to_text(target.verdict));
    write_band(out, "peak_mean_c", target.peak_mean_c);
    write_band(out, "peak_top_c", target.peak_top_c);
    write_band(out, "likely_c", target.likely_c);
    write_maybe_band(out, "time_to_liquidus_s", target.time_to_liquidus_s);
    write_band(out, "time_above_liquidus_s", target.time_above_liquidus_s);
    write_band(out, "ramp_k_per_s", target.ramp_k_per_s);
    out.key("joints").begin_array();
    for (const analysis::JointReport& joint : target.joints) {
        out.begin_object().member("pad", joint.pad).key("at_mm");
        write_point(out, joint.at);
        write_band(out, "peak_mean_c", joint.peak_mean_c);
        write_band(out, "peak_top_c", joint.peak_top_c);
        out.end_object();
    }
    out.end_array().end_object();
}

void write_neighbour(json::JsonWriter& out, const analysis::NeighbourReport& near) {
    out.begin_object();
    out.member("name", near.name).member("id", near.source.text).member("keep_out", near.is_keep_out);
    out.member("side", document::to_text(near.side)).member("far_side", near.far_side);
    out.member("shielded", near.shielded)
        .member("shield_share", near.shield_share)
        .member("under_can", near.under_can)
        .member("delicate", near.delicate)
        .member("gap_mm", near.gap_mm);
    write_band(out, "peak_c", near.peak_c);
    out.member("warn_c", near.warn_c).member("limit_c", near.limit_c);
    out.member("verdict", analysis::to_text(near.verdict));
    write_band(out, "joint_peak_c", near.joint_peak_c);
    out.member("may_float", near.may_float);
    write_band(out, "ramp_k_per_s", near.ramp_k_per_s);
    out.end_object();
}

void write_curve(json::JsonWriter& out, const HeatReport& report) {
    out.key("curve").begin_object();
    out.key("time_s").numbers(report.curves.time_s);
    out.key("joint_mean_c").begin_object();
    out.key("low").numbers(report.curves.joint_mean_c.low);
    out.key("nominal").numbers(report.curves.joint_mean_c.nominal);
    out.key("high").numbers(report.curves.joint_mean_c.high);
    out.end_object().end_object();
}

void write_model(json::JsonWriter& out, const HeatReport& report) {
    out.key("jet").begin_object();
    write_band(out, "exit_c", report.jet.exit_c);
    out.member("reynolds", report.jet.reynolds).member("velocity_m_per_s", report.jet.velocity_m_per_s);
    out.end_object();
    out.key("board").begin_object();
    out.member("thickness_mm", report.board.thickness_mm).member("basis", report.board.basis);
    write_band(out, "conductivity_w_per_m_k", report.board.conductivity_w_per_m_k);
    out.end_object();
    out.key("energy").begin_object();
    out.member("from_air_j", report.energy.from_air_j).member("from_below_j", report.energy.from_below_j);
    out.member("radiated_j", report.energy.radiated_j).member("stored_j", report.energy.stored_j);
    out.member("residual_j", report.energy.residual_j);
    out.member("largest_step_residual_w", report.energy.largest_step_residual_w).end_object();
    out.key("time_steps").begin_object();
    out.member("largest_error_k", report.largest_step_error_k).member("cut", report.cut_steps).end_object();
    out.member("calibrated", report.is_calibrated).member("station", report.station);
    out.member("cell_mm", report.cell_mm).member("nodes", report.nodes);
}

void print_json(const document::HeatPlan& plan, double circle_radius_mm, const HeatReport& report, Streams streams) {
    json::JsonWriter out;
    out.begin_object();
    out.key("sentences").begin_array();
    for (const std::string& sentence : report.sentences)
        out.value(sentence);
    out.end_array();
    write_plan(out, plan, circle_radius_mm);
    write_target(out, report.target);
    out.key("neighbours").begin_array();
    for (const analysis::NeighbourReport& near : report.neighbours)
        write_neighbour(out, near);
    out.end_array();
    write_curve(out, report);
    write_model(out, report);
    out.key("cautions");
    write_findings(out, report.cautions);
    out.key("remarks");
    write_findings(out, report.remarks);
    out.end_object();
    streams.out << std::move(out).str();
}

std::string range(const Band& band) {
    return analysis::to_text(band) + " C";
}

/// All that was set, in a line.
std::string settings_words(const document::HeatPlan& plan, double circle_radius_mm) {
    std::string words =
        fmt::format("Air {:g} C, {:g} L/min, bore {:g} mm, {:g} mm above, {:g} s, aim {:.2f},{:.2f}", plan.set_point_c,
                    plan.flow_l_per_min, plan.nozzle_bore_mm, plan.stand_off_mm, plan.dwell_s, plan.aim.x, plan.aim.y);
    if (circle_radius_mm > 0.0) words += fmt::format(", going round on {:g} mm", circle_radius_mm);
    if (plan.preheat_c) words += fmt::format(", over a preheater at {:g} C", *plan.preheat_c);
    if (plan.low_melt_fraction > 0.0) words += fmt::format(", {:.0f} % low-melt alloy", 100.0 * plan.low_melt_fraction);
    if (!plan.shields.empty()) words += ", " + counted(plan.shields.size(), "shield") + " in place";
    return words;
}

void print_text(const document::HeatPlan& plan, double circle_radius_mm, const HeatReport& report, Streams streams) {
    for (const std::string& sentence : report.sentences)
        streams.out << sentence << '\n';
    streams.out << '\n' << settings_words(plan, circle_radius_mm) << '\n';
    const analysis::TargetReport& target = report.target;
    streams.out << fmt::format("{:<14} {:>14}  melts at {:g} C: {}\n", target.name + " joints",
                               range(target.peak_mean_c), target.liquidus_c, analysis::to_text(target.verdict));
    for (const analysis::NeighbourReport& near : report.neighbours)
        streams.out << fmt::format(
            "{:<14} {:>14}  {}{}{}{}{}\n", near.name, range(near.peak_c),
            near.limit_c ? fmt::format("limit {:g} C: {}", *near.limit_c, analysis::to_text(near.verdict))
                         : std::string("no limit"),
            near.far_side ? ", far side" : "", near.under_can.empty() ? "" : ", under " + near.under_can,
            near.shielded ? (near.shield_share > 0.9 ? ", shielded" : ", partly shielded") : "",
            near.may_float ? ", may float: do not touch or blow" : "");
}

bool needs_attention(const HeatReport& report) {
    if (report.target.verdict != analysis::MeltVerdict::Melts) return true;
    for (const analysis::NeighbourReport& near : report.neighbours)
        if (near.verdict != analysis::NeighbourVerdict::Safe) return true;
    return !report.cautions.empty();
}

int run_heat(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    const Result<document::HeatPlan> plan = heat_plan_of(*chart, arguments);
    if (!plan) return fail(streams, plan.error());
    analysis::HeatOptions options;
    options.cell_mm = arguments.number("cell");
    options.room_c = arguments.number("room-c").value_or(options.room_c);
    options.circle_radius_mm = arguments.number("circle").value_or(0.0);
    const Result<HeatReport> report = analysis::heat(*chart, *plan, options);
    if (!report) return fail(streams, of_command(report.error(), *chart, *plan, arguments));
    scene::Reports reports;
    reports.plan = &*plan;
    reports.heat = &*report;
    if (const Result<void> drawn = write_heat_picture(*chart, reports, arguments); !drawn)
        return fail(streams, drawn.error());
    if (arguments.has("json"))
        print_json(*plan, options.circle_radius_mm, *report, streams);
    else
        print_text(*plan, options.circle_radius_mm, *report, streams);
    print(streams.err, report->cautions);
    print(streams.err, report->remarks);
    return needs_attention(*report) ? kFindings : kFine;
}

} // namespace

namespace {

std::string details_text() {
    std::string text =
        "Joints of the target against the liquidus, neighbours against their limits, far side included. An "
        "estimate, not a measurement: check with a thermocouple; local rules and the part maker's sheet "
        "win. Exit code 1 unless the target surely melts and every neighbour is surely safe.\n"
        "With --json every key says its unit, and what is not sure is an object of low, nominal and high, null where "
        "it "
        "does not happen: sentences; plan; target with verdict, peak_mean_c (through the board, by which joints are "
        "judged), peak_top_c (the face under the air), likely_c, times to and above the liquidus and each joint; "
        "neighbours, least margin first, with peak_c of the body, joint_peak_c of their coldest joint, limits, "
        "verdict, "
        "shield_share (0 to 1) and the shield can over them; curve of the coldest joint over time_s; the jet, board, "
        "energy (J, with the residual of the balance) and time steps of the run; cautions and remarks.\n"
        "What the model leaves out:";
    for (const std::string_view sentence : analysis::heat_simplifications())
        text += "\n- " + std::string(sentence);
    return text;
}

} // namespace

Command heat_command() {
    std::vector<Option> options = heat_plan_options();
    options.push_back({"--room-c", OptionKind::Number, "room temperature, C (default 25)"});
    options.push_back(circle_option());
    options.push_back({"--cell", OptionKind::Number, "size of a cell of the model, mm"});
    options.push_back(picture_option());
    options.push_back(force_flag());
    options.push_back(json_flag());
    static const std::string details = details_text();
    return {"heat",
            "estimate temperatures under the nozzle, low to high",
            details,
            "padchart heat demo/river-logger.chart.json --target U4",
            std::move(options),
            run_heat};
}

} // namespace padchart::cli
