#include "svg/elements.hpp"

#include <array>
#include <utility>

namespace padchart::svg {
namespace {

using Name = std::pair<std::string_view, Element>;

// The common ones first: the list is searched in order.
constexpr std::array kNames{
    Name{"path", Element::Path},
    Name{"rect", Element::Rect},
    Name{"g", Element::G},
    Name{"circle", Element::Circle},
    Name{"use", Element::Use},
    Name{"ellipse", Element::Ellipse},
    Name{"line", Element::Line},
    Name{"polyline", Element::Polyline},
    Name{"polygon", Element::Polygon},
    Name{"svg", Element::Svg},
    Name{"a", Element::A},
    Name{"switch", Element::Switch},
    Name{"symbol", Element::Symbol},
    Name{"text", Element::Text},
    Name{"image", Element::Image},
    Name{"foreignObject", Element::ForeignObject},
    Name{"style", Element::Style},
    Name{"title", Element::Title},
    Name{"animate", Element::Animation},
    Name{"animateTransform", Element::Animation},
    Name{"animateMotion", Element::Animation},
    Name{"set", Element::Animation},
    Name{"defs", Element::Silent},
    Name{"desc", Element::Silent},
    Name{"metadata", Element::Silent},
    Name{"clipPath", Element::Silent},
    Name{"mask", Element::Silent},
    Name{"pattern", Element::Silent},
    Name{"marker", Element::Silent},
    Name{"linearGradient", Element::Silent},
    Name{"radialGradient", Element::Silent},
    Name{"stop", Element::Silent},
    Name{"meshgradient", Element::Silent},
    Name{"hatch", Element::Silent},
    Name{"solidcolor", Element::Silent},
    Name{"filter", Element::Silent},
    Name{"script", Element::Silent},
    Name{"view", Element::Silent},
    Name{"cursor", Element::Silent},
    Name{"font", Element::Silent},
    Name{"font-face", Element::Silent},
    Name{"glyph", Element::Silent},
    Name{"color-profile", Element::Silent},
};

} // namespace

Element element_named(std::string_view local_name) {
    for (const Name& name : kNames)
        if (name.first == local_name) return name.second;
    return Element::Unknown;
}

std::string_view to_text(Element element) {
    for (const Name& name : kNames)
        if (name.second == element) return name.first;
    return "unknown";
}

} // namespace padchart::svg
