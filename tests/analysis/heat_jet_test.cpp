#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include "analysis/heat_jet.hpp"

using namespace padchart::analysis;
using doctest::Approx;

TEST_CASE("dry air agrees with the handbook table within two percent") {
    // Incropera et al., Fundamentals of Heat and Mass Transfer, table A.4 (from memory); density by the ideal gas law.
    struct Row {
        double celsius, density, specific_heat, viscosity, conductivity, prandtl;
    };
    const Row rows[] = {{25, 1.1839, 1007, 18.37e-6, 26.2e-3, 0.707},  {100, 0.9460, 1011, 21.83e-6, 31.8e-3, 0.695},
                        {200, 0.7460, 1025, 25.97e-6, 38.9e-3, 0.685}, {300, 0.6159, 1045, 29.65e-6, 45.3e-3, 0.684},
                        {400, 0.5244, 1069, 33.00e-6, 51.0e-3, 0.692}, {450, 0.4881, 1081, 34.61e-6, 53.6e-3, 0.698}};
    for (const Row& row : rows) {
        const Air air = air_at(row.celsius);
        CHECK(air.density == Approx(row.density).epsilon(0.001));
        CHECK(air.specific_heat == Approx(row.specific_heat).epsilon(0.004));
        CHECK(air.viscosity == Approx(row.viscosity).epsilon(0.02));
        CHECK(air.conductivity == Approx(row.conductivity).epsilon(0.01));
        CHECK(air.prandtl() == Approx(row.prandtl).epsilon(0.025));
    }
}

TEST_CASE("Martin's factors for a nozzle at five bores") {
    // Martin, Adv. Heat Transfer 13 (1977); own arithmetic from the printed correlation.
    CHECK(martin_f(10000) == Approx(267.7646).epsilon(1e-6));
    CHECK(martin_average(2.5, 5) == Approx(0.233333).epsilon(1e-5));
    CHECK(martin_average(4.0, 5) == Approx(0.185897).epsilon(1e-5));
    CHECK(martin_average(7.5, 5) == Approx(0.115315).epsilon(1e-5));
    CHECK(martin_average_nusselt(2.5, 5, 10000, 0.7) == Approx(53.7862).epsilon(1e-5));
    CHECK(martin_average_nusselt(4.0, 5, 10000, 0.7) == Approx(42.8517).epsilon(1e-5));
    CHECK(martin_average_nusselt(7.5, 5, 10000, 0.7) == Approx(26.5816).epsilon(1e-5));
}

TEST_CASE("the local form for a nozzle at two bores") {
    // Same source; the bell inside 2.5 bores is our own assumption, own arithmetic.
    CHECK(martin_f(5000) == Approx(175.5709).epsilon(1e-6));
    CHECK(martin_average(2.5, 2) == Approx(0.266667).epsilon(1e-5));
    CHECK(martin_local(2.5, 2) == Approx(0.212698).epsilon(1e-5));
    CHECK(martin_local(0.0, 2) == Approx(0.374603).epsilon(1e-5));
    CHECK(martin_local(1.25, 2) == Approx(0.303770).epsilon(1e-5));
    CHECK(martin_local(5.0, 2) == Approx(0.101323).epsilon(1e-5));
    CHECK(martin_local_nusselt(0.0, 2, 5000, 0.69) == Approx(56.2783).epsilon(1e-5));
}

TEST_CASE("the local form has Martin's mean over every disc") {
    for (const double height : {1.0, 2.0, 4.0, 6.0, 9.0, 12.0, 20.0})
        for (const double radius : {2.5, 3.0, 4.0, 7.5}) {
            const auto ring = [&](double x) { return martin_local(x, height) * 2.0 * x; };
            using Quadrature = boost::math::quadrature::gauss_kronrod<double, 31>;
            const double inner = Quadrature::integrate(ring, 0.0, 2.5, 5, 1e-13);
            const double outer = radius > 2.5 ? Quadrature::integrate(ring, 2.5, radius, 5, 1e-13) : 0.0;
            CHECK((inner + outer) / (radius * radius) == Approx(martin_average(radius, height)).epsilon(1e-12));
        }
}

TEST_CASE("flow numbers of thirty litres a minute through five millimetres") {
    // Own arithmetic from the ideal gas law and the US Standard Atmosphere viscosity.
    JetSettings jet;
    jet.flow_l_per_min = 30;
    jet.bore_mm = 5;
    jet.exit_factor = 1.0;
    struct Row {
        double exit_c, reynolds, velocity;
    };
    for (const Row& row : {Row{25, 8204.83, 25.4648}, Row{280, 5273.34, 47.2442}, Row{380, 4729.28, 55.7851}}) {
        jet.set_point_c = row.exit_c;
        const JetFlow flow = jet_flow(jet);
        CHECK(flow.mass_flow_kg_per_s == Approx(5.919626e-4).epsilon(1e-6));
        CHECK(flow.exit_c == Approx(row.exit_c));
        CHECK(flow.reynolds == Approx(row.reynolds).epsilon(1e-5));
        CHECK(flow.velocity_m_per_s == Approx(row.velocity).epsilon(1e-5));
    }
    jet.exit_factor = 0.9;
    CHECK(jet_flow(jet).exit_c == Approx(344.5));
    CHECK(jet_flow(jet).power_w == Approx(197).epsilon(0.03));
}

TEST_CASE("the air offered to a wall falls with the radius as stated") {
    // Own formula; values by own arithmetic at b = 1.9.
    const double ratio[] = {0, 0.5, 1, 2, 2.5, 3, 4, 5, 7.5};
    const double share[] = {1.000, 0.967, 0.885, 0.689, 0.605, 0.535, 0.429, 0.355, 0.246};
    for (int i = 0; i < 9; ++i)
        CHECK(effectiveness(ratio[i], 2.0, 1.9) == Approx(share[i]).epsilon(0.0015));
    CHECK(effectiveness(0.0, 10.0, 1.9) == Approx(0.5));
    CHECK(effectiveness(0.0, 3.0, 1.9) == Approx(1.0));
}

TEST_CASE("a wall at room temperature never takes more heat than the jet brings") {
    JetSettings jet;
    jet.set_point_c = 380;
    const double reach = 50.0;
    for (const double spread : {1.5, 1.9, 2.4}) {
        JetShape shape;
        shape.spread = spread;
        shape.h_factor = 1.3;
        const JetField field(jet, shape, reach);
        double taken = 0.0;
        for (double r = 0.05; r < reach; r += 0.1) {
            const JetSpot spot = field.at(r);
            taken += (spot.h_times_t - spot.h * 25.0) * 2.0 * std::numbers::pi * r * 0.1 * 1e-6;
        }
        CHECK(taken > 0.3 * field.flow().power_w);
        CHECK(taken < 1.05 * field.flow().power_w);
    }
}

TEST_CASE("the tabulated field follows the formulas and a circling nozzle keeps the mean") {
    JetSettings jet;
    JetShape shape;
    shape.thickness_resistance = 0.8e-3 / (3 * 0.35);
    const JetField still(jet, shape, 200.0);
    const double h0 = martin_local_nusselt(0.0, 2.0, still.flow().reynolds, still.flow().prandtl) *
                      still.flow().air_conductivity / 5e-3;
    CHECK(still.at(0.0).h == Approx(h0));
    CHECK(still.at(0.0).board_h == Approx(h0 / (1.0 + h0 * shape.thickness_resistance)));
    CHECK(still.at(0.0).h_times_t / still.at(0.0).h == Approx(still.flow().exit_c));
    shape.circle_radius_mm = 3.0;
    const JetField circling(jet, shape, 200.0);
    CHECK(circling.at(0.0).h < still.at(0.0).h);
    // Going round moves heat about but loses none: the integral over a large disc is the same within its rim.
    const auto total = [](const JetField& field) {
        double sum = 0.0;
        for (double r = 0.01; r < 100.0; r += 0.02)
            sum += field.at(r).h * r;
        return sum;
    };
    CHECK(total(circling) == Approx(total(still)).epsilon(0.002));
}
