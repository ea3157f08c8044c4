#pragma once
// All attributes of one element that matter, gathered in a single pass over them.

#include <array>
#include <cstdint>
#include <string_view>

#include <pugixml.hpp>

#include "svg/properties.hpp"

namespace padchart::svg {

/// Attributes that are no CSS properties.
enum class Attribute : std::uint8_t {
    Id,
    Class,
    Style,
    DataName,
    Points,
    X1,
    Y1,
    X2,
    Y2,
    Href,
    ViewBox,
    PreserveAspectRatio,
    SystemLanguage,
    RequiredExtensions,
    Type,
    Media,
    Xmlns,
    LinkHref,
    Label,
    GroupMode,
    Count
};

struct Attributes {
    std::array<std::string_view, static_cast<std::size_t>(Attribute::Count)> values{};
    std::uint32_t set = 0; ///< one bit for each that is there
    Properties properties; ///< of presentation attributes; style sheets and the style attribute come on top

    [[nodiscard]] bool has(Attribute which) const { return (set >> static_cast<unsigned>(which) & 1U) != 0; }
    [[nodiscard]] std::string_view operator[](Attribute which) const {
        return has(which) ? values[static_cast<std::size_t>(which)] : std::string_view{};
    }
};

/// Forgets what was there before.
void read_attributes(const pugi::xml_node& element, Attributes& attributes);

} // namespace padchart::svg
