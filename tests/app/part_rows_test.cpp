#include "support.hpp"

#include "app/part_rows.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using document::PartClass;
using document::Presence;

struct Bench {
    std::shared_ptr<const document::Chart> chart;
    std::shared_ptr<const Computed> reports;
};

/// C10 and C2 are tantalum capacitors, R1 is a resistor below the board, J1 a card socket, Q1 is not told of.
Bench bench() {
    document::Chart chart = new_chart();
    const auto add = [&](const char* name, PartClass part_class, Presence presence, document::Side side) {
        Footprint part = part_of("chip-1608M", name, {3.0 * static_cast<double>(chart.parts.size()), 0}, side);
        part.part_class = part_class;
        part.orientation = {};
        part.heat.reset();
        part.condition.presence = presence;
        chart = document::add_part(chart, part).value();
    };
    add("C10", PartClass::TantalumCapacitor, Presence::Present, document::Side::Top);
    add("C2", PartClass::TantalumCapacitor, Presence::Missing, document::Side::Top);
    add("R1", PartClass::Resistor, Presence::Present, document::Side::Bottom);
    add("J1", PartClass::CardSocket, Presence::Present, document::Side::Top);
    add("Q1", PartClass::Unknown, Presence::NotChecked, document::Side::Top);
    auto held = std::make_shared<const document::Chart>(chart);
    return {held, compute(held)};
}

std::string names(const Bench& bench, const PartWishes& wishes) {
    PartRows rows;
    std::string text;
    for (const std::size_t i : rows.of(bench.chart, bench.reports, wishes))
        text += (text.empty() ? "" : " ") + bench.chart->parts[i].name;
    return text;
}

TEST_CASE("parts are listed by name as people count") {
    const Bench b = bench();
    CHECK(names(b, {}) == "C2 C10 J1 Q1 R1");
    PartWishes wishes;
    wishes.descending = true;
    CHECK(names(b, wishes) == "R1 Q1 J1 C10 C2");
    CHECK(natural_less("C2", "C10"));
    CHECK(natural_less("C9", "R1"));
    CHECK_FALSE(natural_less("C10", "C2"));
}

TEST_CASE("the list is narrowed by state and side and kind") {
    const Bench b = bench();
    const auto by = [&](auto set) {
        PartWishes wishes;
        set(wishes);
        CHECK(wishes.narrows());
        return names(b, wishes);
    };
    CHECK(by([](PartWishes& w) { w.state = StateFilter::NotChecked; }) == "Q1");
    CHECK(by([](PartWishes& w) { w.state = StateFilter::Absent; }) == "C2");
    CHECK(by([](PartWishes& w) { w.state = StateFilter::Present; }) == "C10 J1 R1");
    CHECK(by([](PartWishes& w) { w.state = StateFilter::Open; }) == "Q1");
    CHECK(by([](PartWishes& w) { w.side = document::Side::Bottom; }) == "R1");
    CHECK(by([](PartWishes& w) { w.part_class = PartClass::TantalumCapacitor; }) == "C2 C10");
    CHECK(by([](PartWishes& w) { w.sensitive = true; }) == "J1");
    CHECK(by([](PartWishes& w) { w.unmentioned = true; }) == "Q1");
    // A two-ended chip also seats turned by half: the capacitors and what nobody has told of are open.
    CHECK(by([](PartWishes& w) { w.unrecorded = true; }).find("C2 C10") == 0);
    CHECK(by([](PartWishes& w) { w.unrecorded = true; }).find("R1") == std::string::npos);
    CHECK(by([](PartWishes& w) { w.text = "TANT missing"; }) == "C2");
    CHECK(by([](PartWishes& w) { w.text = "nothing like it"; }).empty());
}

TEST_CASE("the list follows the chart and the wishes") {
    Bench b = bench();
    PartRows rows;
    PartWishes wishes;
    wishes.state = StateFilter::NotChecked;
    CHECK(rows.of(b.chart, b.reports, wishes).size() == 1);
    document::Condition condition;
    condition.presence = Presence::Present;
    b.chart = std::make_shared<const document::Chart>(
        document::set_condition(*b.chart, document::Id{"q1"}, condition).value());
    CHECK(rows.of(b.chart, b.reports, wishes).empty());
    wishes.state = StateFilter::Any;
    CHECK(rows.of(b.chart, b.reports, wishes).size() == 5);
}

} // namespace
} // namespace padchart::app
