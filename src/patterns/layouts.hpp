#pragma once
// How the package families are made; for this module only (patterns/family.hpp is what others use). A layout is one way
// of arranging lands with its list of parameters; the families of a layout are the rows of its table.

#include <span>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "document/footprint.hpp"

namespace padchart::patterns {

/// A parameter without its default, which is the family's.
struct ParameterSpec {
    std::string_view key;
    std::string_view label;
    std::string_view unit;
    double min = 0.0;
    double max = 0.0;
    double step = 0.0;
    bool is_integer = false;
    std::span<const std::string_view> choices;
};

/// The numbers a layout is given, found by key.
class Given {
public:
    Given(std::span<const ParameterSpec> specs, std::span<const double> values, std::string_view variant)
        : specs_(specs), values_(values), variant_(variant) {}

    /// Requires: the layout has this parameter.
    [[nodiscard]] double operator()(std::string_view key) const;
    /// Requires: the layout has this parameter and it is a whole number.
    [[nodiscard]] int count(std::string_view key) const;
    /// The row's own word for which of the layout's forms it is; empty for most.
    [[nodiscard]] std::string_view variant() const { return variant_; }
    /// What follows the layout's own parameters: places of a grid left empty.
    [[nodiscard]] std::span<const double> omitted() const;

private:
    std::span<const ParameterSpec> specs_;
    std::span<const double> values_;
    std::string_view variant_;
};

struct Pattern {
    std::vector<document::Pad> pads;
    document::Body body;
};

struct Layout {
    std::string_view table; ///< assets/tables/<table>.tsv
    std::span<const ParameterSpec> parameters;
    Result<Pattern> (*build)(const Given&) = nullptr;
    bool takes_omitted = false;
};

[[nodiscard]] std::span<const Layout> layouts();

struct Family;
/// As generate(), but bare and without looking for lands that overlap: what a fit tries on its way may do so.
[[nodiscard]] Result<Pattern> build_pattern(const Family& family, std::span<const double> parameters);

[[nodiscard]] Layout two_land_layout();
[[nodiscard]] Layout can_layout();
[[nodiscard]] Layout line_layout();
[[nodiscard]] Layout four_land_layout();
[[nodiscard]] Layout sense_layout();
[[nodiscard]] Layout feedthrough_layout();
[[nodiscard]] Layout three_lead_layout();
[[nodiscard]] Layout four_lead_layout();
[[nodiscard]] Layout five_lead_layout();
[[nodiscard]] Layout tab_layout();
[[nodiscard]] Layout two_row_layout();
[[nodiscard]] Layout quad_layout();
[[nodiscard]] Layout two_ring_layout();
[[nodiscard]] Layout grid_layout();
[[nodiscard]] Layout board_connector_layout();
[[nodiscard]] Layout flat_cable_layout();
[[nodiscard]] Layout card_socket_layout();
[[nodiscard]] Layout shield_layout();
[[nodiscard]] Layout microphone_layout();
[[nodiscard]] Layout cell_holder_layout();
[[nodiscard]] Layout round_land_layout();

} // namespace padchart::patterns
