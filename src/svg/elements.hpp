#pragma once
// The elements of SVG by what the reader does with them.

#include <cstdint>
#include <string_view>

namespace padchart::svg {

enum class Element : std::uint8_t {
    // Drawn
    Path,
    Rect,
    Circle,
    Ellipse,
    Line,
    Polyline,
    Polygon,
    // Hold drawn things
    Svg,
    G,
    A,
    Switch,
    Use,
    Symbol, ///< drawn only through use
    // Drawn by a browser, but no outline: reported
    Text,
    Image,
    ForeignObject,
    Style,
    Title,
    Animation,
    Silent, ///< never drawn where it stands: defs, gradients, clip paths, metadata, ...
    Unknown ///< no element of SVG: browsers draw neither it nor what is in it
};

[[nodiscard]] Element element_named(std::string_view local_name);
/// "g", "use", ...; static storage.
[[nodiscard]] std::string_view to_text(Element element);
[[nodiscard]] constexpr bool is_shape(Element element) {
    return element <= Element::Polygon;
}

} // namespace padchart::svg
