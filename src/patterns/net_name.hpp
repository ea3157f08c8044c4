#pragma once
// What the name of a net says of its voltage. A name proves nothing, but a record that contradicts it deserves a second
// look. Names in assets/tables/net_names.tsv: common practice.

#include <string_view>

namespace padchart::patterns {

enum class Rail {
    Unknown,
    Ground,
    Negative ///< below ground
};

/// Capitals do not matter: "gnd" is GND.
[[nodiscard]] Rail rail_of(std::string_view net);

} // namespace padchart::patterns
