#pragma once
// What the tests of patterns share.

#include <doctest/doctest.h>

#include <algorithm>
#include <string_view>
#include <vector>

#include "patterns/family.hpp"

namespace padchart::patterns::test {

inline document::Footprint pattern(std::string_view key) {
    Result<document::Footprint> part = generate(key);
    REQUIRE_MESSAGE(part.has_value(), key);
    return *part;
}

/// The family's defaults with one of them changed.
inline std::vector<double> with(const Family& family, std::string_view key, double value) {
    std::vector<double> values = default_parameters(family);
    const auto at = std::find_if(family.parameters.begin(), family.parameters.end(),
                                 [&](const Parameter& parameter) { return parameter.key == key; });
    REQUIRE_MESSAGE(at != family.parameters.end(), key);
    values[static_cast<std::size_t>(at - family.parameters.begin())] = value;
    return values;
}

inline document::Footprint pattern_with(std::string_view key, std::string_view parameter, double value) {
    const Family* family = find_family(key);
    REQUIRE_MESSAGE(family != nullptr, key);
    Result<document::Footprint> part = generate(*family, with(*family, parameter, value));
    REQUIRE_MESSAGE(part.has_value(), key);
    return *part;
}

inline const document::Pad& pad(const document::Footprint& part, std::string_view number) {
    const auto at = std::find_if(part.pads.begin(), part.pads.end(),
                                 [&](const document::Pad& each) { return each.number == number; });
    REQUIRE_MESSAGE(at != part.pads.end(), number);
    return *at;
}

inline bool is_plain_number(std::string_view number) {
    return !number.empty() && std::all_of(number.begin(), number.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// The land in the middle, which the numbers only reach after the perimeter.
inline bool is_centre(const document::Footprint& part, const document::Pad& pad) {
    return pad.number == std::to_string(part.pads.size()) && geometry::length(pad.at) < 0.3 && part.pads.size() > 4;
}

/// Families whose lands are numbered round the outside: not in one row, no grids, not the zigzag of connectors.
inline bool is_perimeter(std::string_view key) {
    for (const std::string_view other : {"spring-contact", "board-connector", "flat-cable", "card-socket"})
        if (key.starts_with(other)) return false;
    return true;
}

} // namespace padchart::patterns::test
