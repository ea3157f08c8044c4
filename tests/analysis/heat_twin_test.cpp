// The production run against a slow obvious twin (heat_slow_twin.hpp): the same physics written down once more, cell by
// cell, stepped explicitly.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "analysis/heat_run.hpp"
#include "heat_reference.hpp"
#include "heat_slow_twin.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::analysis::test;
using document::Side;
using geometry::Vec2;

namespace {

/// A board to be heated, as a chart and as the twin sees it.
struct Case {
    document::Chart chart;
    document::HeatPlan plan;
    HeatOptions options;
    TwinScene scene;
    Rect target{};
};

geometry::Ring ring_of(const Rect& r) {
    const auto p = [](int x, int y) { return Vec2{double(x), double(y)}; };
    return {p(r.x0, r.y0), p(r.x1, r.y0), p(r.x1, r.y1), p(r.x0, r.y1)};
}

void add_body(Case& c, const char* id, document::PartClass part_class, const Rect& at, bool far, double tall) {
    const Vec2 middle{(at.x0 + at.x1) / 2.0, (at.y0 + at.y1) / 2.0};
    document::Footprint part = block(id, part_class, middle, at.x1 - at.x0, at.y1 - at.y0, tall);
    const Side other = c.plan.side == Side::Top ? Side::Bottom : Side::Top;
    part.placement.side = far ? other : c.plan.side;
    c.chart.parts.add(part);
    c.scene.bodies.push_back({id, at, far});
}

void add_foil(Case& c, const TwinFoil& foil, bool in_place) {
    document::Shield shield;
    shield.id.text = shield.name = "foil";
    shield.side = c.plan.side;
    shield.outline = {{{foil.x0, foil.y0}, {foil.x1, foil.y0}, {foil.x1, foil.y1}, {foil.x0, foil.y1}}, {}};
    c.chart.shields.add(shield);
    if (!in_place) return;
    c.plan.shields.push_back({"foil"});
    c.scene.foils.push_back(foil);
}

void add_board(Case& c, double conductivity) {
    c.chart.scale = document::Scale{};
    geometry::Polygon outline{ring_of({0, 0, c.scene.wide, c.scene.high}), {}};
    for (const Rect& cut : c.scene.cuts)
        outline.holes.push_back(ring_of(cut));
    c.chart.board.outline = outline;
    c.chart.board.stack.thickness_mm = 0.8;
    c.chart.board.stack.conductivity_w_per_m_k = conductivity;
    c.chart.board.stack.heat_capacity_j_per_m3_k = 2.2e6;
    c.options.cool_s = 0.0;
}

/// Chip, socket, and a part behind the socket.
Case small_case(Side side, bool with_foil, std::optional<double> preheat_c) {
    Case c;
    c.scene.cuts = {{4, 1, 5, 8}};
    c.plan.side = side;
    c.plan.target.text = "r1";
    c.plan.aim = {9.8, 6.3};
    c.plan.set_point_c = 380;
    c.plan.nozzle_bore_mm = 4;
    c.plan.dwell_s = 20;
    c.plan.preheat_c = preheat_c;
    add_board(c, 30);
    c.target = {9, 6, 10, 7};
    add_body(c, "r1", document::PartClass::Resistor, c.target, false, 0.6);
    add_body(c, "j2", document::PartClass::Connector, {13, 3, 19, 11}, false, 1.2);
    add_body(c, "j9", document::PartClass::Connector, {12, 4, 18, 11}, true, 1.2);
    if (with_foil) add_foil(c, {12.25, 1.75, 16.25, 11.75}, true);
    return c;
}

double seen_at(const CaseRun& run, const Trace& trace, double time_s) {
    for (std::size_t k = 0; k < trace.size(); ++k)
        if (std::abs(run.time_s[k] - time_s) < 1e-6) return trace[k];
    FAIL("no such time");
    return 0.0;
}

struct Differences {
    double board_k = 0.0;
    double body_k = 0.0;
};

/// Largest differences of some of the four cases at some times.
Differences compare(const Case& c, const std::vector<std::size_t>& which, const std::vector<double>& times) {
    const Result<HeatSetup> setup = heat_setup(c.chart, c.plan, c.options, 1.0);
    REQUIRE(setup.has_value());
    REQUIRE(setup->neighbours.size() + 1 == c.scene.bodies.size());
    const auto runs = run_cases(*setup);
    REQUIRE(runs.has_value());
    const HeatCases& cases = setup->cases;
    const HeatCase* unknowns[] = {&cases.low, &cases.nominal, &cases.high, &cases.high_spread};
    Differences most;
    for (const std::size_t k : which) {
        CAPTURE(k);
        const CaseRun& run = (*runs)[k];
        SlowTwin twin(*setup, *unknowns[k], c.scene);
        for (const double time : times) {
            twin.run(time);
            const auto see = [](double& largest, double a, double b) {
                REQUIRE(std::isfinite(b));
                largest = std::max(largest, std::abs(a - b));
            };
            see(most.board_k, seen_at(run, run.joint_mean[0], time), twin.board_mean(c.target));
            for (std::size_t n = 0; n < setup->neighbours.size(); ++n) {
                const std::string& id = setup->neighbours[n].source.text;
                see(most.body_k, seen_at(run, run.neighbour[n], time), twin.hottest(id));
                for (const TwinBody& body : c.scene.bodies)
                    if (body.id == id)
                        see(most.board_k, seen_at(run, run.neighbour_joint[n], time), twin.board_mean(body.at));
            }
        }
    }
    return most;
}

void check_small(Side side, bool with_foil, std::optional<double> preheat_c) {
    const Differences most = compare(small_case(side, with_foil, preheat_c), {0, 1, 2, 3}, {2.0, 10.0, 20.0});
    // A third of a degree: what the quadrature of the jet within a cell and the steps leave together.
    CHECK(most.board_k < 0.35);
    CHECK(most.body_k < 0.5);
}

/// Anything a bench could have, on a small board.
Case random_case(unsigned seed) {
    std::mt19937 random(seed);
    const auto whole = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
    const auto real = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    Case c;
    c.scene.wide = whole(14, 22);
    c.scene.high = whole(10, 14);
    c.plan.side = whole(0, 1) == 0 ? Side::Top : Side::Bottom;
    c.plan.target.text = "u1";
    c.plan.set_point_c = whole(220, 450);
    c.plan.flow_l_per_min = whole(10, 60);
    c.plan.nozzle_bore_mm = real(3.0, 8.0);
    c.plan.stand_off_mm = real(6.0, 25.0);
    c.plan.dwell_s = 6.0;
    if (whole(0, 3) == 0) c.plan.preheat_c = whole(80, 150);
    c.options.circle_radius_mm = whole(0, 3) == 0 ? real(1.0, 4.0) : 0.0;
    c.options.room_c = whole(15, 30);
    if (whole(0, 1) == 0) c.scene.cuts.push_back({3, 2, whole(4, 6), whole(4, 7)});
    add_board(c, real(5.0, 35.0));
    c.target = {c.scene.wide / 2, c.scene.high / 2, c.scene.wide / 2 + whole(1, 3), c.scene.high / 2 + whole(1, 3)};
    c.plan.aim = {c.target.x0 + real(-2.0, 3.0), c.target.y0 + real(-2.0, 3.0)};
    constexpr document::PartClass kClasses[] = {document::PartClass::Resistor, document::PartClass::IntegratedCircuit,
                                                document::PartClass::Connector, document::PartClass::TantalumCapacitor,
                                                document::PartClass::Inductor};
    const auto any_class = [&] { return kClasses[whole(0, 4)]; };
    add_body(c, "u1", any_class(), c.target, false, real(0.5, 2.0));
    constexpr const char* kNames[] = {"a1", "a2", "a3", "a4", "a5"};
    for (const char* name : kNames) {
        const int x = whole(0, c.scene.wide - 3), y = whole(0, c.scene.high - 3);
        const Rect at{x, y, std::min(c.scene.wide, x + whole(1, 7)), std::min(c.scene.high, y + whole(1, 6))};
        const bool far = whole(0, 1) == 1;
        const bool is_taken = std::any_of(c.scene.bodies.begin(), c.scene.bodies.end(),
                                          [&](const TwinBody& body) { return body.far == far && body.at.meets(at); });
        if (!is_taken) add_body(c, name, any_class(), at, far, real(0.5, 3.0));
    }
    if (whole(0, 1) == 0) {
        const double x = whole(0, 10) + 0.25, y = whole(0, 6) + 0.25;
        add_foil(c, {x, y, x + whole(2, 6), y + whole(2, 6)}, whole(0, 2) > 0);
    }
    if (whole(0, 2) == 0) {
        const Rect at{1, 1, whole(5, 12), whole(4, 9)};
        document::CopperArea area;
        area.id.text = "pour";
        area.outline = {ring_of(at), {}};
        area.conductivity_factor = real(0.3, 2.5);
        c.chart.copper_areas.add(area);
        c.scene.copper.push_back({at, area.conductivity_factor});
    }
    return c;
}

} // namespace

TEST_CASE("chip socket and far side agree with an obvious explicit twin in all four cases") {
    check_small(Side::Top, false, std::nullopt);
}

TEST_CASE("so they do from below and under a foil") {
    check_small(Side::Bottom, true, std::nullopt);
}

TEST_CASE("so they do over a preheater that has soaked the board") {
    check_small(Side::Top, true, 120.0);
}

TEST_CASE("fifty boards with anything on both faces agree with the twin") {
    Differences most;
    for (unsigned seed = 1; seed <= 50; ++seed) {
        CAPTURE(seed);
        const Differences one = compare(random_case(seed), {seed % 4, (seed + 2) % 4}, {1.0, 6.0});
        CHECK(one.board_k < 0.5);
        CHECK(one.body_k < 0.8);
        most.board_k = std::max(most.board_k, one.board_k);
        most.body_k = std::max(most.body_k, one.body_k);
    }
    MESSAGE("largest difference: board " << most.board_k << " K, bodies " << most.body_k << " K");
}

TEST_CASE(
    "judging a far body by the board over it would err to the hot side in still air and to the cold over a preheater") {
    for (const std::optional<double> preheat_c : {std::optional<double>(), std::optional(200.0)}) {
        const Case c = small_case(Side::Top, false, preheat_c);
        const Result<HeatSetup> setup = heat_setup(c.chart, c.plan, c.options, 1.0);
        REQUIRE(setup.has_value());
        const HeatBody* far = setup->layout.body_of(document::Id{"j9"});
        REQUIRE(far != nullptr);
        REQUIRE(far->is_far);
        HeatModel model(setup->layout, setup->board, setup->cases.nominal, 25.0);
        const std::vector<double> soaked = start_state(model, *setup);
        std::vector<double> celsius = soaked;
        model.set_jet(jet_field(*setup, model), c.plan.aim);
        HeatSolver solver(model.network());
        const HeatStretch stretch[] = {{20.0, 0.25}};
        solver.run(celsius, stretch, [](double, std::span<const double>) {});
        double hottest_board = 0.0, hottest_body = 0.0;
        for (std::size_t k = far->first; k < far->first + far->count; ++k) {
            const auto above = static_cast<std::size_t>(
                setup->layout.plate.node_of_cell[setup->layout.body_nodes[k].patches.front().cell]);
            const std::size_t body = setup->layout.node_of_body(k);
            if (preheat_c) CHECK(soaked[body] > soaked[above]);
            hottest_board = std::max(hottest_board, celsius[above]);
            hottest_body = std::max(hottest_body, celsius[body]);
        }
        CAPTURE(hottest_board);
        CAPTURE(hottest_body);
        CHECK(hottest_body < std::max(hottest_board, preheat_c.value_or(0.0)) - 2.0);
    }
}
