// Heating and cooling against closed forms, orders of convergence, first law, and what must hold for any run.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

#include <boost/math/quadrature/tanh_sinh.hpp>

#include <Eigen/Cholesky>
#include <Eigen/SparseCholesky>

#include "heat_plate.hpp"

using namespace padchart::analysis;
namespace geometry = padchart::geometry;
using namespace padchart::analysis::test;
using doctest::Approx;

namespace {

// k = 30, 0.8 mm, rho c = 2.2e6, loss 24 W/(m2 K).
constexpr double kDiffusivity = 30.0 / 2.2e6;
constexpr double kArealHeat = 2.2e6 * 0.8e-3;
constexpr double kLoss = 24.0;

std::vector<double> state_after(HeatNetwork& network, double start_c, double seconds, double step) {
    HeatSolver solver(network);
    std::vector<double> t(network.size(), start_c);
    const HeatStretch stretch{seconds, step};
    solver.run(t, {&stretch, 1}, [](double, std::span<const double>) {});
    return t;
}

double integral(const auto& f, double from, double to) {
    boost::math::quadrature::tanh_sinh<double> rule;
    return rule.integrate(f, from, to);
}

} // namespace

TEST_CASE("a plate under even air rises exponentially") {
    // Lumped body, Incropera chapter 5: h1 = 300 to 280 C above, 24 to 25 C below; own arithmetic.
    Plate plate(box_region(0, 0, 4, 2), 1.0);
    plate.film(24, 25);
    plate.film_on(box_region(0, 0, 4, 2), 300, 280, 0, 0);
    HeatSolver solver(plate.network);
    CHECK(solver.steady()[0] == Approx(261.1111).epsilon(1e-6));
    std::vector<double> t = plate.start(25);
    const HeatStretch stretch{20, 0.05};
    double reached_138 = 0, reached_217 = 0, last_t = 25, last_time = 0;
    solver.run(t, {&stretch, 1}, [&](double time, std::span<const double> c) {
        const auto cross = [&](double level) {
            return last_time + (level - last_t) / (c[0] - last_t) * (time - last_time);
        };
        if (last_t < 138 && c[0] >= 138) reached_138 = cross(138);
        if (last_t < 217 && c[0] >= 217) reached_217 = cross(217);
        if (std::abs(time - 5) < 1e-9) CHECK(c[3] == Approx(167.0591).epsilon(1e-5));
        if (std::abs(time - 10) < 1e-9) CHECK(c[5] == Approx(223.6466).epsilon(1e-5));
        last_t = c[0];
        last_time = time;
    });
    CHECK(t[7] == Approx(255.1665).epsilon(1e-5));
    CHECK(reached_138 == Approx(3.537465).epsilon(1e-3));
    CHECK(reached_217 == Approx(9.112839).epsilon(1e-3));
}

TEST_CASE("a part between the air and a hot board") {
    // Lumped: 2500 J/(m2 K), 250 W/(m2 K) to 200 C, 300 to 300 C; own arithmetic.
    HeatNetwork network;
    network.add_node(2500);
    network.below.add(0, 250, 200);
    network.air.add(0, 300, 300);
    CHECK(state_after(network, 25, 10, 0.1)[0] == Approx(229.1111).epsilon(1e-4));
    HeatSolver solver(network);
    CHECK(solver.steady()[0] == Approx(254.5455).epsilon(1e-6));
}

TEST_CASE("a jolt of one joule spreads as from a point") {
    // Carslaw and Jaeger chapter X, with loss from both faces; own arithmetic for the numbers.
    Plate plate(box_region(0, 0, 60, 60), 0.5);
    plate.film(kLoss, 0);
    const auto exact = [](double r, double t) {
        return 1.0 / (4 * std::numbers::pi * kDiffusivity * t * kArealHeat) *
               std::exp(-r * r / (4 * kDiffusivity * t) - kLoss * t / kArealHeat);
    };
    CHECK(exact(0, 1) == Approx(3.270820).epsilon(1e-6));
    CHECK(exact(5e-3, 5) == Approx(0.565181).epsilon(1e-5));
    CHECK(exact(10e-3, 20) == Approx(0.115158).epsilon(1e-5));
    std::vector<double> t = plate.start(0);
    const std::size_t corner = plate.node_at({0.1, 0.1});
    t[corner] = 0.25 / plate.network.capacity_j_per_k[corner]; // a quarter of it in the quarter of the plate
    HeatSolver solver(plate.network);
    const HeatStretch stretches[] = {{1.0, 0.05}, {5.0, 0.1}};
    // The joule starts spread over one cell: as if it had been let go t0 = dx^2 / (12 alpha) earlier (equal variance).
    solver.run(t, stretches, [&](double time, std::span<const double> c) {
        if (std::abs(time - 5) > 1e-9) return;
        for (const double r : {5.25, 10.25})
            CHECK(c[plate.node_at({r, 0.1})] == Approx(exact(std::hypot(r, 0.25) * 1e-3, 5)).epsilon(0.01));
    });
}

TEST_CASE("a steady Gaussian source from its start") {
    // Integral of spreading Gaussians, Carslaw and Jaeger chapter X; own arithmetic.
    const double s = 3e-3;
    const auto exact = [&](double t) {
        return integral(
            [&](double tau) {
                return std::exp(-kLoss / kArealHeat * tau) /
                       (2 * std::numbers::pi * (s * s + 2 * kDiffusivity * tau) * kArealHeat);
            },
            0, t);
    };
    CHECK(exact(1) == Approx(4.597281).epsilon(1e-6));
    CHECK(exact(10) == Approx(11.031738).epsilon(1e-6));
    CHECK(exact(60) == Approx(15.097257).epsilon(1e-6));
    Plate plate(box_region(0, 0, 100, 100), 1.0);
    plate.film(kLoss, 0);
    for (std::size_t n = 0; n < plate.nodes.area_m2.size(); ++n) {
        const geometry::Vec2 p = plate.grid.centre(plate.nodes.cell_of_node[n]) * 1e-3;
        const double half = plate.grid.cell_mm * 0.5e-3;
        const auto share = [&](double x) {
            return 0.5 * (std::erf((x + half) / (s * std::numbers::sqrt2)) -
                          std::erf((x - half) / (s * std::numbers::sqrt2)));
        };
        plate.network.power_w[n] = share(p.x) * share(p.y);
    }
    HeatSolver solver(plate.network);
    std::vector<double> t = plate.start(0);
    const HeatStretch stretches[] = {{1.0, 0.1}, {10.0, 0.25}, {60, 1.0}};
    // The hottest cell's mean lies below the centre's value by its curvature: dx^2 / 12 of q / (k t) over four.
    solver.run(t, stretches, [&](double time, std::span<const double> c) {
        for (const double moment : {1.0, 10.0, 60.0})
            if (std::abs(time - moment) < 1e-9)
                CHECK(c[plate.node_at({0.1, 0.1})] == Approx(exact(moment)).epsilon(0.015));
    });
}

TEST_CASE("a steady point source near its start and much later") {
    // The same integral as Hantush's leaky well (1956); own arithmetic.
    const auto exact = [](double r, double t) {
        const double beta = std::sqrt(kLoss / 0.024) * r;
        const double u = r * r / (4 * kDiffusivity * t);
        // y = 1 / z turns the range into a finite one.
        const double w = integral([&](double z) { return std::exp(-1 / z - beta * beta * z / 4) / z; }, 1e-9, 1 / u);
        return w / (4 * std::numbers::pi * 0.024);
    };
    CHECK(exact(5e-3, 1) == Approx(2.018995).epsilon(1e-5));
    CHECK(exact(5e-3, 60) == Approx(12.131296).epsilon(1e-5));
    CHECK(exact(10e-3, 60) == Approx(7.805188).epsilon(1e-5));
    Plate plate(box_region(0, 0, 110, 110), 1.0);
    plate.film(kLoss, 0);
    plate.network.power_w[plate.node_at({0.1, 0.1})] = 0.25;
    HeatSolver solver(plate.network);
    std::vector<double> t = plate.start(0);
    const HeatStretch stretches[] = {{1, 0.1}, {10.0, 0.25}, {60, 1.0}};
    solver.run(t, stretches, [&](double time, std::span<const double> c) {
        if (std::abs(time - 10) > 1e-9 && std::abs(time - 60) > 1e-9) return;
        for (const double r : {5.5, 10.5})
            CHECK(c[plate.node_at({r, 0.1})] == Approx(exact(std::hypot(r, 0.5) * 1e-3, time)).epsilon(0.01));
    });
}

TEST_CASE("a warm patch after ten seconds against the cosine series") {
    // As in the steady case, each term with its own 1 - exp; own arithmetic.
    Plate plate(box_region(0, 0, 60, 30), 0.5);
    plate.film(kLoss, 0.0);
    plate.flux_on(box_region(27.5, 12.5, 32.5, 17.5), 40000);
    const std::vector<double> t = state_after(plate.network, 0, 10, 0.25);
    CHECK(value_at(plate, t, {30, 15}) == Approx(15.44280).epsilon(0.002));
    CHECK(value_at(plate, t, {35, 15}) == Approx(8.55781).epsilon(0.002));
    CHECK(value_at(plate, t, {45, 22.5}) == Approx(2.12443).epsilon(0.004));
    CHECK(t[plate.node_at({0.1, 0.1})] == Approx(0.55687).epsilon(0.01));
    CHECK(t[plate.node_at({59.9, 15})] == Approx(0.59969).epsilon(0.01));
}

namespace {

/// A board with a slot under air that falls off from a spot, with radiation: nothing about it is simple.
Plate rough_board(double cell_mm) {
    geometry::Region outline = box_region(0, 0, 24, 14);
    outline[0].holes.push_back({{15, 2}, {16, 2}, {16, 11}, {15, 11}});
    Plate plate(outline, cell_mm);
    plate.film(6, 25);
    for (std::size_t n = 0; n < plate.nodes.area_m2.size(); ++n) {
        const geometry::Vec2 p = plate.grid.centre(plate.nodes.cell_of_node[n]);
        const double r = geometry::distance(p, {10, 6});
        plate.network.air.add(n, 400 / (1 + r) * plate.nodes.area_m2[n], 25 + 300 / (1 + 0.1 * r));
        plate.network.radiance_w_per_k4[n] = 1.8 * kStefanBoltzmann * plate.nodes.area_m2[n];
    }
    return plate;
}

} // namespace

TEST_CASE("halving the step divides the error by four") {
    Plate plate = rough_board(1.0);
    const std::vector<double> exact = state_after(plate.network, 25, 8, 0.02);
    double error[3] = {};
    const double step[3] = {1.0, 0.5, 0.25};
    for (int i = 0; i < 3; ++i) {
        const std::vector<double> t = state_after(plate.network, 25, 8, step[i]);
        for (std::size_t n = 0; n < t.size(); ++n)
            error[i] = std::max(error[i], std::abs(t[n] - exact[n]));
    }
    CHECK(error[1] < 0.15);
    CHECK(error[0] / error[1] > 3.0);
    CHECK(error[1] / error[2] > 3.0);
}

TEST_CASE("first law over a run with radiation and over its cooling") {
    Plate plate = rough_board(1.0);
    HeatSolver solver(plate.network);
    std::vector<double> t = plate.start(25);
    const HeatStretch stretches[] = {{2, 0.25}, {30, 0.5}};
    const HeatBalance heating = solver.run(t, stretches, [](double, std::span<const double>) {});
    CHECK(heating.from_air_j > 50);
    CHECK(std::abs(heating.residual_j()) < 1e-3 * heating.from_air_j);
    // Cooling must give back what was stored, less what is left.
    const double stored = heating.stored_j;
    plate.network.air.resize(plate.network.size());
    const HeatStretch cooling_stretch{600, 2.0};
    const HeatBalance cooling = solver.run(t, {&cooling_stretch, 1}, [](double, std::span<const double>) {});
    CHECK(cooling.from_air_j == 0.0);
    CHECK(-cooling.stored_j == Approx(stored).epsilon(0.02));
    CHECK(std::abs(cooling.residual_j()) < 2e-3 * stored);
}

TEST_CASE("without radiation the first law holds to rounding") {
    Plate plate = rough_board(1.0);
    std::fill(plate.network.radiance_w_per_k4.begin(), plate.network.radiance_w_per_k4.end(), 0.0);
    HeatSolver solver(plate.network);
    std::vector<double> t = plate.start(25);
    const HeatStretch stretch{20, 0.5};
    const HeatBalance balance = solver.run(t, {&stretch, 1}, [](double, std::span<const double>) {});
    CHECK(std::abs(balance.residual_j()) < 1e-9 * balance.from_air_j);
    CHECK(balance.largest_step_residual_w < 1e-8);
}

TEST_CASE("from cold a board only rises and stays below its steady state") {
    // Comparison principle for parabolic equations (Protter and Weinberger, Maximum Principles).
    Plate plate = rough_board(1.0);
    HeatSolver solver(plate.network);
    const std::vector<double> bound = solver.steady();
    std::vector<double> t = plate.start(25);
    std::vector<double> last = t;
    const HeatStretch stretches[] = {{2, 0.25}, {60, 0.5}};
    bool rises = true, bounded = true;
    solver.run(t, stretches, [&](double, std::span<const double> c) {
        for (std::size_t n = 0; n < c.size(); ++n) {
            rises = rises && c[n] >= last[n] - 1e-3;
            bounded = bounded && c[n] <= bound[n] + 2e-3;
            last[n] = c[n];
        }
    });
    CHECK(rises);
    CHECK(bounded);
}

TEST_CASE("without radiation temperatures scale with the air's") {
    Plate plate = rough_board(1.0);
    std::fill(plate.network.radiance_w_per_k4.begin(), plate.network.radiance_w_per_k4.end(), 0.0);
    const std::vector<double> once = state_after(plate.network, 25, 12, 0.5);
    for (std::size_t n = 0; n < once.size(); ++n)
        plate.network.air.w[n] =
            1.5 * (plate.network.air.w[n] - 25 * plate.network.air.w_per_k[n]) + 25 * plate.network.air.w_per_k[n];
    const std::vector<double> more = state_after(plate.network, 25, 12, 0.5);
    for (std::size_t n = 0; n < once.size(); n += 7)
        CHECK(more[n] - 25 == Approx(1.5 * (once[n] - 25)).epsilon(1e-9));
}

TEST_CASE("the same run gives the same bits") {
    Plate plate = rough_board(0.7);
    CHECK(state_after(plate.network, 25, 10, 0.5) == state_after(plate.network, 25, 10, 0.5));
}

TEST_CASE("the factored run agrees with a plain dense backward Euler of tiny steps") {
    // Twin: no ordering, no sparsity, no splitting of radiation.
    Plate plate = rough_board(3.0);
    const auto n = static_cast<Eigen::Index>(plate.network.size());
    Eigen::MatrixXd a = Eigen::MatrixXd::Zero(n, n);
    for (const HeatLink& link : plate.network.links) {
        const auto i = static_cast<Eigen::Index>(link.a);
        const auto j = static_cast<Eigen::Index>(link.b);
        a(i, i) += link.w_per_k;
        a(j, j) += link.w_per_k;
        a(i, j) -= link.w_per_k;
        a(j, i) -= link.w_per_k;
    }
    Eigen::VectorXd capacity(n), t = Eigen::VectorXd::Constant(n, 25.0);
    for (Eigen::Index i = 0; i < n; ++i) {
        const auto k = static_cast<std::size_t>(i);
        a(i, i) += plate.network.air.w_per_k[k] + plate.network.below.w_per_k[k];
        capacity[i] = plate.network.capacity_j_per_k[k];
    }
    const double dt = 0.0005;
    Eigen::MatrixXd m = a;
    m.diagonal() += capacity / dt;
    const Eigen::LLT<Eigen::MatrixXd> factor(m);
    for (int step = 0; step < 8000; ++step) {
        Eigen::VectorXd side = capacity.cwiseProduct(t) / dt;
        for (Eigen::Index i = 0; i < n; ++i) {
            const auto k = static_cast<std::size_t>(i);
            side[i] += plate.network.air.w[k] + plate.network.below.w[k] -
                       plate.network.radiance_w_per_k4[k] * (std::pow(t[i] + 273.15, 4) - std::pow(298.15, 4));
        }
        factor.solveInPlace(side);
        t = side;
    }
    const std::vector<double> ours = state_after(plate.network, 25, 4, 0.25);
    for (Eigen::Index i = 0; i < n; ++i)
        CHECK(ours[static_cast<std::size_t>(i)] == Approx(t[i]).epsilon(0.0005));
}

TEST_CASE("solving into the vector on the right-hand side is the trap that the solver avoids") {
    // x = solve(expression of x) lets Eigen overwrite what it still has to read. The solver works in place on one
    // vector instead; this compares it, step by step, with right-hand sides held in vectors of their own.
    Plate plate = rough_board(2.0);
    std::fill(plate.network.radiance_w_per_k4.begin(), plate.network.radiance_w_per_k4.end(), 0.0);
    using Matrix = Eigen::SparseMatrix<double>;
    const auto n = static_cast<Eigen::Index>(plate.network.size());
    std::vector<Eigen::Triplet<double>> entries;
    Eigen::VectorXd capacity(n), fixed(n);
    for (const HeatLink& link : plate.network.links) {
        const int i = static_cast<int>(link.a), j = static_cast<int>(link.b);
        entries.emplace_back(i, i, link.w_per_k);
        entries.emplace_back(j, j, link.w_per_k);
        entries.emplace_back(i, j, -link.w_per_k);
        entries.emplace_back(j, i, -link.w_per_k);
    }
    for (int i = 0; i < static_cast<int>(n); ++i) {
        const auto k = static_cast<std::size_t>(i);
        entries.emplace_back(i, i, plate.network.air.w_per_k[k] + plate.network.below.w_per_k[k]);
        fixed[i] = plate.network.air.w[k] + plate.network.below.w[k];
        capacity[i] = plate.network.capacity_j_per_k[k];
    }
    Matrix a(n, n);
    a.setFromTriplets(entries.begin(), entries.end());
    const double dt = 0.5, gamma = 2 - std::numbers::sqrt2, w = gamma * dt / 2;
    Matrix m = a;
    for (int i = 0; i < static_cast<int>(n); ++i)
        m.coeffRef(i, i) += capacity[i] / w;
    const Eigen::SimplicialLDLT<Matrix> factor(m);
    Eigen::VectorXd t = Eigen::VectorXd::Constant(n, 25.0);
    const double c1 = 1 / (gamma * (2 - gamma)), c0 = c1 * (1 - gamma) * (1 - gamma);
    for (int step = 0; step < 20; ++step) {
        const Eigen::VectorXd first = capacity.cwiseProduct(t) / w - a * t + 2 * fixed;
        const Eigen::VectorXd stage = factor.solve(first);
        const Eigen::VectorXd second = capacity.cwiseProduct(c1 * stage - c0 * t) / w + fixed;
        t = factor.solve(second);
    }
    const std::vector<double> ours = state_after(plate.network, 25, 10, dt);
    for (Eigen::Index i = 0; i < n; ++i)
        CHECK(ours[static_cast<std::size_t>(i)] == Approx(t[i]).epsilon(1e-10));
}
