// Cases side by side against each alone, steps that are cut, and what follows the hand.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "analysis/heat_run.hpp"
#include "heat_plate.hpp"
#include "heat_reference.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::analysis::test;

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
