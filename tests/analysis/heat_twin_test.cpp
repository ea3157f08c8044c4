// The production run against a slow obvious twin: the same physics written down once more, cell by cell, from the
// description of the model and not from its network; Runge-Kutta steps of ten milliseconds, no matrix anywhere.
// Shared with the product are the formulas of the jet and the data of the bodies, which have tests of their own.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "analysis/heat_run.hpp"
#include "heat_plate.hpp"
#include "heat_reference.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::analysis::test;
using document::Side;
using geometry::Vec2;

namespace {

constexpr int kWide = 24, kHigh = 14;
constexpr double kRoom_c = 25.0, kCell_m = 1e-3;

struct Rect {
    int x0, y0, x1, y1; // cells, half open
    [[nodiscard]] bool has(int i, int j) const { return i >= x0 && i < x1 && j >= y0 && j < y1; }
};
constexpr Rect kChip{9, 6, 10, 7};
constexpr Rect kSocket{13, 3, 19, 11};
constexpr Rect kFoil{12, 2, 16, 12};
constexpr Rect kSlot{4, 0, 5, 8}; // cut into the board

document::Chart small_chart(Side side) {
    document::Chart chart;
    chart.scale = document::Scale{};
    chart.board.outline =
        geometry::Polygon{{{0, 0}, {4, 0}, {4, 8}, {5, 8}, {5, 0}, {kWide, 0}, {kWide, kHigh}, {0, kHigh}}, {}};
    chart.board.stack.thickness_mm = 0.8;
    chart.board.stack.conductivity_w_per_m_k = 30;
    chart.board.stack.heat_capacity_j_per_m3_k = 2.2e6;
    document::Footprint chip = block("r1", document::PartClass::Resistor, {9.5, 6.5}, 1, 1, 0.6);
    document::Footprint socket = block("j2", document::PartClass::Connector, {16, 7}, 6, 8, 1.2);
    document::Footprint behind = block("j9", document::PartClass::Connector, {16, 7}, 6, 8, 1.2);
    chip.placement.side = socket.placement.side = side;
    behind.placement.side = side == Side::Top ? Side::Bottom : Side::Top;
    for (const auto& part : {chip, socket, behind})
        chart.parts.add(part);
    document::Shield foil;
    foil.id.text = foil.name = "foil";
    foil.side = side;
    foil.outline = {{{12, 2}, {16, 2}, {16, 12}, {12, 12}}, {}};
    chart.shields.add(foil);
    return chart;
}

document::HeatPlan small_plan(Side side, bool with_foil, std::optional<double> preheat_c) {
    document::HeatPlan plan;
    plan.target.text = "r1";
    plan.side = side;
    plan.aim = {9.8, 6.3};
    plan.set_point_c = 380;
    plan.nozzle_bore_mm = 4;
    plan.dwell_s = 20;
    plan.preheat_c = preheat_c;
    if (with_foil) plan.shields.push_back({"foil"});
    return plan;
}

/// Board cells, then a node for the chip, then one for each cell of the socket.
class Twin {
public:
    Twin(const HeatSetup& setup, const HeatCase& unknowns, bool with_foil)
        : setup_(setup), case_(unknowns), with_foil_(with_foil),
          flow_(jet_flow({setup.plan.set_point_c, setup.plan.flow_l_per_min, setup.plan.nozzle_bore_mm,
                          setup.plan.stand_off_mm, kRoom_c, unknowns.exit_factor})) {
        for (int j = 0; j < kHigh; ++j)
            for (int i = 0; i < kWide; ++i)
                if (!kSlot.has(i, j)) board_[{i, j}] = count_++;
        chip_ = count_++;
        for (int j = kSocket.y0; j < kSocket.y1; ++j)
            for (int i = kSocket.x0; i < kSocket.x1; ++i)
                socket_[{i, j}] = count_++;
        for (const auto& [cell, node] : board_)
            meet_jet(cell);
        if (setup.plan.preheat_c)
            soak();
        else
            t_.assign(count_, kRoom_c);
    }

    void run(double until_s) {
        constexpr double dt = 0.01;
        std::vector<double> a(count_), b(count_), c(count_), d(count_), at(count_);
        for (; now_s_ < until_s - dt / 2; now_s_ += dt) {
            rates(t_, a, true);
            shifted(a, dt / 2, at);
            rates(at, b, true);
            shifted(b, dt / 2, at);
            rates(at, c, true);
            shifted(c, dt, at);
            rates(at, d, true);
            for (std::size_t n = 0; n < count_; ++n)
                t_[n] += dt / 6 * (a[n] + 2 * b[n] + 2 * c[n] + d[n]);
        }
    }

    [[nodiscard]] double joint() const { return t_[board_.at({kChip.x0, kChip.y0})]; }
    [[nodiscard]] double socket() const {
        double hottest = -1e9;
        for (const auto& [cell, node] : socket_)
            hottest = std::max(hottest, t_[node]);
        return hottest;
    }
    /// What stands on the far side is as hot as the board there; over a preheater it lies between board and plate.
    [[nodiscard]] double behind() const {
        double hottest = -1e9;
        for (const auto& [cell, node] : socket_)
            hottest = std::max(hottest, t_[board_.at(cell)]);
        return setup_.plan.preheat_c ? std::max(hottest, (*setup_.plan.preheat_c + hottest) / 2) : hottest;
    }

private:
    using Cell = std::pair<int, int>;
    struct Air {
        double h = 0.0, ht = 0.0, board_h = 0.0, board_ht = 0.0;
    };

    [[nodiscard]] const BodyData& data(const char* id) const { return setup_.layout.body_of(document::Id{id})->data; }
    [[nodiscard]] double entrained() const {
        return setup_.plan.preheat_c ? kRoom_c + case_.entrainment * (*setup_.plan.preheat_c - kRoom_c) : kRoom_c;
    }
    [[nodiscard]] double film_resistance() const {
        return setup_.board.thickness_mm * 1e-3 / (3 * setup_.board.through_conductivity_w_per_m_k);
    }

    void meet_jet(const Cell& cell) {
        constexpr int kSamples = 24;
        const double bore = setup_.plan.nozzle_bore_mm, ratio = setup_.plan.stand_off_mm / bore;
        Air mean;
        for (int a = 0; a < kSamples; ++a)
            for (int b = 0; b < kSamples; ++b) {
                const Vec2 p{cell.first + (a + 0.5) / kSamples, cell.second + (b + 0.5) / kSamples};
                const double x = geometry::distance(p, setup_.plan.aim) / bore;
                const double nu = martin_local_nusselt(x, ratio, flow_.reynolds, flow_.prandtl);
                const double h = case_.h_factor * nu * flow_.air_conductivity / (bore * 1e-3);
                const double air = entrained() + effectiveness(x, ratio, case_.spread) * (flow_.exit_c - entrained());
                const double through = h / (1 + h * film_resistance());
                mean.h += h;
                mean.ht += h * air;
                mean.board_h += through;
                mean.board_ht += through * air;
            }
        for (double* value : {&mean.h, &mean.ht, &mean.board_h, &mean.board_ht})
            *value /= kSamples * kSamples;
        air_[cell] = mean;
    }

    [[nodiscard]] double grey(double emissivity, double celsius) const {
        return emissivity * kStefanBoltzmann * (std::pow(celsius + 273.15, 4) - std::pow(kRoom_c + 273.15, 4));
    }
    [[nodiscard]] double bare(int i, int j) const { return with_foil_ && kFoil.has(i, j) ? case_.shield_h : 1.0; }
    [[nodiscard]] bool is_covered(int i, int j) const { return kChip.has(i, j) || kSocket.has(i, j); }

    void rates(const std::vector<double>& t, std::vector<double>& rate, bool jet) const {
        const double cell_m2 = kCell_m * kCell_m, thick = setup_.board.thickness_mm * 1e-3;
        std::vector<double> watts(count_, 0.0);
        const auto pass = [&](std::size_t a, std::size_t b, double g) {
            watts[a] += g * (t[b] - t[a]);
            watts[b] += g * (t[a] - t[b]);
        };
        for (const auto& [cell, n] : board_) {
            const auto [i, j] = cell;
            for (const Cell& next : {Cell{i + 1, j}, Cell{i, j + 1}})
                if (const auto found = board_.find(next); found != board_.end())
                    pass(n, found->second, case_.conductivity * thick);
            const bool heated = setup_.plan.preheat_c.has_value();
            watts[n] += cell_m2 * (heated ? kPreheater_h * (*setup_.plan.preheat_c - t[n])
                                          : kStillAir_h * (kRoom_c - t[n]) - grey(case_.emissivity, t[n]));
            if (is_covered(i, j)) continue;
            watts[n] -= cell_m2 * grey(case_.emissivity, t[n]);
            const Air& air = air_.at(cell);
            watts[n] +=
                cell_m2 * (jet ? bare(i, j) * (air.board_ht - air.board_h * t[n]) : kStillAir_h * (kRoom_c - t[n]));
        }
        body(data("r1"), chip_, {kChip.x0, kChip.y0}, kChip, t, watts, jet);
        for (const auto& [cell, n] : socket_) {
            body(data("j2"), n, cell, kSocket, t, watts, jet);
            for (const Cell& next : {Cell{cell.first + 1, cell.second}, Cell{cell.first, cell.second + 1}})
                if (const auto found = socket_.find(next); found != socket_.end())
                    pass(n, found->second, data("j2").conductivity * data("j2").height_m);
        }
        for (const auto& [cell, n] : board_)
            rate[n] = watts[n] / (case_.heat_capacity * thick * cell_m2);
        rate[chip_] = watts[chip_] / (data("r1").heat_capacity * data("r1").height_m * cell_m2);
        for (const auto& [cell, n] : socket_)
            rate[n] = watts[n] / (data("j2").heat_capacity * data("j2").height_m * cell_m2);
    }

    void body(const BodyData& of, std::size_t n, const Cell& cell, const Rect& whole, const std::vector<double>& t,
              std::vector<double>& watts, bool jet) const {
        const double cell_m2 = kCell_m * kCell_m;
        const auto [i, j] = cell;
        const std::size_t under = board_.at(cell);
        const double through = of.contact[case_.contact + 1] * cell_m2 * (t[under] - t[n]);
        watts[n] += through;
        watts[under] -= through;
        watts[n] -= cell_m2 * grey(std::min(of.emissivity, case_.emissivity), t[n]);
        if (!jet) {
            watts[n] += cell_m2 * kStillAir_h * (kRoom_c - t[n]);
            return;
        }
        const Air& air = air_.at(cell);
        double meets = cell_m2 * bare(i, j);
        struct Wall {
            int dx, dy;
            Vec2 middle;
        };
        for (const Wall& wall : {Wall{-1, 0, {double(i), j + 0.5}}, Wall{1, 0, {i + 1.0, j + 0.5}},
                                 Wall{0, -1, {i + 0.5, double(j)}}, Wall{0, 1, {i + 0.5, j + 1.0}}}) {
            if (!of.has_wall || whole.has(i + wall.dx, j + wall.dy)) continue;
            // The foil hangs over the walls below it; its rim lies beyond the socket's.
            if (with_foil_ && wall.middle.x > kFoil.x0 && wall.middle.x < kFoil.x1 && wall.middle.y > kFoil.y0 &&
                wall.middle.y < kFoil.y1)
                continue;
            const Vec2 to = setup_.plan.aim - wall.middle;
            const double facing = (wall.dx * to.x + wall.dy * to.y) / geometry::length(to);
            if (facing > 0) meets += facing * kCell_m * of.height_m;
        }
        watts[n] += meets * (air.ht - air.h * t[n]);
    }

    void shifted(const std::vector<double>& rate, double by_s, std::vector<double>& out) const {
        for (std::size_t n = 0; n < count_; ++n)
            out[n] = t_[n] + by_s * rate[n];
    }

    /// Over the preheater in still air until nothing moves any more.
    void soak() {
        t_.assign(count_, kRoom_c);
        std::vector<double> rate(count_);
        for (int step = 0; step < 400000; ++step) {
            rates(t_, rate, false);
            double fastest = 0.0;
            for (std::size_t n = 0; n < count_; ++n) {
                t_[n] += 0.01 * rate[n];
                fastest = std::max(fastest, std::abs(rate[n]));
            }
            if (fastest < 1e-3) return; // 0.04 K from there, by the board's own time
        }
        FAIL("does not come to rest");
    }

    const HeatSetup& setup_;
    HeatCase case_;
    bool with_foil_;
    JetFlow flow_;
    std::size_t count_ = 0, chip_ = 0;
    std::map<Cell, std::size_t> board_, socket_;
    std::map<Cell, Air> air_;
    std::vector<double> t_;
    double now_s_ = 0.0;
};

double seen_at(const CaseRun& run, const Trace& trace, double time_s) {
    for (std::size_t k = 0; k < trace.size(); ++k)
        if (std::abs(run.time_s[k] - time_s) < 1e-6) return trace[k];
    FAIL("no such time");
    return 0.0;
}

void compare(Side side, bool with_foil, std::optional<double> preheat_c) {
    CAPTURE(with_foil);
    const document::Chart chart = small_chart(side);
    HeatOptions options;
    options.cool_s = 0.0;
    const Result<HeatSetup> setup = heat_setup(chart, small_plan(side, with_foil, preheat_c), options, 1.0);
    REQUIRE(setup.has_value());
    REQUIRE(setup->neighbours.size() == 2);
    const auto runs = run_cases(*setup);
    REQUIRE(runs.has_value());
    const HeatCases& cases = setup->cases;
    const HeatCase* unknowns[] = {&cases.low, &cases.nominal, &cases.high, &cases.high_spread};
    for (std::size_t k = 0; k < 4; ++k) {
        CAPTURE(k);
        const CaseRun& run = (*runs)[k];
        Twin twin(*setup, *unknowns[k], with_foil);
        for (const double time : {2.0, 10.0, 20.0}) {
            twin.run(time);
            // A third of a degree: what the quadrature of the jet within a cell and the steps leave together.
            CHECK(std::abs(seen_at(run, run.joint_mean[0], time) - twin.joint()) < 0.35);
            CHECK(std::abs(seen_at(run, run.neighbour[0], time) - twin.socket()) < 0.5);
            CHECK(std::abs(seen_at(run, run.neighbour[1], time) - twin.behind()) < 0.35);
        }
    }
}

} // namespace

TEST_CASE("chip socket and far side agree with an obvious explicit twin in all four cases") {
    compare(Side::Top, false, std::nullopt);
}

TEST_CASE("so they do from below and under a foil") {
    compare(Side::Bottom, true, std::nullopt);
}

TEST_CASE("so they do over a preheater that has soaked the board") {
    compare(Side::Top, true, 120.0);
}

namespace {

/// Four plates that differ in everything but their links.
struct FourPlates {
    std::vector<Plate> plates;
    std::array<const HeatNetwork*, 4> networks{};

    FourPlates() {
        plates.reserve(4);
        for (int k = 0; k < 4; ++k) {
            const geometry::Region outline = {{{{0, 0}, {14, 0}, {14, 9}, {9, 9}, {9, 5}, {0, 5}}, {}}};
            Plate& plate = plates.emplace_back(outline, 1.0, PlateData{0.8e-3, 10.0 + 12 * k, (1.8 + 0.2 * k) * 1e6});
            plate.film_on(disc_region({4, 3}, 2), 300 + 50 * k, 280 + 20 * k, 8, 25);
            plate.film(6, 25);
            for (std::size_t n = 0; n < plate.network.size(); ++n)
                plate.network.radiance_w_per_k4[n] = (0.5 + 0.1 * k) * kStefanBoltzmann * 1e-6;
            // Something small and quick on top, and something that hangs on a thread.
            for (const double tie : {0.05, 0.001}) {
                const std::size_t node = plate.network.add_node(1e-3);
                plate.network.links.push_back({plate.node_at({4.5, 3.5}), node, tie * (1 + k)});
                plate.network.air.add(node, 5e-4, 300);
            }
            networks[static_cast<std::size_t>(k)] = &plate.network;
        }
    }
};

/// The plain solver with steps a hundred times as fine.
std::vector<double> exact(const HeatNetwork& network, double until_s) {
    HeatSolver solver(network);
    std::vector<double> t(network.size(), 25.0);
    const HeatStretch fine[] = {{0.5, 0.0025}, {until_s, 0.02}};
    solver.run(t, fine, [](double, std::span<const double>) {});
    return t;
}

double largest_difference(const std::vector<double>& a, const std::vector<double>& b) {
    double largest = 0.0;
    for (std::size_t k = 0; k < a.size(); ++k)
        largest = std::max(largest, std::abs(a[k] - b[k]));
    return largest;
}

std::array<std::vector<double>, 4> cold(const FourPlates& four) {
    std::array<std::vector<double>, 4> t;
    t.fill(std::vector<double>(four.networks[0]->size(), 25.0));
    return t;
}

} // namespace

TEST_CASE("four cases side by side end where each ends alone and so do the times in between") {
    const FourPlates four;
    LaneSolver<float, 4> quick(four.networks);
    LaneSolver<double, 2> kept({four.networks[2], four.networks[3]});
    StepControl control;
    control.seen_every_s = 1.0;
    auto t = cold(four);
    int seen = 0;
    const auto stretches = growing_stretches(30.0, {0.25, 1.0, 4.0});
    const auto balance =
        quick.run(t, stretches, control, [&](double time, const std::array<std::vector<double>, 4>& now) {
            if (std::abs(time - 19.0) > 1e-6 && std::abs(time - 7.0) > 1e-6) return; // 19 s lies within a step
            ++seen;
            for (std::size_t k = 0; k < 4; ++k)
                CHECK(largest_difference(now[k], exact(*four.networks[k], time)) < 0.15);
        });
    CHECK(seen == 2);
    CHECK(balance.is_finished);
    for (std::size_t k = 0; k < 4; ++k)
        CHECK(largest_difference(t[k], exact(*four.networks[k], 30.0)) < 0.05);
    std::array<std::vector<double>, 2> two = {std::vector<double>(t[0].size(), 25.0),
                                              std::vector<double>(t[0].size(), 25.0)};
    const auto of_two = kept.run(two, stretches, control, [](double, const auto&) {});
    for (std::size_t k = 0; k < 2; ++k) {
        CHECK(largest_difference(two[k], exact(*four.networks[k + 2], 30.0)) < 0.05);
        CHECK(std::abs(of_two.cases[k].residual_j()) < 1e-3 * of_two.cases[k].from_air_j);
        CHECK(of_two.cases[k].from_air_j == doctest::Approx(balance.cases[k + 2].from_air_j).epsilon(1e-4));
    }
}

TEST_CASE("a step that errs is cut until it errs by less than is allowed") {
    const FourPlates four;
    LaneSolver<float, 4> solver(four.networks);
    const HeatStretch coarse[] = {{16.0, 4.0}};
    double errors[3];
    StepControl controls[3];
    controls[0].most_cuts = 0;
    controls[1].most_error_k = 0.5;
    controls[1].most_cuts = 6;
    controls[2].most_error_k = 0.02;
    controls[2].most_cuts = 6;
    for (int c = 0; c < 3; ++c) {
        auto t = cold(four);
        double worst = 0.0;
        const auto balance =
            solver.run(t, coarse, controls[c], [&](double time, const std::array<std::vector<double>, 4>& now) {
                if (std::abs(time - 4.0) < 1e-6)
                    for (std::size_t k = 0; k < 4; ++k)
                        worst = std::max(worst, largest_difference(now[k], exact(*four.networks[k], time)));
            });
        errors[c] = worst;
        CHECK((c == 0) == (balance.cut_steps == 0));
        CHECK(balance.largest_step_error_k <= controls[c].most_error_k);
    }
    CHECK(errors[0] > 1.0);
    CHECK(errors[1] < 1.0);
    CHECK(errors[2] < 0.05);
}

TEST_CASE("the steady states of four cases are those of the plain solver") {
    const FourPlates four;
    LaneSolver<float, 4> quick(four.networks);
    LaneSolver<double, 2> kept({four.networks[0], four.networks[3]});
    const auto coarse = quick.steady();
    const auto fine = kept.steady();
    for (std::size_t k = 0; k < 4; ++k)
        CHECK(largest_difference(coarse[k], HeatSolver(*four.networks[k]).steady()) < 0.05);
    CHECK(largest_difference(fine[0], HeatSolver(*four.networks[0]).steady()) < 1e-4);
    CHECK(largest_difference(fine[1], HeatSolver(*four.networks[3]).steady()) < 1e-4);
}

TEST_CASE("a run that is told to stop ends within a step and says so") {
    document::Chart chart = reference_chart(3);
    HeatOptions options;
    std::stop_source source;
    source.request_stop();
    options.stop = source.get_token();
    const Result<HeatReport> report = heat(chart, reference_plan(380), options);
    REQUIRE(!report.has_value());
    CHECK(report.error().where == "stop");
}

TEST_CASE("steps of three lengths fill any time exactly") {
    for (const double length : {0.0, 0.1, 0.5, 1.0, 2.0, 7.3, 16.0, 45.0, 45.5, 60.0, 1800.0}) {
        CAPTURE(length);
        const auto stretches = growing_stretches(length, {0.25, 1.0, 4.0});
        double now = 0.0;
        for (const HeatStretch& stretch : stretches) {
            const EqualSteps steps = equal_steps(stretch.until_s - now, stretch.step_s);
            CHECK(steps.step_s == doctest::Approx(stretch.step_s));
            now = stretch.until_s;
        }
        CHECK(now == doctest::Approx(length));
    }
}

TEST_CASE("what follows the hand is within a few degrees of the fine answer") {
    const document::Chart chart = reference_chart(3);
    HeatOptions quick, fine;
    quick.resolution = Resolution::Live;
    fine.resolution = Resolution::Working;
    quick.cool_s = fine.cool_s = 20.0;
    const Result<HeatReport> a = heat(chart, reference_plan(380, 30), quick);
    const Result<HeatReport> b = heat(chart, reference_plan(380, 30), fine);
    REQUIRE(a.has_value());
    REQUIRE(b.has_value());
    CHECK(std::abs(a->target.peak_mean_c.nominal - b->target.peak_mean_c.nominal) < 2.0);
    CHECK(std::abs(a->target.peak_mean_c.high - b->target.peak_mean_c.high) < 2.5);
    // The edge of a plastic body gets hotter the finer it is cut.
    CHECK(std::abs(a->neighbours[0].peak_c.nominal - b->neighbours[0].peak_c.nominal) < 8.0);
    CHECK(*a->target.time_to_liquidus_s.high == doctest::Approx(*b->target.time_to_liquidus_s.high).epsilon(0.1));
    CHECK(b->largest_step_error_k <= 0.2);
    CHECK(std::abs(a->energy.residual_j) < 2e-3 * a->energy.from_air_j);
}
