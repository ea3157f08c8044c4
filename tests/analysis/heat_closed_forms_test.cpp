// The network and its solver against further closed forms. Sources are textbooks, cited from memory where no more is
// said; every formula was put back into its equation by hand. Common data: k 30, thickness 0.8 mm, rho c 2.2e6.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include <boost/math/special_functions/bessel.hpp>

#include "heat_plate.hpp"

using namespace padchart::analysis;
using namespace padchart::analysis::test;
using doctest::Approx;
using padchart::geometry::Vec2;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kSheet = 30.0 * 0.8e-3;       // W/K
constexpr double kArealHeat = 2.2e6 * 0.8e-3;  // J/(m2 K)
constexpr double kDiffusivity = 30.0 / 2.2e6;  // m2/s
constexpr double kLoss = 24.0;                 // W/(m2 K)
const double kFin = std::sqrt(kLoss / kSheet); // 1/m
constexpr double kDecay = kLoss / kArealHeat;  // 1/s

double k0(double x) {
    return boost::math::cyl_bessel_k(0, x);
}
double i0(double x) {
    return boost::math::cyl_bessel_i(0, x);
}
double ierfc(double x) {
    return std::exp(-x * x) / std::sqrt(kPi) - x * std::erfc(x);
}

std::vector<double> after(const HeatNetwork& network, std::vector<double> start, double until_s, double step_s) {
    HeatSolver solver(network);
    const HeatStretch stretches[] = {{until_s / 8, step_s / 4}, {until_s, step_s}};
    solver.run(start, stretches, [](double, std::span<const double>) {});
    return start;
}

/// Share that is left of a shape the equation only scales, by projection onto it.
double left_of(const Plate& plate, const std::vector<double>& shape, const std::vector<double>& now) {
    double with = 0.0, all = 0.0;
    for (std::size_t n = 0; n < shape.size(); ++n) {
        with += shape[n] * now[n] * plate.nodes.area_m2[n];
        all += shape[n] * shape[n] * plate.nodes.area_m2[n];
    }
    return with / all;
}

template <class Shape>
std::vector<double> shaped(const Plate& plate, const Shape& shape) {
    std::vector<double> t;
    for (const std::size_t cell : plate.nodes.cell_of_node)
        t.push_back(shape(plate.grid.centre(cell)));
    return t;
}

Plate strip(double length_mm, double cell_mm) {
    return Plate(box_region(0, 0, length_mm, cell_mm), cell_mm);
}

} // namespace

TEST_CASE("cosine shapes on an insulated rectangle decay at their own rates") {
    // cos(n pi x/a) cos(m pi y/b) falls by exp(-(alpha ((n pi/a)^2 + (m pi/b)^2) + h/(rho c Z)) t). Carslaw and Jaeger,
    // chapter V.
    const double a = 60, b = 30;
    Plate plate(box_region(0, 0, a, b), 1.0);
    plate.film(kLoss, 0);
    const int modes[][2] = {{1, 0}, {0, 1}, {1, 1}, {3, 1}, {2, 2}};
    for (const auto& [n, m] : modes) {
        const auto shape = shaped(
            plate, [&, n = n, m = m](Vec2 p) { return std::cos(n * kPi * p.x / a) * std::cos(m * kPi * p.y / b); });
        const double rate = kDiffusivity * 1e6 * (std::pow(n * kPi / a, 2) + std::pow(m * kPi / b, 2)) + kDecay;
        const double until = 1.5 / rate;
        CHECK(left_of(plate, shape, after(plate.network, shape, until, until / 60)) ==
              Approx(std::exp(-1.5)).epsilon(0.006));
    }
}

TEST_CASE("Bessel shapes on an insulated disc decay at their own rates") {
    // J0(j r/R) with j the zeros of J1, and J1(j r/R) cos(angle) with j the zeros of J1'. Carslaw and Jaeger, chapter
    // VII.
    const double radius = 15;
    Plate plate(disc_region({radius, radius}, radius), 0.5);
    const auto from_middle = [&](Vec2 p) { return Vec2{p.x - radius, p.y - radius}; };
    const auto check = [&](double j, const std::vector<double>& shape) {
        const double rate = kDiffusivity * std::pow(j / (radius * 1e-3), 2);
        CHECK(left_of(plate, shape, after(plate.network, shape, 1.0 / rate, 0.02 / rate)) ==
              Approx(std::exp(-1.0)).epsilon(0.006));
    };
    for (const double j : {3.8317059702, 7.0155866698}) // DLMF table 10.21
        check(j, shaped(plate, [&](Vec2 p) {
                  const Vec2 d = from_middle(p);
                  return boost::math::cyl_bessel_j(0, j * std::hypot(d.x, d.y) / radius);
              }));
    constexpr double kSideways = 1.8411837813;
    check(kSideways, shaped(plate, [&](Vec2 p) {
              const Vec2 d = from_middle(p);
              const double r = std::hypot(d.x, d.y);
              return r > 0 ? boost::math::cyl_bessel_j(1, kSideways * r / radius) * d.x / r : 0.0;
          }));
}

TEST_CASE("a slope along an insulated strip levels out") {
    // T = x at first: L/2 - 4 L/pi^2 sum over odd n of cos(n pi x/L) exp(-alpha (n pi/L)^2 t)/n^2. Carslaw and Jaeger,
    // chapter III.
    const double length = 30;
    Plate plate = strip(length, 0.5);
    const auto t = after(plate.network, shaped(plate, [](Vec2 p) { return p.x; }), 8.0, 0.1);
    for (const double x : {0.25, 7.25, 14.75, 22.25, 29.75}) {
        double sum = length / 2;
        for (int n = 1; n < 100; n += 2)
            sum -= 4 * length / std::pow(n * kPi, 2) * std::cos(n * kPi * x / length) *
                   std::exp(-kDiffusivity * 1e6 * std::pow(n * kPi / length, 2) * 8.0);
        CHECK(std::abs(t[plate.node_at({x, 0.2})] - sum) < 0.01);
    }
}

TEST_CASE("a steady flux into the end of a long strip") {
    // T = 2 q/k sqrt(alpha t) ierfc(x/(2 sqrt(alpha t))). Carslaw and Jaeger, chapter II.
    Plate plate = strip(80, 0.5);
    const double flux = 20000;                                                 // W/m2 of section
    plate.network.power_w[plate.node_at({0.1, 0.1})] = flux * 0.8e-3 * 0.5e-3; // cell 0.5 mm wide
    const auto t = after(plate.network, plate.start(0), 10.0, 0.1);
    const double spread = std::sqrt(kDiffusivity * 10.0);
    for (const double x : {2.25, 5.25, 10.25, 20.25})
        CHECK(t[plate.node_at({x, 0.2})] ==
              Approx(2 * flux / 30.0 * spread * ierfc(x * 1e-3 / (2 * spread))).epsilon(0.005));
}

TEST_CASE("air at the end of a long strip") {
    // (T - T0)/(Ta - T0) = erfc(u) - exp(h x/k + h^2 alpha t/k^2) erfc(u + h sqrt(alpha t)/k), u = x/(2 sqrt(alpha t)).
    // Carslaw and Jaeger, chapter II; Incropera chapter 5.7.
    Plate plate = strip(80, 0.5);
    const double h = 3000, section = 0.8e-3 * 0.5e-3, to_middle = 0.25e-3; // first half cell conducts
    plate.network.air.add(plate.node_at({0.1, 0.1}), section / (1 / h + to_middle / 30.0), 100);
    const auto t = after(plate.network, plate.start(0), 10.0, 0.05);
    const double spread = std::sqrt(kDiffusivity * 10.0);
    for (const double x : {0.25, 2.25, 5.25, 10.25, 20.25}) {
        const double u = x * 1e-3 / (2 * spread);
        const double share = std::erfc(u) - std::exp(h * x * 1e-3 / 30.0 + std::pow(h * spread / 30.0, 2)) *
                                                std::erfc(u + h * spread / 30.0);
        CHECK(t[plate.node_at({x, 0.2})] == Approx(100 * share).epsilon(0.005));
    }
}

TEST_CASE("air at both ends of a strip follows the root of its transcendental equation") {
    // Plane wall: cos(z x/L) decays by exp(-z^2 Fo) with z tan z = Bi; Bi = 1 has z = 0.8603 and the leading
    // factor 1.1191. Incropera, table 5.1 and eq. 5.43.
    const double half = 10;
    Plate plate = strip(2 * half, 0.25);
    const double h = 30.0 / (half * 1e-3), section = 0.8e-3 * 0.25e-3;
    for (const double x : {0.1, 2 * half - 0.1})
        plate.network.air.add(plate.node_at({x, 0.1}), section / (1 / h + 0.125e-3 / 30.0), 0);
    const double fourier = 0.8, until = fourier * half * half * 1e-6 / kDiffusivity;
    const auto t = after(plate.network, plate.start(100), until, until / 100);
    for (const double x : {10.125, 13.125, 16.125, 19.875})
        CHECK(t[plate.node_at({x, 0.1})] ==
              Approx(100 * 1.1191 * std::exp(-0.8603 * 0.8603 * fourier) * std::cos(0.8603 * (x - half) / half))
                  .epsilon(0.005));
}

TEST_CASE("a disc that starts hot on an infinite plate") {
    // At the middle: T0 (1 - exp(-a^2/(4 alpha t))) exp(-h t/(rho c Z)). Carslaw and Jaeger, chapter X.
    Plate plate(box_region(0, 0, 70, 70), 0.5); // a quarter: mirror edges
    plate.film(kLoss, 0);
    const double a = 8;
    const std::vector<double> inside = coverage(plate.grid, disc_region({0, 0}, a));
    std::vector<double> start;
    for (const std::size_t cell : plate.nodes.cell_of_node)
        start.push_back(100 * inside[cell]);
    for (const double time : {0.8, 3.0}) {
        const auto t = after(plate.network, start, time, time / 80);
        const double exact = 100 * (1 - std::exp(-a * a * 1e-6 / (4 * kDiffusivity * time))) * std::exp(-kDecay * time);
        CHECK(t[plate.node_at({0.1, 0.1})] == Approx(exact).epsilon(0.004));
    }
}

TEST_CASE("a ring of heat on an infinite plate") {
    // P/(2 pi k Z) I0(m r<) K0(m r>): a source at every angle, by the addition theorem of K0. Carslaw and Jaeger,
    // chapter XIV; DLMF 10.44.
    Plate plate(box_region(0, 0, 130, 130), 0.5); // a quarter
    plate.film(kLoss, 0);
    const double ring = 10, wide = 1.0; // narrow ring, seen from away
    const std::vector<double> out = coverage(plate.grid, disc_region({0, 0}, ring + wide / 2));
    const std::vector<double> in = coverage(plate.grid, disc_region({0, 0}, ring - wide / 2));
    double area = 0.0;
    for (std::size_t n = 0; n < plate.network.size(); ++n) {
        const std::size_t cell = plate.nodes.cell_of_node[n];
        plate.network.power_w[n] = out[cell] - in[cell];
        area += out[cell] - in[cell];
    }
    for (double& power : plate.network.power_w)
        power *= 0.25 / area; // one watt on the whole ring
    HeatSolver solver(plate.network);
    const std::vector<double> t = solver.steady();
    const double scale = 1.0 / (2 * kPi * kSheet);
    for (const double x : {0.25, 4.25, 7.25, 14.25, 25.25}) {
        const double r = std::hypot(x, 0.25) * 1e-3, a = ring * 1e-3;
        CHECK(t[plate.node_at({x, 0.1})] ==
              Approx(scale * i0(kFin * std::min(r, a)) * k0(kFin * std::max(r, a))).epsilon(0.004));
    }
}

TEST_CASE("sources beside an edge and in a corner are seen with their images") {
    // Insulated edges mirror a source: sum of P/(2 pi k Z) K0(m r) over it and its images. Carslaw and Jaeger, chapter
    // X; several sources add.
    Plate plate(box_region(0, 0, 150, 150), 0.5);
    plate.film(kLoss, 0);
    const Vec2 corner{6.25, 9.25}, edge{70.25, 5.25};
    plate.network.power_w[plate.node_at(corner)] += 1.0;
    plate.network.power_w[plate.node_at(edge)] += 2.0;
    HeatSolver solver(plate.network);
    const std::vector<double> t = solver.steady();
    const double scale = 1.0 / (2 * kPi * kSheet);
    for (const Vec2 at : {Vec2{0.25, 0.25}, Vec2{12.25, 9.25}, Vec2{6.25, 20.25}, Vec2{70.25, 0.25}, Vec2{40.25, 10.25},
                          Vec2{76.25, 12.25}}) {
        double sum = 0.0;
        for (const double side_x : {1.0, -1.0})
            for (const double side_y : {1.0, -1.0}) {
                sum += k0(kFin * 1e-3 * std::hypot(at.x - side_x * corner.x, at.y - side_y * corner.y));
                sum += 2 * k0(kFin * 1e-3 * std::hypot(at.x - side_x * edge.x, at.y - side_y * edge.y));
            }
        CHECK(t[plate.node_at(at)] == Approx(scale * sum).epsilon(0.006));
    }
}

TEST_CASE("a source that moves along a plate") {
    // Quasi-steady: P/(2 pi k Z) exp(-v xi/(2 alpha)) K0(r sqrt((v/(2 alpha))^2 + m^2)), xi ahead of the source.
    // Rosenthal 1946; Carslaw and Jaeger, chapter X.
    Plate plate(box_region(0, 0, 130, 50), 1.0);
    plate.film(kLoss, 0);
    const double speed = 2e-3, step_s = 0.5; // a cell a step
    std::vector<double> t = plate.start(0);
    double x = 20.5;
    HeatSolver solver(plate.network);
    const HeatStretch stretch[] = {{step_s, step_s / 2}};
    for (; x < 105; x += 1.0) {
        plate.network.power_w.assign(plate.network.size(), 0.0);
        plate.network.power_w[plate.node_at({x, 25.5})] = 1.0;
        solver.run(t, stretch, [](double, std::span<const double>) {});
    }
    const double source = x - 0.5; // half a step past the middle of the last cell
    const double half = speed / (2 * kDiffusivity), reach = std::hypot(half, kFin);
    for (const Vec2 at : {Vec2{90.5, 25.5}, Vec2{98.5, 25.5}, Vec2{104.5, 33.5}, Vec2{110.5, 25.5}, Vec2{98.5, 18.5}}) {
        const double ahead = (at.x - source) * 1e-3;
        double sum = 0.0; // with its images in the edges along its way
        for (const double y : {25.5, -25.5, 74.5, 125.5, -74.5})
            sum += k0(reach * 1e-3 * std::hypot(at.x - source, at.y - y));
        CHECK(t[plate.node_at(at)] == Approx(std::exp(-half * ahead) * sum / (2 * kPi * kSheet)).epsilon(0.012));
    }
}

TEST_CASE("heat through a round plate from its hole to its rim") {
    // q = 2 pi k Z (T1 - T2)/ln(r2/r1) and a logarithm between. Incropera eq. 3.26 and 3.27.
    const double inner = 5, outer = 20;
    Plate plate(disc_region({outer + 1, outer + 1}, outer + 1), 0.25);
    const std::vector<double> hot = coverage(plate.grid, disc_region({outer + 1, outer + 1}, inner));
    const std::vector<double> cold = coverage(plate.grid, disc_region({outer + 1, outer + 1}, outer));
    constexpr double kHeld = 1e7; // W/(m2 K): as good as a fixed temperature
    for (std::size_t n = 0; n < plate.network.size(); ++n) {
        const std::size_t cell = plate.nodes.cell_of_node[n];
        plate.network.air.add(n, kHeld * hot[cell] * plate.nodes.area_m2[n], 100);
        plate.network.below.add(n, kHeld * (1 - cold[cell]) * plate.nodes.area_m2[n], 0);
    }
    HeatSolver solver(plate.network);
    const std::vector<double> t = solver.steady();
    for (const double r : {7.0, 10.0, 14.0, 17.0})
        CHECK(value_at(plate, t, {outer + 1 + r, outer + 1}) ==
              Approx(100 * std::log(outer / r) / std::log(outer / inner)).epsilon(0.02));
    double watts = 0.0;
    for (std::size_t n = 0; n < t.size(); ++n)
        watts += plate.network.air.w[n] - plate.network.air.w_per_k[n] * t[n];
    CHECK(watts == Approx(2 * kPi * kSheet * 100 / std::log(outer / inner)).epsilon(0.01));
}

TEST_CASE("two lumps between air and room follow their two rates") {
    // C1 T1' = h1 (Ta - T1) + g (T2 - T1), C2 T2' = g (T1 - T2) + h2 (Tr - T2): two exponentials, the roots of the
    // quadratic; own arithmetic.
    const double c1 = 2500, c2 = 1760, h1 = 300, h2 = 24, g = 250, air = 300, room = 25;
    HeatNetwork network;
    network.add_node(c1);
    network.add_node(c2);
    network.links.push_back({0, 1, g});
    network.air.add(0, h1, air);
    network.below.add(1, h2, room);
    const double a = (h1 + g) / c1, b = g / c1, c = g / c2, d = (g + h2) / c2;
    // Steady: Cramer's rule.
    const double det = (h1 + g) * (g + h2) - g * g;
    const double s1 = (h1 * air * (g + h2) + g * h2 * room) / det, s2 = ((h1 + g) * h2 * room + g * h1 * air) / det;
    const double middle = (a + d) / 2, root = std::sqrt(std::pow((a - d) / 2, 2) + b * c);
    const double slow = middle - root, fast = middle + root;
    // Excess (e1, e2) at first; along each rate e2 = (a - rate)/b e1.
    const double e1 = room - s1, e2 = room - s2, k_slow = (a - slow) / b, k_fast = (a - fast) / b;
    const double p = (e2 - k_fast * e1) / (k_slow - k_fast), q = e1 - p;
    for (const double time : {1.0, 5.0, 20.0, 60.0}) {
        const auto t = after(network, {room, room}, time, time / 200);
        CHECK(t[0] == Approx(s1 + p * std::exp(-slow * time) + q * std::exp(-fast * time)).epsilon(1e-4));
        CHECK(t[1] ==
              Approx(s2 + p * k_slow * std::exp(-slow * time) + q * k_fast * std::exp(-fast * time)).epsilon(1e-4));
    }
}
