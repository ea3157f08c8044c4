// What the walk needs to know of the document as a whole: its style sheets and its namespaces.

#include "svg/media_query.hpp"
#include "svg/scan.hpp"
#include "svg/selectors.hpp"
#include "svg/walker.hpp"

namespace padchart::svg {
namespace {

constexpr std::string_view kSvgNamespace = "http://www.w3.org/2000/svg";

bool is_element(const pugi::xml_node& node) {
    return node.type() == pugi::node_element;
}

} // namespace

void Walker::collect_styles(const pugi::xml_node& root) {
    // Iterative: a drawing may be nested deeper than the stack.
    for (pugi::xml_node node = root; node;) {
        if (is_element(node) && local_name(node.name()) == "style") add_style(node);
        if (node.first_child()) {
            node = node.first_child();
            continue;
        }
        while (node && node != root && !node.next_sibling())
            node = node.parent();
        if (!node || node == root) return;
        node = node.next_sibling();
    }
}

void Walker::add_style(const pugi::xml_node& style) {
    const std::string_view type = trimmed(style.attribute("type").value());
    if (!type.empty() && !equal_ignoring_case(type, "text/css")) {
        remark(style, Severity::Warning, "style-not-read", "a style sheet of type " + quoted(type) + " is not read");
        return;
    }
    const std::string_view media = trimmed(style.attribute("media").value());
    const auto answer = media_answer(media);
    if (!answer || !answer->applies) {
        remark(style, Severity::Note, "style-not-read", "a style sheet for " + quoted(media) + " is not applied");
        return;
    }
    if (answer->asks_size)
        remark(style, Severity::Warning, "css",
               "a style sheet for " + quoted(media) +
                   " hangs on the size of the window: taken as on a screen of "
                   "1280 x 720");
    std::string text;
    for (const pugi::xml_node part : style.children())
        if (part.type() == pugi::node_pcdata || part.type() == pugi::node_cdata) text += part.value();
    sheet_.add(text, [&](const std::string& message) { remark(style, Severity::Warning, "css", message); });
}

bool Walker::plain_names_inside(const pugi::xml_node& node) const {
    for (pugi::xml_node at = node; is_element(at); at = at.parent())
        if (const pugi::xml_attribute declared = at.attribute("xmlns")) return declared.value() == kSvgNamespace;
    // No namespace at all: taken as SVG, as inside HTML; but not beside a root that has a prefix.
    return std::string_view(document_.document_element().name()).find(':') == std::string_view::npos;
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
