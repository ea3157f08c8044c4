#pragma once
// A bare plate for the closed-form cases: any outline, any film, any source.

#include <cmath>
#include <functional>

#include "analysis/heat_network.hpp"
#include "analysis/heat_solver.hpp"
#include "geometry/polygon.hpp"

namespace padchart::analysis::test {

struct Plate {
    Grid grid;
    std::vector<double> share;
    HeatNetwork network;
    PlateNodes nodes;

    Plate(const geometry::Region& outline, double cell_mm, const PlateData& data = {}) {
        grid = grid_over(geometry::bounds(outline), cell_mm);
        share = coverage(grid, outline);
        nodes = add_plate(network, grid, share, openings(grid, outline), data);
    }

    [[nodiscard]] std::size_t node_at(geometry::Vec2 p) const {
        const int i = static_cast<int>((p.x - grid.origin.x) / grid.cell_mm);
        const int j = static_cast<int>((p.y - grid.origin.y) / grid.cell_mm);
        return static_cast<std::size_t>(nodes.node_of_cell[grid.index(i, j)]);
    }

    /// The same film on the whole plate, W/(m2 K) and C.
    void film(double h, double celsius) {
        for (std::size_t n = 0; n < nodes.area_m2.size(); ++n)
            network.below.add(n, h * nodes.area_m2[n], celsius);
    }

    /// A film on an area, and another one on what it leaves open.
    void film_on(const geometry::Region& area, double h, double celsius, double h_else, double celsius_else) {
        const std::vector<double> inside = coverage(grid, area);
        for (std::size_t n = 0; n < nodes.area_m2.size(); ++n) {
            const std::size_t cell = nodes.cell_of_node[n];
            const double in = std::min(inside[cell], share[cell]) * grid.cell_area_mm2() * 1e-6;
            network.air.add(n, h * in, celsius);
            network.air.add(n, h_else * (nodes.area_m2[n] - in), celsius_else);
        }
    }

    /// W/m2 on an area.
    void flux_on(const geometry::Region& area, double w_per_m2) {
        const std::vector<double> inside = coverage(grid, area);
        for (std::size_t n = 0; n < nodes.area_m2.size(); ++n)
            network.power_w[n] += w_per_m2 * inside[nodes.cell_of_node[n]] * grid.cell_area_mm2() * 1e-6;
    }

    [[nodiscard]] std::vector<double> start(double celsius) const {
        return std::vector<double>(network.size(), celsius);
    }
};

inline geometry::Region box_region(double x0, double y0, double x1, double y1) {
    return {{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, {}}};
}

inline geometry::Region disc_region(geometry::Vec2 centre, double radius) {
    return {{geometry::transformed(geometry::circle(radius, 1e-4), geometry::Affine::translation(centre)), {}}};
}

/// Between cell centres, linear both ways. Requires: all four cells on the plate.
inline double value_at(const Plate& plate, std::span<const double> celsius, geometry::Vec2 p) {
    const double x = (p.x - plate.grid.origin.x) / plate.grid.cell_mm - 0.5;
    const double y = (p.y - plate.grid.origin.y) / plate.grid.cell_mm - 0.5;
    const int i = std::min(static_cast<int>(std::max(x, 0.0)), plate.grid.columns - 2);
    const int j = std::min(static_cast<int>(std::max(y, 0.0)), plate.grid.rows - 2);
    const double fx = x - i;
    const double fy = y - j;
    const auto at = [&](int a, int b) {
        return celsius[static_cast<std::size_t>(plate.nodes.node_of_cell[plate.grid.index(a, b)])];
    };
    return (1 - fy) * ((1 - fx) * at(i, j) + fx * at(i + 1, j)) +
           fy * ((1 - fx) * at(i, j + 1) + fx * at(i + 1, j + 1));
}

} // namespace padchart::analysis::test
