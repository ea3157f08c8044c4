// Steady cases with closed forms, the grid solver against them. Bessel functions by Boost.Math.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include <boost/math/special_functions/bessel.hpp>

#include "heat_plate.hpp"

using namespace padchart::analysis;
namespace geometry = padchart::geometry;
using namespace padchart::analysis::test;
using doctest::Approx;

namespace {

double bessel_i(int order, double x) {
    return boost::math::cyl_bessel_i(order, x);
}
double bessel_k(int order, double x) {
    return boost::math::cyl_bessel_k(order, x);
}

// k = 30 W/(m K), 0.8 mm: k t = 0.024 W/K. Loss 24 W/(m2 K) to 25 C.
constexpr double kSheet = 0.024;
constexpr double kLoss = 24.0;
constexpr double kRoom = 25.0;
const double kDecay = std::sqrt(kLoss / kSheet);

/// Disc of radius 5 mm under (400, 300), the rest of an infinite plate under (24, 25).
struct HeatedDisc {
    double a = 5e-3, h1 = 400, t1 = 300, t2 = kRoom;
    double m1 = std::sqrt(400 / kSheet);
    double inner = 0, outer = 0;

    HeatedDisc() {
        // T and its slope are continuous at r = a.
        const double i0 = bessel_i(0, m1 * a), i1 = m1 * bessel_i(1, m1 * a);
        const double k0 = bessel_k(0, kDecay * a), k1 = -kDecay * bessel_k(1, kDecay * a);
        const double det = i0 * -k1 + k0 * i1;
        inner = (t2 - t1) * -k1 / det;
        outer = (t2 - t1) * -i1 / det;
    }
    [[nodiscard]] double at(double r) const {
        return r < a ? t1 + inner * bessel_i(0, m1 * r) : t2 + outer * bessel_k(0, kDecay * r);
    }
};

/// Quarter of a large plate about the origin; its inner edges are lines of symmetry.
Plate quarter(double size_mm, double cell_mm) {
    return Plate(box_region(0, 0, size_mm, size_mm), cell_mm);
}

double worst_error(const Plate& plate, const std::vector<double>& celsius, const auto& exact, double reach_mm) {
    double worst = 0.0;
    for (std::size_t n = 0; n < plate.nodes.area_m2.size(); ++n) {
        const double r = geometry::length(plate.grid.centre(plate.nodes.cell_of_node[n]));
        if (r < reach_mm) worst = std::max(worst, std::abs(celsius[n] - exact(r * 1e-3)));
    }
    return worst;
}

/// Heat that enters through a disc about `centre` under (400, 300).
double heat_in(const Plate& plate, const std::vector<double>& celsius, geometry::Vec2 centre) {
    const std::vector<double> inside = coverage(plate.grid, disc_region(centre, 5));
    double sum = 0.0;
    for (std::size_t n = 0; n < celsius.size(); ++n) {
        const double area = inside[plate.nodes.cell_of_node[n]] * plate.grid.cell_area_mm2() * 1e-6;
        sum += 400 * area * (300 - celsius[n]);
    }
    return sum;
}

} // namespace

TEST_CASE("a disc of hot air on an infinite plate") {
    // Carslaw and Jaeger, Conduction of Heat in Solids; own arithmetic for the numbers.
    const HeatedDisc disc;
    CHECK(disc.inner == Approx(-176.864254).epsilon(1e-8));
    CHECK(disc.outer == Approx(40.035740).epsilon(1e-7));
    CHECK(disc.at(0) == Approx(123.1357).epsilon(1e-6));
    CHECK(disc.at(5e-3) == Approx(104.2270).epsilon(1e-6));
    CHECK(disc.at(20e-3) == Approx(54.4958).epsilon(1e-6));

    Plate plate = quarter(120, 1.0);
    plate.film_on(disc_region({0, 0}, 5), 400, 300, kLoss, kRoom);
    HeatSolver solver(plate.network);
    const std::vector<double> t = solver.steady();
    CHECK(worst_error(
              plate, t, [&](double r) { return disc.at(r); }, 60) < 0.35);
    // Heat that leaves the disc: 2 pi a k t dT/dr, a quarter of it here.
    const double leaving = 2 * std::numbers::pi * 5e-3 * kSheet * kDecay * disc.outer * bessel_k(1, kDecay * 5e-3);
    CHECK(leaving == Approx(5.85082).epsilon(1e-5));
    CHECK(4 * heat_in(plate, t, {0, 0}) == Approx(leaving).epsilon(0.002));
    CHECK(std::abs(solver.steady_residual_w(t)) < 1e-8);
}

TEST_CASE("a disc of hot air on a round insulated board with its true outline") {
    // Same source, outer solution I0 and K0 with no flow through the rim at 20 mm.
    Plate plate(disc_region({0, 0}, 20), 0.5);
    plate.film_on(disc_region({0, 0}, 5), 400, 300, kLoss, kRoom);
    HeatSolver solver(plate.network);
    const std::vector<double> t = solver.steady();
    CHECK(value_at(plate, t, {0, 0}) == Approx(187.7098).epsilon(0.0005));
    CHECK(value_at(plate, t, {5 / std::numbers::sqrt2, 5 / std::numbers::sqrt2}) == Approx(175.7047).epsilon(0.001));
    CHECK(value_at(plate, t, {19.5, 0}) == Approx(151.9340).epsilon(0.001));
    CHECK(heat_in(plate, t, {0, 0}) == Approx(3.714654).epsilon(0.0005));
}

TEST_CASE("a rim off the grid costs no more than a rim on it") {
    // The same board shifted and turned under the grid: cut cells carry their true area and true openings.
    for (const double shift : {0.0, 0.13, 0.31}) {
        Plate plate(disc_region({shift, 2 * shift}, 20), 0.75);
        plate.film_on(disc_region({shift, 2 * shift}, 5), 400, 300, kLoss, kRoom);
        HeatSolver solver(plate.network);
        const std::vector<double> t = solver.steady();
        CHECK(value_at(plate, t, {shift, 2 * shift}) == Approx(187.7098).epsilon(0.001));
    }
}

TEST_CASE("uniform flux on a disc of an infinite plate") {
    // Superposed ring sources, Carslaw and Jaeger; own arithmetic.
    const double ma = kDecay * 5e-3;
    const double q = 20000;
    const auto exact = [&](double r) {
        return r < 5e-3 ? kRoom + q / kLoss * (1 - ma * bessel_k(1, ma) * bessel_i(0, kDecay * r))
                        : kRoom + q / kLoss * ma * bessel_i(1, ma) * bessel_k(0, kDecay * r);
    };
    CHECK(exact(0) == Approx(50.7335).epsilon(1e-6));
    CHECK(exact(10e-3) == Approx(38.8383).epsilon(2e-6));
    Plate plate = quarter(120, 1.0);
    plate.film(kLoss, kRoom);
    plate.flux_on(disc_region({0, 0}, 5), q);
    HeatSolver solver(plate.network);
    CHECK(worst_error(plate, solver.steady(), exact, 60) < 0.06);
}

TEST_CASE("the error falls with the square of the cell") {
    const HeatedDisc disc;
    double error[2] = {};
    for (int level = 0; level < 2; ++level) {
        Plate plate = quarter(150, level == 0 ? 2.0 : 1.0);
        plate.film_on(disc_region({0, 0}, 5), 400, 300, kLoss, kRoom);
        HeatSolver solver(plate.network);
        const std::vector<double> t = solver.steady();
        double sum = 0.0;
        for (std::size_t n = 0; n < t.size(); ++n) {
            const double r = geometry::length(plate.grid.centre(plate.nodes.cell_of_node[n])) * 1e-3;
            if (r < 0.02) sum += std::pow(t[n] - disc.at(r), 2) * plate.nodes.area_m2[n];
        }
        error[level] = std::sqrt(sum);
    }
    // The jump of h at the rim of the disc keeps it a little below 4.
    CHECK(error[0] / error[1] > 2.6);
}

namespace {

/// A fin as a chain of lumps from a base at given temperature; `area(r)` of the section, `face(r)` per length.
HeatNetwork fin(double from, double to, int count, double k, double h, const auto& section, const auto& face) {
    HeatNetwork network;
    const double dr = (to - from) / count;
    for (int i = 0; i < count; ++i) {
        const double r = from + (i + 0.5) * dr;
        const std::size_t node = network.add_node(1.0);
        network.air.add(node, h * face(r) * dr, 0.0);
        if (i > 0)
            network.links.push_back({node - 1, node, k * section(from + i * dr) / dr});
        else
            network.below.add(node, k * section(from) / (dr / 2), 1.0); // the base, at 1
    }
    return network;
}

double fin_efficiency(const HeatNetwork& network) {
    HeatSolver solver(network);
    const std::vector<double> t = solver.steady();
    double given = 0.0, ideal = 0.0;
    for (std::size_t n = 0; n < t.size(); ++n) {
        given += network.air.w_per_k[n] * t[n];
        ideal += network.air.w_per_k[n];
    }
    return given / ideal;
}

double annular_efficiency(double m, double r1, double r2) {
    // Incropera eq. 3.91.
    const double up = bessel_k(1, m * r1) * bessel_i(1, m * r2) - bessel_i(1, m * r1) * bessel_k(1, m * r2);
    const double down = bessel_i(0, m * r1) * bessel_k(1, m * r2) + bessel_k(0, m * r1) * bessel_i(1, m * r2);
    return 2 * r1 / (m * (r2 * r2 - r1 * r1)) * up / down;
}

} // namespace

TEST_CASE("efficiency of a fin round a hole") {
    CHECK(annular_efficiency(kDecay, 5e-3, 20e-3) == Approx(0.871764).epsilon(1e-6));
    const auto round = [](double r) { return 2 * std::numbers::pi * r; };
    const HeatNetwork network = fin(
        5e-3, 20e-3, 400, 30, kLoss, [&](double r) { return round(r) * 0.8e-3; }, round);
    CHECK(fin_efficiency(network) == Approx(0.871764).epsilon(1e-5));
}

TEST_CASE("the finned cylinder of the textbook") {
    // Incropera, example 3.10: k 186, h 50, r1 25 mm, fins 6 mm thick of 20 mm, 5 of them on 0.15 m, 200 K above the
    // air; the book reads the efficiency off a chart. With the corrected outer radius of 48 mm, own arithmetic.
    const double m = std::sqrt(2 * 50.0 / (186.0 * 6e-3));
    const double efficiency = annular_efficiency(m, 25e-3, 48e-3);
    CHECK(efficiency == Approx(0.978552).epsilon(1e-5));
    const auto round = [](double r) { return 2 * std::numbers::pi * r; };
    const HeatNetwork network = fin(
        25e-3, 48e-3, 400, 186, 50, [&](double r) { return round(r) * 6e-3; }, [&](double r) { return 2 * round(r); });
    CHECK(fin_efficiency(network) == Approx(0.978552).epsilon(1e-5));
    const double fins = 5 * 2 * std::numbers::pi * (48e-3 * 48e-3 - 25e-3 * 25e-3);
    const double bare = 2 * std::numbers::pi * 25e-3 * (0.15 - 5 * 6e-3);
    const double overall = 1 - fins / (fins + bare) * (1 - fin_efficiency(network));
    CHECK(overall == Approx(0.984199).epsilon(1e-5));
    CHECK(overall * 50 * (fins + bare) * 200 == Approx(704.656).epsilon(1e-4));
}

TEST_CASE("a straight strip with an insulated end") {
    // Incropera, table 3.4 case B: cosh m(L - x) / cosh mL.
    Plate strip(box_region(0, 0, 30, 0.25), 0.25);
    strip.film(kLoss, 0.0);
    strip.network.air.add(strip.node_at({0.1, 0.1}), 2 * kSheet, 100.0); // half a cell to the base
    HeatSolver solver(strip.network);
    const std::vector<double> t = solver.steady();
    const double ml = kDecay * 30e-3;
    CHECK(ml == Approx(0.9486833).epsilon(1e-6));
    CHECK(t[strip.node_at({29.9, 0.1})] == Approx(67.3501).epsilon(0.0002));
    double given = 0.0;
    for (std::size_t n = 0; n < strip.nodes.area_m2.size(); ++n)
        given += kLoss * strip.nodes.area_m2[n] * t[n];
    CHECK(given / 0.25e-3 == Approx(56.1003).epsilon(0.0002)); // W for one metre of width
    CHECK(given / (kLoss * 30e-3 * 0.25e-3 * 100) == Approx(0.779171).epsilon(0.0002));
}

TEST_CASE("a warm patch on a rectangular board against the cosine series") {
    // Separation of variables, Carslaw and Jaeger chapter V; double series summed with 4000 terms, own arithmetic.
    Plate plate(box_region(0, 0, 60, 30), 0.5);
    plate.film(kLoss, 0.0);
    plate.flux_on(box_region(27.5, 12.5, 32.5, 17.5), 40000);
    plate.network.surroundings_c = 0.0;
    HeatSolver solver(plate.network);
    const std::vector<double> t = solver.steady();
    CHECK(value_at(plate, t, {30, 15}) == Approx(36.39335).epsilon(0.001));
    CHECK(value_at(plate, t, {35, 15}) == Approx(29.40695).epsilon(0.001));
    CHECK(value_at(plate, t, {45, 22.5}) == Approx(22.31960).epsilon(0.001));
    CHECK(t[plate.node_at({0.1, 0.1})] == Approx(20.00689).epsilon(0.001));
    CHECK(t[plate.node_at({59.9, 15})] == Approx(20.05252).epsilon(0.001));
    double mean = 0.0;
    for (std::size_t n = 0; n < t.size(); ++n)
        mean += t[n] * plate.nodes.area_m2[n] / 1800e-6;
    CHECK(mean == Approx(23.14815).epsilon(1e-7)); // 1 W over 24 W/(m2 K) and 18 cm2
}

TEST_CASE("steady radiation follows the fourth-power law") {
    // One black square centimetre with 1 W: sigma A (T^4 - Ts^4) = 1. Own arithmetic.
    HeatNetwork network;
    const std::size_t node = network.add_node(1.0);
    network.power_w[node] = 1.0;
    network.radiance_w_per_k4[node] = kStefanBoltzmann * 1e-4;
    network.surroundings_c = 25.0;
    HeatSolver solver(network);
    const double expected = std::pow(1.0 / (kStefanBoltzmann * 1e-4) + std::pow(298.15, 4), 0.25) - 273.15;
    CHECK(solver.steady()[0] == Approx(expected).epsilon(1e-5));
    CHECK(radiation_coefficient(0.9, 200, 25) == Approx(12.311).epsilon(1e-4));
}
