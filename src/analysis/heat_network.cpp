#include "analysis/heat_network.hpp"

namespace padchart::analysis {

void HeatNetwork::resize(std::size_t nodes) {
    capacity_j_per_k.assign(nodes, 0.0);
    air.resize(nodes);
    below.resize(nodes);
    power_w.assign(nodes, 0.0);
    radiance_w_per_k4.assign(nodes, 0.0);
}

std::size_t HeatNetwork::add_node(double capacity) {
    capacity_j_per_k.push_back(capacity);
    for (std::vector<double>* column : {&air.w_per_k, &air.w, &below.w_per_k, &below.w, &power_w, &radiance_w_per_k4})
        column->push_back(0.0);
    return capacity_j_per_k.size() - 1;
}

double sheet_link(double open_share, double conductivity, double thickness_m) {
    // A square of sheet conducts k t whatever its size.
    return open_share * conductivity * thickness_m;
}

PlateNodes add_plate(HeatNetwork& network, const Grid& grid, std::span<const double> share, const Openings& open,
                     const PlateData& data, std::span<const double> spread) {
    PlateNodes nodes;
    nodes.node_of_cell.assign(grid.size(), -1);
    const double cell_m2 = grid.cell_area_mm2() * 1e-6;
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        if (share[cell] < kLeastShare) continue;
        const double area = share[cell] * cell_m2;
        const std::size_t node = network.add_node(data.heat_capacity * data.thickness_m * area);
        nodes.node_of_cell[cell] = static_cast<int>(node);
        nodes.cell_of_node.push_back(cell);
        nodes.area_m2.push_back(area);
    }
    const auto join = [&](std::size_t cell, std::size_t other, double open_share) {
        const int a = nodes.node_of_cell[cell];
        const int b = nodes.node_of_cell[other];
        if (a < 0 || b < 0 || open_share <= 0.0) return;
        const double factor =
            spread.empty() ? 1.0 : 2.0 * spread[cell] * spread[other] / (spread[cell] + spread[other]);
        network.links.push_back({static_cast<std::size_t>(a), static_cast<std::size_t>(b),
                                 sheet_link(open_share, factor * data.conductivity, data.thickness_m)});
    };
    for (int j = 0; j < grid.rows; ++j)
        for (int i = 0; i < grid.columns; ++i) {
            const std::size_t cell = grid.index(i, j);
            if (i + 1 < grid.columns) join(cell, grid.index(i + 1, j), open.east[cell]);
            if (j + 1 < grid.rows) join(cell, grid.index(i, j + 1), open.south[cell]);
        }
    return nodes;
}

} // namespace padchart::analysis
