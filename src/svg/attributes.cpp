#include "svg/attributes.hpp"

#include <optional>

namespace padchart::svg {
namespace {

std::optional<Attribute> plain_attribute(std::string_view name) {
    switch (name.size()) {
    case 2:
        if (name == "id") return Attribute::Id;
        if (name == "x1") return Attribute::X1;
        if (name == "y1") return Attribute::Y1;
        if (name == "x2") return Attribute::X2;
        if (name == "y2") return Attribute::Y2;
        break;
    case 4:
        if (name == "href") return Attribute::Href;
        if (name == "type") return Attribute::Type;
        break;
    case 5:
        if (name == "style") return Attribute::Style;
        if (name == "class") return Attribute::Class;
        if (name == "media") return Attribute::Media;
        if (name == "xmlns") return Attribute::Xmlns;
        break;
    case 6:
        if (name == "points") return Attribute::Points;
        break;
    case 7:
        if (name == "viewBox") return Attribute::ViewBox;
        break;
    case 9:
        if (name == "data-name") return Attribute::DataName;
        break;
    case 14:
        if (name == "systemLanguage") return Attribute::SystemLanguage;
        break;
    case 18:
        if (name == "requiredExtensions") return Attribute::RequiredExtensions;
        break;
    case 19:
        if (name == "preserveAspectRatio") return Attribute::PreserveAspectRatio;
        break;
    default: break;
    }
    return std::nullopt;
}

/// Presentation attributes are spelled in lower case; CSS property names do not care.
std::optional<Property> presentation_attribute(std::string_view name) {
    for (const char c : name)
        if (c >= 'A' && c <= 'Z') return std::nullopt;
    const auto property = property_named(name);
    if (!property) return std::nullopt;
    // CSS only: these names mean nothing as attributes.
    if (*property == Property::Translate || *property == Property::Rotate || *property == Property::Scale)
        return std::nullopt;
    return property;
}

std::optional<Attribute> prefixed_attribute(std::string_view prefix, std::string_view name) {
    if (prefix == "xmlns" || prefix == "xml") return std::nullopt;
    if (name == "href") return Attribute::LinkHref;
    if (name == "label") return Attribute::Label;
    if (name == "groupmode") return Attribute::GroupMode;
    return std::nullopt;
}

} // namespace

void read_attributes(const pugi::xml_node& element, Attributes& attributes) {
    attributes.set = 0;
    attributes.properties.clear();
    for (pugi::xml_attribute at = element.first_attribute(); at; at = at.next_attribute()) {
        const std::string_view name = at.name();
        const std::size_t colon = name.find(':');
        const bool prefixed = colon != std::string_view::npos;
        const auto which =
            prefixed ? prefixed_attribute(name.substr(0, colon), name.substr(colon + 1)) : plain_attribute(name);
        if (which) {
            attributes.values[static_cast<std::size_t>(*which)] = at.value();
            attributes.set |= 1U << static_cast<unsigned>(*which);
        } else if (!prefixed) {
            if (const auto property = presentation_attribute(name))
                attributes.properties.set(*property, at.value(), kAttributeWeight);
        }
    }
}

} // namespace padchart::svg
