#include "cli/heat_options.hpp"

#include <algorithm>
#include <charconv>
#include <utility>

#include "cli/shared.hpp"

namespace padchart::cli {
namespace {

using document::Chart;
using document::HeatPlan;
using document::Id;

bool read_number(std::string_view text, double& value) {
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    return fault == std::errc{} && end == text.data() + text.size();
}

Result<geometry::Vec2> point_of(const std::string& text) {
    const std::size_t comma = text.find(',');
    geometry::Vec2 point;
    if (comma == std::string::npos || !read_number(std::string_view(text).substr(0, comma), point.x) ||
        !read_number(std::string_view(text).substr(comma + 1), point.y))
        return Error{"\"" + text + "\" is not a place; right would be X,Y in board mm like 20.6,21", "--aim"};
    return point;
}

Result<Id> shield_by_name(const Chart& chart, const std::string& name) {
    for (const document::Shield& shield : chart.shields)
        if (shield.name == name || shield.id.text == name) return shield.id;
    return Error{"no shield of the chart is called \"" + name + "\"", "--shield"};
}

Result<Id> station_by_name(const Chart& chart, const std::string& name) {
    std::string known;
    for (const document::Station& station : chart.stations) {
        if (station.name == name || station.id.text == name) return station.id;
        known += (known.empty() ? "" : ", ") + ("\"" + station.name + "\"");
    }
    return Error{"no station of the chart is called \"" + name + "\"" +
                     (known.empty() ? "; it has none: fit one from thermocouple readings first" : "; it has " + known),
                 "--station"};
}

void apply_numbers(const Arguments& arguments, HeatPlan& plan) {
    plan.set_point_c = arguments.number("set-c").value_or(plan.set_point_c);
    plan.flow_l_per_min = arguments.number("flow").value_or(plan.flow_l_per_min);
    plan.nozzle_bore_mm = arguments.number("nozzle").value_or(plan.nozzle_bore_mm);
    plan.stand_off_mm = arguments.number("stand-off").value_or(plan.stand_off_mm);
    plan.dwell_s = arguments.number("dwell").value_or(plan.dwell_s);
    plan.low_melt_fraction = arguments.number("low-melt").value_or(plan.low_melt_fraction);
    plan.alloy = arguments.text("alloy", plan.alloy);
    if (const auto preheat = arguments.number("preheat-c")) plan.preheat_c = *preheat;
    if (arguments.has("no-preheat")) plan.preheat_c.reset();
}

/// The option that says a number of the plan; empty for anything else.
std::string_view option_of(std::string_view where) {
    constexpr std::pair<std::string_view, std::string_view> kOptions[] = {{"set_point_c", "--set-c"},
                                                                          {"flow_l_per_min", "--flow"},
                                                                          {"nozzle_bore_mm", "--nozzle"},
                                                                          {"stand_off_mm", "--stand-off"},
                                                                          {"dwell_s", "--dwell"},
                                                                          {"preheat_c", "--preheat-c"},
                                                                          {"low_melt_fraction", "--low-melt"},
                                                                          {"alloy", "--alloy"},
                                                                          {"aim", "--aim"},
                                                                          {"room_c", "--room-c"},
                                                                          {"circle_radius_mm", "--circle"},
                                                                          {"cell_mm", "--cell"},
                                                                          {"step_mm", "--step"}};
    for (const auto& [key, option] : kOptions)
        if (key == where) return option;
    return {};
}

} // namespace

HeatPlan plan_for(const Chart& chart, const Id& target) {
    for (const HeatPlan& plan : chart.heat_plans)
        if (plan.target == target) return plan;
    HeatPlan plan;
    plan.id = document::id_of("hp", target.text);
    plan.target = target;
    const auto at = document::find_part(chart, target);
    const document::Footprint& part = chart.parts[*at];
    plan.side = part.placement.side;
    plan.aim = document::board_from_part(part.placement)(document::centre_in_part(part));
    plan.nozzle_bore_mm = chart.rules.nozzle_bore_mm;
    return plan;
}

std::vector<Option> heat_plan_options() {
    return {{"CHART", OptionKind::Text, "the chart file, NAME.chart.json", true},
            {"--target", OptionKind::Text, "the part to be melted off, by name", true},
            {"--aim", OptionKind::Text, "nozzle axis on the board, X,Y in mm"},
            {"--set-c", OptionKind::Number, "set point of the air, C"},
            {"--flow", OptionKind::Number, "air flow, L/min"},
            {"--nozzle", OptionKind::Number, "nozzle bore, mm"},
            {"--stand-off", OptionKind::Number, "nozzle above the board, mm"},
            {"--dwell", OptionKind::Number, "how long the air is on, s"},
            {"--preheat-c", OptionKind::Number, "preheater under the board, C"},
            {"--no-preheat", OptionKind::Flag, "no preheater, whatever the plan says"},
            {"--alloy", OptionKind::Text, "alloy of the joints, such as SAC305 or Sn63Pb37"},
            {"--low-melt", OptionKind::Number, "share of Sn42Bi58 mixed into the joints, 0 to 1"},
            {"--shield", OptionKind::Text, "a shield of the chart that is in place; may be repeated", false, {}, true},
            {"--no-shields", OptionKind::Flag, "no shields, whatever the plan says"},
            {"--station", OptionKind::Text, "a calibrated station of the chart, by name"},
            {"--no-station", OptionKind::Flag, "without a calibration, whatever the plan says"}};
}

Option circle_option() {
    return {"--circle", OptionKind::Number, "the nozzle goes round on this radius, a turn in a second or two, mm"};
}

Result<HeatPlan> heat_plan_of(const Chart& chart, const Arguments& arguments) {
    const Result<Id> target = part_by_name(chart, arguments.text("target"));
    if (!target) return target.error();
    HeatPlan plan = plan_for(chart, *target);
    apply_numbers(arguments, plan);
    if (arguments.has("aim")) {
        const Result<geometry::Vec2> aim = point_of(arguments.text("aim"));
        if (!aim) return aim.error();
        plan.aim = *aim;
    }
    if (arguments.has("no-shields")) plan.shields.clear();
    if (arguments.has("no-station")) plan.station = {};
    if (arguments.has("station")) {
        const Result<Id> station = station_by_name(chart, arguments.text("station"));
        if (!station) return station.error();
        plan.station = *station;
    }
    for (const std::string& name : arguments.all("shield")) {
        const Result<Id> shield = shield_by_name(chart, name);
        if (!shield) return shield.error();
        plan.shields.push_back(*shield);
    }
    return plan;
}

Error of_plan(Error error, const Chart& chart, const HeatPlan& plan, const std::string& path) {
    if (error.where == "scale" || error.where.starts_with("board")) {
        error.message = path + ": " + error.message;
        return error;
    }
    if (option_of(error.where).empty()) return error; // not about a number of the plan
    const bool is_of_chart = std::any_of(chart.heat_plans.begin(), chart.heat_plans.end(),
                                         [&](const HeatPlan& one) { return one.id == plan.id; });
    if (!is_of_chart) return error;
    error.message =
        "The heat plan \"" + (plan.name.empty() ? plan.id.text : plan.name) + "\" cannot be run. " + error.message;
    error.where = path + ", heat_plans, " + plan.id.text + ", " + error.where;
    return error;
}

Error of_command(Error error, const Chart& chart, const HeatPlan& plan, const Arguments& arguments) {
    const std::string_view option = option_of(error.where);
    if (option.empty() || !arguments.has(option.substr(2)))
        return of_plan(std::move(error), chart, plan, arguments.text("CHART"));
    error.where = option;
    return error;
}

} // namespace padchart::cli
