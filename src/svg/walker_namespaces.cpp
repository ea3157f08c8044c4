// Which elements are SVG's, by their namespaces.

#include "svg/walker.hpp"

namespace padchart::svg {
namespace {

constexpr std::string_view kSvgNamespace = "http://www.w3.org/2000/svg";

bool is_element(const pugi::xml_node& node) {
    return node.type() == pugi::node_element;
}

} // namespace

bool Walker::plain_names_inside(const pugi::xml_node& node) const {
    for (pugi::xml_node at = node; is_element(at); at = at.parent())
        if (const pugi::xml_attribute declared = at.attribute("xmlns")) return declared.value() == kSvgNamespace;
    // No namespace at all: taken as SVG, as inside HTML; but not beside a root that has a prefix.
    return std::string_view(document_.root().name()).find(':') == std::string_view::npos;
}

bool Walker::is_svg(const pugi::xml_node& node, bool plain_names_are_svg) const {
    const std::string_view name = node.name();
    const std::size_t colon = name.find(':');
    if (colon == std::string_view::npos) return plain_names_are_svg;
    const std::string declaration = "xmlns:" + std::string(name.substr(0, colon));
    for (pugi::xml_node at = node; is_element(at); at = at.parent())
        if (const pugi::xml_attribute declared = at.attribute(declaration.c_str()))
            return declared.value() == kSvgNamespace;
    return name.substr(0, colon) == "svg";
}

} // namespace padchart::svg
