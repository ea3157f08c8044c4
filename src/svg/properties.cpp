#include "svg/properties.hpp"

#include "svg/lengths.hpp"
#include "svg/scan.hpp"
#include "svg/transforms.hpp"

namespace padchart::svg {
namespace {

constexpr std::array<std::string_view, kPropertyCount> kNames{"display",
                                                              "visibility",
                                                              "fill",
                                                              "stroke",
                                                              "font-size",
                                                              "transform",
                                                              "transform-origin",
                                                              "transform-box",
                                                              "translate",
                                                              "rotate",
                                                              "scale",
                                                              "x",
                                                              "y",
                                                              "width",
                                                              "height",
                                                              "cx",
                                                              "cy",
                                                              "r",
                                                              "rx",
                                                              "ry",
                                                              "d",
                                                              "clip-path",
                                                              "mask",
                                                              "filter",
                                                              "marker-start",
                                                              "marker-mid",
                                                              "marker-end",
                                                              "opacity",
                                                              "overflow",
                                                              "fill-opacity",
                                                              "stroke-opacity",
                                                              "stroke-width"};

bool is_one_of(std::string_view value, std::initializer_list<std::string_view> words) {
    for (const std::string_view word : words)
        if (equal_ignoring_case(value, word)) return true;
    return false;
}

/// The few properties that could move or hide a shape and are not understood.
bool moves_shapes_unread(std::string_view name) {
    return is_one_of(name, {"offset-path", "offset", "zoom", "all"});
}

bool is_css_wide(std::string_view value) {
    return is_one_of(value, {"initial", "unset", "revert"});
}

bool is_length(std::string_view value, bool in_sheet, bool may_be_negative) {
    const LengthContext context{100.0, 100.0, 16.0, 16.0};
    const auto length = length_of(value, context, Axis::Horizontal, in_sheet ? Unitless::Refused : Unitless::Allowed);
    if (!length) return false;
    // calc() and its like are clamped where they are used, never an error.
    return may_be_negative || *length >= 0.0 || is_letter(value.front());
}

bool is_valid_display(std::string_view value) {
    return is_one_of(value, {"none",
                             "inline",
                             "block",
                             "list-item",
                             "inline-block",
                             "table",
                             "inline-table",
                             "table-row-group",
                             "table-header-group",
                             "table-footer-group",
                             "table-row",
                             "table-column-group",
                             "table-column",
                             "table-cell",
                             "table-caption",
                             "flex",
                             "inline-flex",
                             "grid",
                             "inline-grid",
                             "contents",
                             "flow-root",
                             "inherit"});
}

bool is_valid_path(std::string_view value) {
    if (is_one_of(value, {"none"})) return true;
    if (value.size() <= 7 || !equal_ignoring_case(value.substr(0, 5), "path(") || value.back() != ')') return false;
    const std::string_view inside = trimmed(value.substr(5, value.size() - 6)); // no fill rule, unlike clip paths
    return inside.size() >= 2 && (inside.front() == '"' || inside.front() == '\'') && inside.back() == inside.front();
}

/// End of the declaration that starts at `from`: its ';', outside quotes and brackets.
std::size_t end_of_declaration(std::string_view text, std::size_t from) {
    int depth = 0;
    return find_outside_quotes(text, from, [&](char c) {
        if (c == '(' || c == '[' || c == '{') ++depth;
        if ((c == ')' || c == ']' || c == '}') && depth > 0) --depth;
        return c == ';' && depth == 0;
    });
}

bool take_important(std::string_view& value) {
    const std::size_t mark = value.rfind('!');
    if (mark == std::string_view::npos || !equal_ignoring_case(trimmed(value.substr(mark + 1)), "important"))
        return false;
    value = trimmed(value.substr(0, mark));
    return true;
}

} // namespace

std::string_view to_text(Property property) {
    return kNames[static_cast<std::size_t>(property)];
}

std::optional<Property> property_named(std::string_view name) {
    if (name.empty()) return std::nullopt;
    // By first letter: most attributes and declarations are none of ours and should be done with at once.
    static const auto kByLetter = [] {
        std::array<std::uint32_t, 26> masks{};
        for (std::size_t i = 0; i < kPropertyCount; ++i)
            masks[static_cast<std::size_t>(kNames[i].front() - 'a')] |= std::uint32_t{1} << i;
        return masks;
    }();
    const char first = to_lower(name.front());
    if (first < 'a' || first > 'z') return std::nullopt;
    for (std::uint32_t mask = kByLetter[static_cast<std::size_t>(first - 'a')]; mask != 0; mask &= mask - 1) {
        const auto i = static_cast<std::size_t>(std::countr_zero(mask));
        if (equal_ignoring_case(kNames[i], name)) return static_cast<Property>(i);
    }
    return std::nullopt;
}

bool is_valid(Property property, std::string_view value, bool in_sheet) {
    if (value.empty()) return false;
    if (is_css_wide(value) || is_one_of(value, {"inherit"}) || holds_variable(value)) return true;
    const LengthContext context{100.0, 100.0, 16.0, 16.0};
    switch (property) {
    case Property::Display: return is_valid_display(value);
    case Property::Visibility: return is_one_of(value, {"visible", "hidden", "collapse", "inherit"});
    case Property::FontSize:
        return font_size_of(value, context, in_sheet ? Unitless::Refused : Unitless::Allowed).has_value();
    case Property::Transform: return css_transform_of(value, context).has_value();
    case Property::TransformOrigin:
        return transform_origin_of(value, context, {}, {100, 100}, in_sheet ? Unitless::Refused : Unitless::Allowed)
            .has_value();
    case Property::TransformBox:
        return is_one_of(value, {"view-box", "fill-box", "stroke-box", "content-box", "border-box"});
    case Property::Translate: return css_translate_of(value, context).has_value();
    case Property::Rotate: return css_rotate_of(value).has_value();
    case Property::Scale: return css_scale_of(value).has_value();
    // Sizes that SVG alone knows need no unit anywhere, as browsers take it; width and height do in a sheet.
    case Property::X:
    case Property::Y:
    case Property::Cx:
    case Property::Cy: return is_length(value, false, true);
    case Property::Rx:
    case Property::Ry: return is_one_of(value, {"auto"}) || is_length(value, false, false);
    case Property::R: return is_length(value, false, false);
    case Property::Width:
    case Property::Height: return is_one_of(value, {"auto"}) || is_length(value, in_sheet, false);
    case Property::D: return is_valid_path(value);
    default: return true;
    }
}

std::size_t find_variable(std::string_view value) {
    for (std::size_t at = value.find('('); at != std::string_view::npos; at = value.find('(', at + 1)) {
        if (at < 3 || !equal_ignoring_case(value.substr(at - 3, 3), "var")) continue;
        // "myvar(" is a function of another name.
        if (at == 3 ||
            (!is_letter(value[at - 4]) && !is_digit(value[at - 4]) && value[at - 4] != '-' && value[at - 4] != '_'))
            return at - 3;
    }
    return std::string_view::npos;
}

namespace {

/// Calls with name and value of each "name: value" of a list; what has no colon is passed over.
template <class Take>
void each_declaration(std::string_view text, Take take) {
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = end_of_declaration(text, at);
        const std::string_view declaration = text.substr(at, end - at);
        at = end + 1;
        const std::size_t colon = declaration.find(':');
        if (colon != std::string_view::npos)
            take(trimmed(declaration.substr(0, colon)), trimmed(declaration.substr(colon + 1)));
    }
}

} // namespace

void read_custom_properties(std::string_view text, const std::function<void(const CustomProperty&)>& take) {
    if (text.find("--") == std::string_view::npos) return;
    each_declaration(text, [&](std::string_view name, std::string_view value) {
        CustomProperty found{name, value, false};
        if (found.name.size() < 3 || !found.name.starts_with("--")) return;
        found.important = take_important(found.value);
        take(found);
    });
}

void read_declarations(std::string_view text, bool in_sheet, const std::function<void(const Declaration&)>& take,
                       const std::function<void(const RefusedDeclaration&)>& refuse) {
    each_declaration(text, [&](std::string_view name, std::string_view value) {
        const auto property = property_named(name);
        if (!property && moves_shapes_unread(name)) refuse({name, value});
        if (!property) return;
        Declaration found{*property, value, false};
        found.important = take_important(found.value);
        if (is_valid(found.property, found.value, in_sheet))
            take(found);
        else
            refuse({name, value});
    });
}

std::string words_of(const RefusedDeclaration& refused) {
    constexpr std::size_t kLongest = 60;
    const bool unread = !property_named(refused.name).has_value();
    std::string value(refused.value.substr(0, kLongest));
    if (refused.value.size() > kLongest) value += "...";
    return unread ? std::string(refused.name) + ": " + value + " may move shapes and is not applied"
                  : "the value \"" + value + "\" of " + std::string(refused.name) +
                        (hangs_on_window(refused.value) ? " hangs on the window or the font: it is not applied"
                                                        : " is not valid here and is not applied");
}

} // namespace padchart::svg
