// What has to be seen to after rework follows from what the chart holds. Entries: common practice, no source.

#include <algorithm>

#include <doctest/doctest.h>

#include "document/edits.hpp"
#include "patterns/family.hpp"
#include "scene/checklist.hpp"

using namespace padchart;
using namespace padchart::document;
using scene::checklist_of;
using scene::ChecklistEntry;

namespace {

Footprint chip(const char* id, const char* name, geometry::Vec2 at, Side side = Side::Top) {
    Footprint part = patterns::generate("chip-1608M").value();
    part.id = Id{id};
    part.name = name;
    part.placement = {at, Angle(), side};
    return part;
}

/// A part under the nozzle, a chip beside it, a connector behind it and another far away.
Chart reworked() {
    Chart chart;
    chart.scale = Scale{};
    chart.parts.add(chip("u4", "U4", {10, 10}));
    chart.parts.add(chip("c7", "C7", {12, 10}));
    Footprint behind = chip("j5", "J5", {10, 11}, Side::Bottom);
    behind.part_class = PartClass::BoardConnector;
    chart.parts.add(behind);
    Footprint away = chip("j6", "J6", {40, 40}, Side::Bottom);
    away.part_class = PartClass::BoardConnector;
    chart.parts.add(away);
    HeatPlan plan;
    plan.id = {"hp-1"};
    plan.target = {"u4"};
    plan.aim = {10, 10};
    chart.heat_plans.add(plan);
    return chart;
}

const ChecklistEntry* find(const std::vector<ChecklistEntry>& list, std::string_view task,
                           std::string_view target = {}) {
    const auto found = std::find_if(list.begin(), list.end(), [&](const ChecklistEntry& entry) {
        return entry.task == task && entry.target.text == target;
    });
    return found == list.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("an empty chart still asks for bridges and lands and readings") {
    const auto list = checklist_of({});
    for (const char* task : {"bridges", "joints", "lands", "flux", "readings", "compared"})
        CHECK_MESSAGE(find(list, task) != nullptr, task);
    for (const ChecklistEntry& entry : list) {
        CHECK_FALSE(entry.done);
        CHECK(entry.text.ends_with('.'));
    }
}

TEST_CASE("only connectors that the heat reached from behind are to be seated again") {
    const auto list = checklist_of(reworked());
    CHECK(find(list, "connector-seated", "j5") != nullptr);
    CHECK(find(list, "connector-seated", "j6") == nullptr);
    CHECK(find(list, "bridges")->reason == "the heat reached U4, C7 and J5");
}

TEST_CASE("what was laid on or taken off comes off or back again and the cell last") {
    Chart chart = reworked();
    Shield tape;
    tape.id = {"s1"};
    tape.name = "S1";
    chart.shields.add(tape);
    KeepOut shielded, removed, cell;
    shielded.id = {"k1"};
    shielded.measure = Measure::Shielded;
    removed.id = {"k2"};
    removed.measure = Measure::Removed;
    cell.id = {"k3"};
    cell.measure = Measure::Removed;
    cell.reason = KeepOutReason::Cell;
    for (const KeepOut& keep_out : {shielded, removed, cell})
        chart.keep_outs.add(keep_out);
    Footprint lifted = chart.parts[1];
    lifted.condition.presence = Presence::Removed;
    chart.parts.replace(1, lifted);
    const auto list = checklist_of(chart);
    CHECK(find(list, "shield-off", "s1") != nullptr);
    CHECK(find(list, "tape-off", "k1") != nullptr);
    CHECK(find(list, "keep-out-back", "k2") != nullptr);
    CHECK(find(list, "keep-out-back", "k3") == nullptr);
    CHECK(find(list, "part-back", "c7") != nullptr);
    const auto* cell_back = find(list, "cell-back", "k3");
    REQUIRE(cell_back != nullptr);
    CHECK(cell_back > find(list, "readings"));
}

TEST_CASE("low-melt alloy is asked after where it was used and worse where lead is about") {
    Chart chart = reworked();
    CHECK(find(checklist_of(chart), "low-melt-residue") == nullptr);
    HeatPlan plan = chart.heat_plans[0];
    plan.low_melt_fraction = 0.3;
    chart.heat_plans.replace(0, plan);
    const auto list = checklist_of(chart);
    REQUIRE(find(list, "low-melt-residue") != nullptr);
    CHECK(find(list, "low-melt-residue")->reason.find("96") == std::string::npos);
    plan.alloy = "Sn63Pb37";
    chart.heat_plans.replace(0, plan);
    CHECK(find(checklist_of(chart), "low-melt-residue")->reason.find("96 °C") != std::string::npos);
}

TEST_CASE("two readings without a part are told apart by their signs on the map") {
    Chart chart = reworked();
    Reading reading;
    reading.value = 0.482;
    reading.unit = "V";
    reading.power = PowerState::Off;
    for (const char* id : {"r1", "r2"}) {
        reading.id = {id};
        chart.readings.add(reading);
    }
    const auto list = checklist_of(chart);
    CHECK(find(list, "reading-again", "r1")->text == "Measure again without power: M1, diode drop to GND.");
    CHECK(find(list, "reading-again", "r2")->text == "Measure again without power: M2, diode drop to GND.");
}

TEST_CASE("a reworked part whose way round nobody has written down is told of before power") {
    Chart chart = reworked();
    const auto with_class = [&](PartClass part_class, RecordState state = RecordState::NotRecorded) {
        Footprint part = chart.parts[0];
        part.part_class = part_class;
        part.orientation.state = state;
        chart.parts.replace(0, part);
        return checklist_of(chart);
    };
    const auto list = with_class(PartClass::Diode);
    const ChecklistEntry* line = find(list, "find-way-round", "u4");
    REQUIRE(line != nullptr);
    CHECK(line->text == "U4: which way round it goes is not on record: find out before power.");
    CHECK(line->reason == "it also seats turned by 180 degrees");
    CHECK(find(list, "find-way-round", "j5") == nullptr); // heated, not reworked
    CHECK(find(with_class(PartClass::Diode, RecordState::NoMark), "find-way-round", "u4") != nullptr);
    CHECK(find(with_class(PartClass::Diode, RecordState::Recorded), "find-way-round", "u4") == nullptr);
    CHECK(find(with_class(PartClass::Resistor), "find-way-round", "u4") == nullptr); // either way is right
    Footprint bare = chart.parts[0];
    bare.pads.clear();
    bare.stated_pad_count = 8;
    chart.parts.replace(0, bare);
    CHECK(find(with_class(PartClass::IntegratedCircuit), "find-way-round", "u4") != nullptr);
    CHECK(find(with_class(PartClass::Resistor), "find-way-round", "u4") == nullptr);
}

TEST_CASE("a part with two plans has one line for its way round") {
    Chart chart = reworked();
    Footprint part = chart.parts[0];
    part.part_class = PartClass::Diode;
    chart.parts.replace(0, part);
    HeatPlan again = chart.heat_plans[0];
    again.id = {"hp-2"};
    chart.heat_plans.add(again);
    const auto list = checklist_of(chart);
    CHECK(std::count_if(list.begin(), list.end(),
                        [](const ChecklistEntry& entry) { return entry.task == "find-way-round"; }) == 1);
}

TEST_CASE("readings of this board without power are measured again") {
    Chart chart = reworked();
    Reading off, on, other;
    off.id = {"r1"};
    off.target = {"c7"};
    off.value = 0.482;
    off.unit = "V";
    off.power = PowerState::Off;
    on = off;
    on.id = {"r2"};
    on.power = PowerState::On;
    other = off;
    other.id = {"r3"};
    other.board = WhichBoard::KnownGood;
    for (const Reading& reading : {off, on, other})
        chart.readings.add(reading);
    const auto list = checklist_of(chart);
    REQUIRE(find(list, "reading-again", "r1") != nullptr);
    CHECK(find(list, "reading-again", "r1")->text == "Measure again without power: M1, diode drop at C7 to GND.");
    CHECK(find(list, "reading-again", "r2") == nullptr);
    CHECK(find(list, "reading-again", "r3") == nullptr);
    CHECK(find(list, "readings") == nullptr);
}

TEST_CASE("ticks of the chart are shown with who and when and own lines come last") {
    Chart chart = reworked();
    chart.ticks.add({{"t1"}, "bridges", {}, true, "M. Okafor", "2031-04-02", "under U4 too", {}});
    chart.ticks.add({{"t2"}, std::string(scene::kOwnTask), {}, false, "", "", "Foam strip back on.", {}});
    chart.ticks.add({{"t3"}, "same-as-before", {"c7"}, true, "M. Okafor", "2031-04-02", "", {}});
    const auto list = checklist_of(chart);
    const ChecklistEntry* bridges = find(list, "bridges");
    REQUIRE(bridges != nullptr);
    CHECK(bridges->done);
    CHECK(bridges->by == "M. Okafor");
    CHECK(bridges->tick == Id{"t1"});
    CHECK(list.back().text == "Foam strip back on.");
    CHECK_FALSE(list.back().done);
    CHECK(find(list, "same-as-before", "c7") == nullptr);
    CHECK(find(list, "compared")->reason == "1 of 4 parts looked at again so far");
}
