// The walk over the board after rework. The order is this project's own choice; distances by own arithmetic.

#include <doctest/doctest.h>

#include <set>

#include "analysis/compare_scene.hpp"
#include "analysis/sweep.hpp"
#include "support/chart_generator.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::document;
using padchart::testing::two_lands;

namespace {

/// U4 under the nozzle, C1 and C2 beside it, D1 behind it, R9 far away. Heat is felt within some 9 mm.
Chart bench() {
    Chart chart;
    chart.scale = Scale{};
    chart.board.outline = geometry::Polygon{{{0, 0}, {60, 0}, {60, 40}, {0, 41}}, {}};
    for (const auto& [name, at] : {std::pair<const char*, geometry::Vec2>{"R9", {50, 30}},
                                   {"U4", {20, 20}},
                                   {"C2", {24, 20}},
                                   {"C1", {22, 20}},
                                   {"D1", {20, 21}}})
        chart.parts.add(two_lands(name, at, PartClass::CeramicCapacitor));
    Footprint behind = chart.parts[4];
    behind.placement.side = Side::Bottom;
    chart.parts.replace(4, behind);
    HeatPlan plan;
    plan.id = {"hp"};
    plan.target = chart.parts[1].id;
    plan.aim = {20, 20};
    chart.heat_plans.add(plan);
    return chart;
}

std::string names(const std::vector<SweepStep>& steps) {
    std::string text;
    for (const SweepStep& step : steps)
        text += step.name + ' ';
    return text;
}

std::vector<SweepStep> walk(const Chart& before, const Chart& after) {
    return sweep_of(before, after, compare(before, after));
}

Tick seen(const Id& target, bool same) {
    return {{"seen-" + target.text}, std::string(kSameAsBefore), target, same, {}, {}, {}, {}};
}

} // namespace

TEST_CASE("the walk begins with the neighbours then those behind then the reworked part then the rest") {
    const Chart chart = bench();
    CHECK(names(walk(chart, chart)) == "C1 C2 D1 U4 R9 ");
}

TEST_CASE("without a plan the walk keeps the order of the first chart and new parts come last") {
    Chart before = bench();
    before.heat_plans.erase(0);
    Chart after = before;
    after.parts.insert(0, two_lands("X1", {5, 5}, PartClass::Resistor));
    CHECK(names(walk(before, after)) == "R9 U4 C2 C1 D1 X1 ");
}

TEST_CASE("a missing part keeps its place in the walk by where it was") {
    const Chart before = bench();
    Chart after = before;
    after.parts.erase(3); // C1
    const auto steps = walk(before, after);
    CHECK(names(steps) == "C1 C2 D1 U4 R9 ");
    CHECK(steps[0].after_id.is_empty());
    CHECK(steps[0].subject() == before.parts[3].id);
    REQUIRE(steps[0].changes.size() == 1);
}

TEST_CASE("the walk is the same wherever the second chart lies and whichever chart holds the plan") {
    const Chart before = bench();
    Chart without = before;
    without.heat_plans.erase(0);
    for (const bool other_side : {false, true}) {
        const Chart moved = testing::moved_chart(without, Angle::degrees(40), {70, -3}, other_side);
        CHECK(names(walk(before, moved)) == "C1 C2 D1 U4 R9 ");
    }
}

TEST_CASE("progress counts looked at and different and not yet") {
    Chart chart = bench();
    chart.ticks.add(seen(chart.parts[1].id, true));
    chart.ticks.add(seen(chart.parts[2].id, false));
    chart.ticks.add(seen({"gone"}, true)); // of no part here
    const auto steps = walk(chart, chart);
    const SweepProgress progress = sweep_progress(chart, steps);
    CHECK(in_words(progress) == "2 of 5 compared; 1 differs; 3 not checked again");
    CHECK(sweep_tick(chart, chart.parts[2].id)->done == false);
    CHECK(sweep_tick(chart, chart.parts[0].id) == nullptr);
}

TEST_CASE("every part is one step and every change of a part is told at its step") {
    testing::Random random(99);
    for (int round = 0; round < 40; ++round) {
        const Chart before = testing::make_chart(5 + random.below(30), 2 + random.below(5), random.below(1000));
        Chart after = before;
        for (std::size_t i = after.parts.size(); i-- > 0;)
            if (random.chance(0.2)) {
                Footprint part = after.parts[i];
                part.value += "x";
                after.parts.replace(i, part);
            } else if (random.chance(0.1)) {
                after.parts.erase(i);
            }
        const CompareReport report = compare(before, after);
        const auto steps = sweep_of(before, after, report);
        std::set<std::string> subjects;
        std::size_t changes = 0;
        for (const SweepStep& step : steps) {
            CHECK(subjects.insert(step.subject().text).second);
            changes += step.changes.size();
        }
        CHECK(steps.size() == before.parts.size());
        CHECK(changes == report.changes.size());
    }
}
