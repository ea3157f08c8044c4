#pragma once
// The board as heat sees it, from what a technician knows: thickness, layer count, or nothing. SI units, thickness mm.
// Sources: rule of mixtures over layers; in-plane fit and the finding that only continuous copper counts ascribed to
// Azar and Graebner 1996 and 1997; the layer counts' copper is common practice (assets/tables/stacks.tsv).

#include <string>

#include "document/chart.hpp"

namespace padchart::patterns {

struct Spread {
    double low = 0.0;
    double nominal = 0.0;
    double high = 0.0;
};

struct BoardData {
    double thickness_mm = 0.0;
    Spread conductivity_w_per_m_k; ///< in plane, effective over the whole thickness
    Spread heat_capacity_j_per_m3_k;
    double through_conductivity_w_per_m_k = 0.0;
    double emissivity = 0.9;
    bool emissivity_is_stated = false;
    bool is_assumed = false; ///< neither layers nor conductivity were stated
    std::string basis;       ///< for people: "4 layers, 0.8 mm, from the table"
};

/// What is stated wins; the rest follows from the layer count; without one, a board of 0.8 mm and 30 W/(m K) that may
/// be wrong by a factor of two either way.
[[nodiscard]] BoardData board_data(const document::Stack& stack);

} // namespace padchart::patterns
