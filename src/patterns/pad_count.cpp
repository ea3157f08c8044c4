#include "patterns/pad_count.hpp"

#include <algorithm>
#include <limits>

#include "patterns/fit_counts.hpp"

namespace padchart::patterns {

std::optional<std::vector<double>> parameters_for_pads(const Family& family, std::span<const double> parameters,
                                                       std::size_t pads) {
    if (family.takes_omitted || pads > std::numeric_limits<int>::max()) return std::nullopt;
    // The measures given stand in for the family's own, so that only counts are varied.
    Family measured = family;
    for (std::size_t i = 0; i < std::min(measured.parameters.size(), parameters.size()); ++i)
        measured.parameters[i].default_value = parameters[i];
    const Result<document::Footprint> before = generate(family, parameters);
    if (!before) return std::nullopt;
    for (std::vector<double>& values : count_variants(measured, pads)) {
        const Result<document::Footprint> bare = generate(family, values);
        if (!bare) continue;
        std::vector<double> grown = values;
        grow_body(family, *before, bare->pads, grown);
        return generate(family, grown) ? grown : values;
    }
    return std::nullopt;
}

} // namespace padchart::patterns
