#include "svg/css_values.hpp"

#include <optional>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

constexpr int kDeepest = 32;
constexpr std::size_t kLongest = 65'536;

bool is_inherit(std::string_view text) {
    return text.size() == 7 && equal_ignoring_case(text, "inherit");
}

bool is_of_paint(Property property) {
    return property == Property::Fill || property == Property::FillOpacity || property == Property::Stroke ||
           property == Property::StrokeOpacity || property == Property::StrokeWidth;
}

/// Those go down the tree by themselves; the reader hands them on as it is.
bool is_inherited(Property property) {
    return property == Property::Visibility || property == Property::FontSize || is_of_paint(property);
}

/// A path of a hundred thousand points is not searched for a function that may not stand there.
bool may_hold_functions(Property property, const PropertyValue& value) {
    return property != Property::D || value.from_css();
}

std::string_view local_name(const pugi::xml_node& element) {
    const std::string_view name = element.name();
    const std::size_t colon = name.find(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

/// The bracket that closes the one before `from`, or the end.
std::size_t closing_bracket(std::string_view text, std::size_t from) {
    int depth = 1;
    for (std::size_t i = from; i < text.size(); ++i) {
        if (text[i] == '(') ++depth;
        if (text[i] == ')' && --depth == 0) return i;
    }
    return text.size();
}

std::size_t top_comma(std::string_view text) {
    int depth = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '(') ++depth;
        if (text[i] == ')') --depth;
        if (text[i] == ',' && depth == 0) return i;
    }
    return std::string_view::npos;
}

} // namespace

bool CssValues::needs_settling(const Properties& properties) {
    return properties.any_of([](Property property, const PropertyValue& value) {
        return (is_inherit(value.text) && !is_inherited(property) && property != Property::Display) ||
               (may_hold_functions(property, value) && holds_variable(value.text));
    });
}

void CssValues::settle_all(const pugi::xml_node& element, std::span<const pugi::xml_node> ancestors,
                           const pugi::xml_node& scope, Properties& properties, const Remark& remark, int depth) {
    const Place place{element, ancestors, scope};
    for (std::size_t i = 0; i < kPropertyCount; ++i) {
        const auto property = static_cast<Property>(i);
        const PropertyValue value = properties[property];
        if (!value.is_set) continue;
        if (may_hold_functions(property, value) && holds_variable(value.text)) {
            std::string text;
            const bool known = substitute(place, value.text, text, depth);
            const std::string_view settled = *texts_.insert(std::string(trimmed(text))).first;
            const bool fits = known && (is_inherit(settled) || is_valid(property, settled, value.from_sheet()));
            if (!fits)
                remark(Severity::Warning, "css-variable",
                       std::string(to_text(property)) + ": " + quoted(value.text) +
                           (known ? " becomes " + quoted(settled) + ", which is no value of it, and counts as unset"
                                  : " names what is not set and counts as unset"));
            properties.replace(property, fits ? settled : is_of_paint(property) ? "inherit" : "unset", value.weight);
        }
        const std::string_view now = properties[property].text;
        if (is_inherit(now) && !is_inherited(property) && property != Property::Display)
            settle_inherit(place, property, properties, remark, depth);
    }
}

void CssValues::settle_inherit(const Place& place, Property property, Properties& properties, const Remark& remark,
                               int depth) {
    const Weight weight = properties[property].weight;
    if (place.ancestors.empty() || depth >= kDeepest) return properties.replace(property, "unset", weight);
    const pugi::xml_node& parent = place.ancestors.back();
    Attributes attributes;
    InlineStyles styles;
    read_attributes(parent, attributes);
    apply_styles(parent, local_name(parent), sheet_, budget_, place.scope, attributes, styles);
    const auto above = place.ancestors.first(place.ancestors.size() - 1);
    if (needs_settling(attributes.properties))
        settle_all(parent, above, place.scope, attributes.properties, remark, depth + 1);
    const PropertyValue& value = attributes.properties[property];
    if (!value.is_set) return properties.replace(property, "unset", weight);
    properties.replace(property, *texts_.insert(std::string(value.text)).first, value.weight);
}

bool CssValues::substitute(const Place& place, std::string_view text, std::string& out, int depth) {
    if (depth >= kDeepest) return false;
    while (true) {
        const std::size_t at = find_variable(text);
        out += text.substr(0, at);
        if (out.size() > kLongest) return false;
        if (at == std::string_view::npos) return true;
        const std::size_t inside = at + 4;
        const std::size_t end = closing_bracket(text, inside);
        const std::string_view arguments = text.substr(inside, end - inside);
        const std::size_t comma = top_comma(arguments);
        const std::string_view name = trimmed(arguments.substr(0, comma));
        std::string value;
        const bool known = custom_property(place, name, value);
        std::string settled;
        bool fine = known && substitute(place, value, settled, depth + 1);
        if (!fine && comma != std::string_view::npos) {
            settled.clear();
            fine = substitute(place, arguments.substr(comma + 1), settled, depth + 1);
        }
        if (!fine) return false;
        out += settled;
        text = end < text.size() ? text.substr(end + 1) : std::string_view();
    }
}

bool CssValues::custom_property(const Place& place, std::string_view name, std::string& out) const {
    if (!name.starts_with("--")) return false;
    for (std::size_t up = 0; up <= place.ancestors.size(); ++up) {
        const pugi::xml_node& element = up == 0 ? place.element : place.ancestors[place.ancestors.size() - up];
        Weight best = 0;
        std::optional<std::string> found;
        const auto take = [&](std::string_view value, Weight weight) {
            if (found && weight < best) return;
            found = std::string(value);
            best = weight;
        };
        sheet_.custom(element, place.scope, name, budget_, take);
        const std::string style = without_comments(element.attribute("style").value());
        read_custom_properties(style, [&](const CustomProperty& own) {
            if (own.name == name) take(own.value, kInline | (own.important ? kImportant : 0));
        });
        const bool says_nothing =
            found && (equal_ignoring_case(*found, "inherit") || equal_ignoring_case(*found, "unset"));
        if (!found || says_nothing) continue;
        if (equal_ignoring_case(*found, "initial")) return false;
        out = std::move(*found);
        return true;
    }
    return false;
}

} // namespace padchart::svg
