// Parts under a shield can: out of the air, heated by the board and by the can.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "analysis/heat_model.hpp"
#include "analysis/heat_setup.hpp"
#include "analysis/heat_solver.hpp"
#include "heat_reference.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::analysis::test;
using doctest::Approx;
using document::PartClass;

namespace {

/// The reference board with its socket, and a can over that where one is wanted.
document::Chart canned_chart(bool has_can, document::Side side = document::Side::Top) {
    document::Chart chart = reference_chart(3);
    if (has_can) {
        document::Footprint can = block("sh1", PartClass::ShieldCan, {38.5, 15}, 11, 11, 2.0);
        can.placement.side = side;
        chart.parts.add(can);
    }
    return chart;
}

const NeighbourReport& near(const HeatReport& report, const char* name) {
    const auto found =
        std::find_if(report.neighbours.begin(), report.neighbours.end(), [&](const auto& n) { return n.name == name; });
    REQUIRE(found != report.neighbours.end());
    return *found;
}

HeatReport run(const document::Chart& chart) {
    HeatOptions options;
    options.cell_mm = 1.0;
    Result<HeatReport> report = heat(chart, reference_plan(380), options);
    REQUIRE(report.has_value());
    return std::move(*report);
}

} // namespace

TEST_CASE("a can keeps the air off what stands under it and says whose it is") {
    const HeatReport open = run(canned_chart(false));
    const HeatReport closed = run(canned_chart(true));
    CHECK(near(open, "j2").under_can.empty());
    CHECK(near(closed, "j2").under_can == "sh1");
    CHECK(near(closed, "j2").peak_c.nominal < near(open, "j2").peak_c.nominal - 40.0);
    // The can on its other face leaves it in the air.
    const HeatReport other = run(canned_chart(true, document::Side::Bottom));
    CHECK(near(other, "j2").under_can.empty());
}

TEST_CASE("what stands under a can lies between the board and the can in every case") {
    const document::Chart chart = canned_chart(true);
    HeatOptions options;
    options.cell_mm = 1.0;
    const Result<HeatSetup> setup = heat_setup(chart, reference_plan(380), options);
    REQUIRE(setup.has_value());
    for (const HeatCase* unknowns : {&setup->cases.low, &setup->cases.nominal, &setup->cases.high}) {
        HeatModel model(setup->layout, setup->board, *unknowns, 25.0);
        model.set_jet(jet_field(*setup, model), setup->plan.aim);
        HeatSolver solver(model.network());
        const std::vector<double> celsius = solver.steady();
        const HeatBody* socket = setup->layout.body_of(document::Id{"j2"});
        const HeatBody* can = setup->layout.body_of(document::Id{"sh1"});
        REQUIRE(socket != nullptr);
        REQUIRE(can != nullptr);
        double hottest = -1e9, coldest = 1e9;
        for (const auto& [node, weight] : setup->layout.body_probe(*can).nodes) {
            hottest = std::max(hottest, celsius[node]);
            coldest = std::min(coldest, celsius[node]);
        }
        for (const auto& [node, area] : setup->layout.board_probe(document::extent_on_board(chart.parts[1])).nodes) {
            hottest = std::max(hottest, celsius[node]);
            coldest = std::min(coldest, celsius[node]);
        }
        for (const auto& [node, weight] : setup->layout.body_probe(*socket).nodes) {
            CHECK(celsius[node] < hottest);
            CHECK(celsius[node] > coldest);
        }
    }
}

TEST_CASE("a small part under a can is the mean of board and can by their conductances") {
    // One node of 2 by 2 mm: at rest g_b (T_board - T) + g_c (T_can - T) = 0. Own arithmetic: 0.6 mm high under 2.0 mm,
    // air at 200 C conducts 0.0387 W/(m K) over 1.4 mm; grey faces of 0.9 and 0.3 exchange 4 * 0.290 * sigma * 473^3.
    document::Chart chart = reference_chart(3);
    chart.parts.add(block("sh1", PartClass::ShieldCan, {22, 15}, 9, 9, 2.0));
    chart.parts.add(block("c1", PartClass::CeramicCapacitor, {22, 15}, 2, 2, 0.6));
    HeatOptions options;
    options.cell_mm = 1.0;
    const Result<HeatSetup> setup = heat_setup(chart, reference_plan(380), options);
    REQUIRE(setup.has_value());
    HeatModel model(setup->layout, setup->board, setup->cases.nominal, 25.0);
    model.set_jet(jet_field(*setup, model), setup->plan.aim);
    const std::vector<double> celsius = HeatSolver(model.network()).steady();
    const HeatBody& chip = *setup->layout.body_of(document::Id{"c1"});
    REQUIRE(chip.count == 1);
    double can_c = 0.0, board_c = 0.0, area = 0.0;
    for (const RoofLink& link : chip.roof) {
        can_c += link.area_m2 * celsius[setup->layout.node_of_body(link.can)];
        area += link.area_m2;
    }
    can_c /= area;
    for (const auto& [node, weight] : setup->layout.board_probe(document::extent_on_board(chart.parts[3])).nodes)
        board_c += weight * celsius[node];
    CHECK(area == Approx(4e-6));
    const double by_board = 50000.0, by_can = 0.0387 / 1.4e-3 + 4 * 0.290323 * 5.670374e-8 * std::pow(473.15, 3);
    CHECK(celsius[setup->layout.node_of_body(chip.first)] ==
          Approx((by_board * board_c + by_can * can_c) / (by_board + by_can)).epsilon(1e-4));
}

TEST_CASE("no tape is advised for what stands under a can") {
    document::Chart chart = canned_chart(true);
    document::Footprint socket = chart.parts[1];
    socket.heat->limit_c = 100.0;
    chart.parts.replace(1, socket);
    const HeatReport report = run(chart);
    const bool says_mind = std::any_of(report.sentences.begin(), report.sentences.end(), [](const std::string& words) {
        return words.find("Mind j2 under sh1") == 0 || words.find("Do not start like this: j2") == 0;
    });
    CHECK(says_mind);
    for (const std::string& words : report.sentences)
        CHECK(words.find("Shield j2") == std::string::npos);
}
