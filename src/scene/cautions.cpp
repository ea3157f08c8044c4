#include "scene/cautions.hpp"

#include <algorithm>
#include <initializer_list>

#include "patterns/table.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using document::KeepOutReason;
using document::PartClass;

namespace {

bool has_class(const Chart& chart, std::initializer_list<PartClass> classes) {
    return std::any_of(chart.parts.begin(), chart.parts.end(), [&](const Footprint& part) {
        return std::find(classes.begin(), classes.end(), part.part_class) != classes.end();
    });
}

bool has_reason(const Chart& chart, std::initializer_list<KeepOutReason> reasons) {
    return std::any_of(chart.keep_outs.begin(), chart.keep_outs.end(), [&](const document::KeepOut& keep_out) {
        return std::find(reasons.begin(), reasons.end(), keep_out.reason) != reasons.end();
    });
}

bool has_cell(const Chart& chart) {
    return has_class(chart, {PartClass::Cell, PartClass::CellHolder}) || has_reason(chart, {KeepOutReason::Cell});
}

bool has_store_of_charge(const Chart& chart) {
    return has_class(chart, {PartClass::AluminiumCapacitor, PartClass::Supercapacitor, PartClass::FilmCapacitor}) ||
           has_reason(chart, {KeepOutReason::CapacitorCan});
}

bool has_plastic(const Chart& chart) {
    return has_class(chart, {PartClass::BoardConnector, PartClass::FlatCableConnector, PartClass::CardSocket,
                             PartClass::Receptacle, PartClass::Connector, PartClass::Switch, PartClass::Relay}) ||
           has_reason(chart, {KeepOutReason::PlasticConnector, KeepOutReason::CardTrayOrSwitch,
                              KeepOutReason::LabelOrFoam, KeepOutReason::Coating, KeepOutReason::Underfill}) ||
           !chart.shields.empty();
}

bool has_lead(const Chart& chart) {
    const patterns::Table& alloys = patterns::table("alloys");
    return std::any_of(chart.heat_plans.begin(), chart.heat_plans.end(), [&](const document::HeatPlan& plan) {
        const std::optional<std::size_t> row = alloys.find("key", plan.alloy);
        return row && alloys.number(*row, "lead_percent").value_or(0.0) > 0.0;
    });
}

bool uses_low_melt(const Chart& chart) {
    return std::any_of(chart.heat_plans.begin(), chart.heat_plans.end(),
                       [](const document::HeatPlan& plan) { return plan.low_melt_fraction > 0.0; });
}

} // namespace

std::vector<std::string> cautions_for(const Chart& chart) {
    std::vector<std::string> list;
    if (has_cell(chart))
        list.push_back("Lithium cell: take it out before any heat, never only shield it. A swollen or damaged cell "
                       "goes outdoors into a fire-proof bin.");
    if (has_class(chart, {PartClass::Relay, PartClass::Optocoupler, PartClass::Varistor}))
        list.push_back("Parts that often sit at mains voltage: isolate, lock off and prove dead, or leave it to a "
                       "licensed person.");
    if (has_store_of_charge(chart))
        list.push_back("Stored charge: discharge capacitors through a resistor and measure before you touch.");
    list.push_back("Fumes and burns: extract at the joint and keep your head out of the plume; the nozzle stays hot "
                   "long after switch-off.");
    if (has_plastic(chart))
        list.push_back(
            "Overheated plastic, tape and coating give harmful vapour: stop when anything smells or browns.");
    if (uses_low_melt(chart))
        list.push_back("Low-melt alloy: clean every land of it before new solder goes on; mixed with leaded solder a "
                       "joint can melt below 100 °C.");
    if (has_lead(chart)) list.push_back("Leaded solder: wash your hands, no food at the bench, bag the waste.");
    if (has_class(chart, {PartClass::IntegratedCircuit, PartClass::Transistor, PartClass::Sensor, PartClass::Led}))
        list.push_back("Static: wrist strap and mat before you touch the board.");
    if (!chart.heat_plans.empty())
        list.push_back("Temperatures are estimates: check with a thermocouple on a board you can spare.");
    return list;
}

} // namespace padchart::scene
