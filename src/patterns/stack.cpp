#include "patterns/stack.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>

#include "patterns/table.hpp"

namespace padchart::patterns {
namespace {

constexpr double kUnknownThickness_mm = 0.8;
constexpr double kUnknownConductivity = 30.0;
constexpr double kCopperFit = 350.0; // W/(m K) of continuous copper in the in-plane fit
constexpr double kBaseFit = 0.8;

struct Solid {
    double conductivity;
    double heat_capacity;
};

Solid solid(std::string_view key) {
    const Table& rows = table("solids");
    const auto row = rows.find("key", key);
    assert(row);
    const auto number = [&](std::string_view column) { return rows.number(*row, column).value_or(0.0); };
    return {number("conductivity"), number("density") * number("specific_heat")};
}

/// The row with the nearest layer count, and among those the nearest thickness.
std::size_t nearest_row(int layers, std::optional<double> thickness_mm) {
    const Table& rows = table("stacks");
    std::size_t best = 0;
    double best_miss = 1e300;
    for (std::size_t row = 0; row < rows.size(); ++row) {
        const double layer_miss = std::abs(rows.number(row, "layers").value_or(0.0) - layers);
        const double thick = rows.number(row, "thickness_mm").value_or(0.0);
        // Thin boards are what gets reworked: without a thickness the thinner row stands.
        const double thick_miss = std::abs(thick - thickness_mm.value_or(0.0));
        const double miss = layer_miss * 1000.0 + thick_miss;
        if (miss < best_miss) {
            best_miss = miss;
            best = row;
        }
    }
    return best;
}

std::string plain(double value) {
    std::string text = std::to_string(std::round(value * 100.0) / 100.0);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

void from_layers(int layers, BoardData& data, std::optional<double> thickness_mm) {
    const Table& rows = table("stacks");
    const std::size_t row = nearest_row(layers, thickness_mm);
    const auto number = [&](std::string_view column) { return rows.number(row, column).value_or(0.0); };
    const double row_thickness = number("thickness_mm");
    data.thickness_mm = thickness_mm.value_or(row_thickness);
    // The same copper in a thicker board conducts less per square millimetre of section.
    const double scale = row_thickness / data.thickness_mm;
    const auto scaled = [&](double k) { return std::max(kBaseFit, kBaseFit + (k - kBaseFit) * scale); };
    data.conductivity_w_per_m_k = {scaled(number("conductivity_low")), scaled(number("conductivity")),
                                   scaled(number("conductivity_high"))};
    data.basis = std::to_string(layers) + (layers == 1 ? " layer, " : " layers, ") + plain(data.thickness_mm) +
                 " mm, from the table";
}

void from_nothing(BoardData& data, std::optional<double> thickness_mm) {
    data.thickness_mm = thickness_mm.value_or(kUnknownThickness_mm);
    data.conductivity_w_per_m_k = {kUnknownConductivity / 2.0, kUnknownConductivity, kUnknownConductivity * 2.0};
    data.is_assumed = true;
    data.basis = "layer count not stated: " + plain(data.thickness_mm) + " mm with a middling share of copper assumed";
}

} // namespace

BoardData board_data(const document::Stack& stack) {
    BoardData data;
    if (stack.layers)
        from_layers(*stack.layers, data, stack.thickness_mm);
    else
        from_nothing(data, stack.thickness_mm);
    if (stack.conductivity_w_per_m_k) {
        const double k = *stack.conductivity_w_per_m_k;
        data.conductivity_w_per_m_k = {0.7 * k, k, 1.3 * k};
        data.is_assumed = false;
        data.basis = "conductivity stated";
    }
    const double copper = std::clamp((data.conductivity_w_per_m_k.nominal - kBaseFit) / kCopperFit, 0.0, 0.5);
    const Solid laminate = solid("fr4-through");
    const Solid metal = solid("copper");
    data.through_conductivity_w_per_m_k = 1.0 / ((1.0 - copper) / laminate.conductivity + copper / metal.conductivity);
    const double mixed = (1.0 - copper) * laminate.heat_capacity + copper * metal.heat_capacity;
    const double capacity = stack.heat_capacity_j_per_m3_k.value_or(mixed);
    data.heat_capacity_j_per_m3_k = {0.8 * capacity, capacity, 1.2 * capacity};
    data.emissivity = stack.emissivity.value_or(0.9);
    data.emissivity_is_stated = stack.emissivity.has_value();
    return data;
}

} // namespace padchart::patterns
