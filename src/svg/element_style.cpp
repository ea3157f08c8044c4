#include "svg/element_style.hpp"

#include <algorithm>

#include "svg/scan.hpp"
#include "svg/transforms.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Box;
using geometry::Vec2;

bool is_css_wide(std::string_view text) {
    return equal_ignoring_case(text, "initial") || equal_ignoring_case(text, "unset") ||
           equal_ignoring_case(text, "revert");
}

bool is_word(const PropertyValue& value, std::string_view word) {
    return value.is_set && equal_ignoring_case(trimmed(value.text), word);
}

Unitless unitless_in(const PropertyValue& value) {
    return value.from_sheet() ? Unitless::Refused : Unitless::Allowed;
}

/// Nothing for a property that is not there or says "none".
template <class Read>
void multiply(Affine& all, const PropertyValue& value, const Read& read) {
    if (!value.is_set || !value.from_css() || is_css_wide(value.text)) return;
    if (const auto map = read(value.text)) all = all * *map;
}

Affine listed_transform(const PropertyValue& value, const LengthContext& reference, const Remark& remark) {
    if (!value.is_set || is_css_wide(value.text)) return {};
    const auto map = value.from_css() ? css_transform_of(value.text, reference) : transform_attribute_of(value.text);
    if (map) return *map;
    if (!equal_ignoring_case(trimmed(value.text), "none"))
        remark(Severity::Fault, "transform-ignored",
               "transform=" + quoted(value.text) + " is not understood and counts as none, as in a browser");
    return {};
}

bool refers_to_own_box(const PropertyValue& box) {
    return box.is_set && !is_word(box, "view-box") && !is_css_wide(box.text);
}

} // namespace

std::string quoted(std::string_view text) {
    constexpr std::size_t kLongest = 48;
    std::string out = "\"";
    std::size_t end = std::min(text.size(), kLongest);
    while (end < text.size() && end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U)
        --end;
    for (const char c : text.substr(0, end))
        out.push_back(is_blank(c) ? ' ' : c);
    return out + (end < text.size() ? "...\"" : "\"");
}

std::string named(std::string_view element, std::string_view id) {
    return std::string(element) + (id.empty() ? std::string() : " " + quoted(id));
}

const InlineStyles::Entry& InlineStyles::read(std::string_view text) {
    const bool commented = text.find("/*") != std::string_view::npos;
    Entry& entry = commented ? commented_ : entries_[std::hash<std::string_view>{}(text) % entries_.size()];
    if (!commented && entry.text == text) return entry;
    if (commented) without_comments_ = without_comments(text);
    entry.text = commented ? std::string_view(without_comments_) : text;
    entry.declarations.clear();
    entry.refused.clear();
    read_declarations(
        entry.text, false, [&](const Declaration& found) { entry.declarations.push_back(found); },
        [&](const RefusedDeclaration& refused) { entry.refused.push_back(refused); });
    return entry;
}

std::span<const RefusedDeclaration> apply_styles(const pugi::xml_node& element, std::string_view type,
                                                 const StyleSheet& sheet, StyleBudget& budget,
                                                 const pugi::xml_node& scope, Attributes& attributes,
                                                 InlineStyles& styles) {
    if (!sheet.is_empty())
        sheet.apply(element, {type, attributes[Attribute::Id], attributes[Attribute::Class]}, scope,
                    attributes.properties, budget);
    const std::string_view style = attributes[Attribute::Style];
    if (style.empty()) return {};
    const InlineStyles::Entry& entry = styles.read(style);
    for (const Declaration& found : entry.declarations)
        attributes.properties.set(found.property, found.value, kInline | (found.important ? kImportant : 0));
    return entry.refused;
}

bool is_nought(std::string_view text) {
    return text.find('0') != std::string_view::npos && text.find_first_not_of("0.%+ ") == std::string_view::npos;
}

bool is_clear_colour(std::string_view text) {
    text = trimmed(text);
    if (equal_ignoring_case(text, "transparent")) return true;
    if (text.starts_with('#'))
        return (text.size() == 5 && text.ends_with('0')) || (text.size() == 9 && text.ends_with("00"));
    const std::size_t open = text.find('(');
    if (open == std::string_view::npos || !text.ends_with(')')) return false;
    const std::string_view inside = text.substr(open + 1, text.size() - open - 2);
    // After a slash, or fourth of those with commas (CSS Color 4, section 4.1).
    const std::size_t slash = inside.rfind('/'), comma = inside.rfind(',');
    if (slash != std::string_view::npos) return is_nought(trimmed(inside.substr(slash + 1)));
    return std::count(inside.begin(), inside.end(), ',') == 3 && is_nought(trimmed(inside.substr(comma + 1)));
}

bool is_only_contents(const Properties& properties) {
    return is_word(properties[Property::Display], "contents");
}

bool is_displayed(const Properties& properties) {
    return !is_word(properties[Property::Display], "none");
}

namespace {

void take_paint(PaintUnseen& own, const PropertyValue& colour, const PropertyValue& opacity) {
    if (colour.is_set && !is_word(colour, "inherit")) own.clear_colour = is_clear_colour(colour.text);
    if (opacity.is_set && !is_word(opacity, "inherit")) own.no_opacity = is_nought(trimmed(opacity.text));
}

bool has_no_width(const PropertyValue& width, const LengthContext& lengths) {
    const auto length = length_of(width.text, lengths, Axis::Horizontal);
    return length && *length == 0.0;
}

} // namespace

Inherited inherited_by_children(const Properties& properties, const Inherited& parent) {
    Inherited own = parent;
    if (const PropertyValue& size = properties[Property::FontSize]; size.is_set)
        if (const auto px = font_size_of(size.text, parent.lengths, unitless_in(size))) own.lengths.font_size = *px;
    const PropertyValue& visibility = properties[Property::Visibility];
    if (is_word(visibility, "visible") || is_word(visibility, "initial"))
        own.visible = true;
    else if (is_word(visibility, "hidden") || is_word(visibility, "collapse"))
        own.visible = false;
    if (const PropertyValue& fill = properties[Property::Fill]; fill.is_set && !is_word(fill, "inherit"))
        own.has_fill = !is_word(fill, "none");
    if (const PropertyValue& stroke = properties[Property::Stroke]; stroke.is_set && !is_word(stroke, "inherit"))
        own.has_stroke = !is_word(stroke, "none") && !is_css_wide(stroke.text);
    take_paint(own.fill_unseen, properties[Property::Fill], properties[Property::FillOpacity]);
    take_paint(own.stroke_unseen, properties[Property::Stroke], properties[Property::StrokeOpacity]);
    if (const PropertyValue& width = properties[Property::StrokeWidth]; width.is_set && !is_word(width, "inherit"))
        own.stroke_unseen.no_width = has_no_width(width, own.lengths);
    return own;
}

Affine transform_of(const Properties& properties, const LengthContext& lengths, const std::function<Box()>& own_box,
                    const Remark& remark) {
    const PropertyValue& listed = properties[Property::Transform];
    const PropertyValue& translate = properties[Property::Translate];
    const PropertyValue& rotate = properties[Property::Rotate];
    const PropertyValue& scale = properties[Property::Scale];
    if (!listed.is_set && !translate.is_set && !rotate.is_set && !scale.is_set) return {};

    Vec2 box_min;
    Vec2 box_size{lengths.viewport_width, lengths.viewport_height};
    const bool own = refers_to_own_box(properties[Property::TransformBox]);
    if (own) {
        const Box box = own_box();
        box_min = box.is_empty() ? Vec2{} : box.min;
        box_size = {box.width(), box.height()};
        const PropertyValue& kind = properties[Property::TransformBox];
        if (is_word(kind, "stroke-box") || is_word(kind, "border-box"))
            remark(Severity::Warning, "transform-box",
                   "transform-box: " + std::string(trimmed(kind.text)) +
                       " is taken without the width of the stroke: the place may be wrong");
    }
    LengthContext reference = lengths;
    reference.viewport_width = box_size.x;
    reference.viewport_height = box_size.y;

    Affine all;
    multiply(all, translate, [&](std::string_view text) { return css_translate_of(text, reference); });
    multiply(all, rotate, [&](std::string_view text) { return css_rotate_of(text); });
    multiply(all, scale, [&](std::string_view text) { return css_scale_of(text); });
    all = all * listed_transform(listed, reference, remark);

    Vec2 origin = box_min;
    if (const PropertyValue& given = properties[Property::TransformOrigin]; given.is_set && !is_css_wide(given.text))
        if (const auto read = transform_origin_of(given.text, lengths, box_min, box_size, unitless_in(given)))
            origin = *read;
    if (origin == Vec2{}) return all;
    return Affine::translation(origin) * all * Affine::translation(-origin);
}

namespace {

void remark_font(std::string_view name, std::string_view text, const Remark& remark) {
    if (hangs_on_font(text))
        remark(Severity::Warning, "font-unit",
               std::string(name) + "=" + quoted(text) +
                   " hangs on the font: taken as half the font size each, a browser may differ");
}

} // namespace

double length_of_attribute(std::string_view name, std::string_view text, const LengthRule& rule,
                           const LengthContext& lengths, const Remark& remark) {
    const auto length = length_of(text, lengths, rule.axis);
    if (!length) {
        remark(Severity::Fault, "bad-length",
               std::string(name) + "=" + quoted(text) +
                   (hangs_on_window(text)
                        ? " hangs on the window or the font and counts as 0: write mm or plain numbers"
                        : " is no length and counts as 0, as in a browser"));
        return 0.0;
    }
    remark_font(name, text, remark);
    if (*length < 0.0 && !rule.may_be_negative) {
        remark(Severity::Fault, "bad-length", std::string(name) + "=" + quoted(text) + " is negative and is ignored");
        return rule.fallback;
    }
    return *length;
}

double length_of_property(const Properties& properties, Property property, const LengthRule& rule,
                          const LengthContext& lengths, const Remark& remark) {
    const PropertyValue& value = properties[property];
    if (!value.is_set) return rule.fallback;
    if (!value.from_css()) return length_of_attribute(to_text(property), value.text, rule, lengths, remark);
    const auto length = length_of(value.text, lengths, rule.axis); // plain numbers were judged when declared
    if (!length) return rule.fallback;                             // auto, initial
    remark_font(to_text(property), value.text, remark);
    return rule.may_be_negative ? *length : std::max(0.0, *length);
}

std::optional<double> radius_of_property(const Properties& properties, Property property, Axis axis,
                                         const LengthContext& lengths, const Remark& remark) {
    const PropertyValue& value = properties[property];
    if (!value.is_set) return std::nullopt;
    const auto length = length_of(value.text, lengths, axis);
    if (length) remark_font(to_text(property), value.text, remark);
    if (length && *length >= 0.0) return length;
    if (value.from_css()) return length ? std::optional(0.0) : std::nullopt; // a calc() below 0; auto
    if (length) {
        remark(Severity::Fault, "bad-length",
               std::string(to_text(property)) + "=" + quoted(value.text) + " is negative and is ignored");
        return std::nullopt;
    }
    remark(Severity::Warning, "bad-length",
           std::string(to_text(property)) + "=" + quoted(value.text) +
               " is no length and counts as 0, as in a browser");
    return 0.0;
}

} // namespace padchart::svg
