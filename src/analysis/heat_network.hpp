#pragma once
// Heat flow between lumps: what the model of board, parts and air comes down to. SI units, degrees Celsius.
//
//     capacity dT/dt = sum over links g (T_other - T) + sum over exchanges (h T_air - h T) + power - radiation
//
// Nothing here knows of boards: any h(x, y), any temperature of the surroundings, any source can be put in.

#include <cstddef>
#include <span>
#include <vector>

#include "analysis/heat_grid.hpp"

namespace padchart::analysis {

inline constexpr double kStefanBoltzmann = 5.670374e-8; // W/(m2 K4)
inline constexpr double kCelsiusZero = 273.15;

struct HeatLink {
    std::size_t a = 0;
    std::size_t b = 0;
    double w_per_k = 0.0;
};

/// Heat to and from something whose temperature is given: per node its conductance and conductance times temperature.
struct HeatExchange {
    std::vector<double> w_per_k;
    std::vector<double> w;

    void resize(std::size_t nodes) {
        w_per_k.assign(nodes, 0.0);
        w.assign(nodes, 0.0);
    }
    void add(std::size_t node, double conductance, double celsius) {
        w_per_k[node] += conductance;
        w[node] += conductance * celsius;
    }
};

struct HeatNetwork {
    std::vector<double> capacity_j_per_k;
    std::vector<HeatLink> links;
    HeatExchange air;   ///< the face under the air, and what stands on it
    HeatExchange below; ///< the other face
    std::vector<double> power_w;
    std::vector<double> radiance_w_per_k4; ///< emissivity * sigma * area
    double surroundings_c = 25.0;          ///< what it radiates to

    [[nodiscard]] std::size_t size() const { return capacity_j_per_k.size(); }
    void resize(std::size_t nodes);
    /// Appends a node and returns its number.
    std::size_t add_node(double capacity);
};

/// A plate of constant data on a grid: nodes for the cells with any board in them, links through their open faces.
struct PlateNodes {
    std::vector<int> node_of_cell; ///< -1 off the plate
    std::vector<std::size_t> cell_of_node;
    std::vector<double> area_m2; ///< per node
};

struct PlateData {
    double thickness_m = 0.8e-3;
    double conductivity = 30.0;   ///< W/(m K)
    double heat_capacity = 2.2e6; ///< J/(m3 K)
};

/// Adds the plate to a network. Cells of which less than `kLeastShare` is board are left out, with their heat.
inline constexpr double kLeastShare = 1e-3;
/// `spread`: factor on the conductivity per cell, empty for none; between two cells their harmonic mean stands.
PlateNodes add_plate(HeatNetwork& network, const Grid& grid, std::span<const double> share, const Openings& open,
                     const PlateData& data, std::span<const double> spread = {});

/// Conductance between neighbouring cells that are open to each other by `open_share` of a cell's width, W/K.
[[nodiscard]] double sheet_link(double open_share, double conductivity, double thickness_m);

} // namespace padchart::analysis
