// What `use`, `symbol` and inner `svg` elements do to place and size.

#include <algorithm>
#include <charconv>
#include <string>

#include "geometry/mapped_box.hpp"
#include "svg/scan.hpp"
#include "svg/selectors.hpp"
#include "svg/viewport.hpp"
#include "svg/walker.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;

/// "%61" stands for "a" in the fragment of an address (RFC 3986, section 2.1).
std::string without_percent(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        unsigned code = 0;
        const bool escaped =
            text[i] == '%' && i + 2 < text.size() &&
            std::from_chars(text.data() + i + 1, text.data() + i + 3, code, 16).ptr == text.data() + i + 3;
        out.push_back(escaped ? static_cast<char>(static_cast<unsigned char>(code)) : text[i]);
        if (escaped) i += 2;
    }
    return out;
}

} // namespace

bool Walker::enter_viewport(const pugi::xml_node& node, const SizeOverride* size, Context& context, Window& window) {
    const Remark say = remark_at(node);
    LengthContext& lengths = context.inherited.lengths;
    // Browsers take sizes of an inner svg from its attributes only, not from its style.
    const auto length = [&](const char* name, Axis axis, double fallback, bool may_be_negative) {
        const std::string_view text = node.attribute(name).value();
        if (text.empty() || equal_ignoring_case(trimmed(text), "auto")) return fallback;
        const auto known = length_of(text, lengths, axis);
        if (known) return length_of_attribute(name, text, {axis, fallback, may_be_negative}, lengths, say);
        say(Severity::Fault, "bad-length",
            std::string(name) + "=" + quoted(text) + " is no length and is ignored, as in a browser");
        return fallback;
    };
    const double x = length("x", Axis::Horizontal, 0.0, true);
    const double y = length("y", Axis::Vertical, 0.0, true);
    double width = length("width", Axis::Horizontal, lengths.viewport_width, true);
    double height = length("height", Axis::Vertical, lengths.viewport_height, true);
    if (size != nullptr && size->has_width)
        width =
            length_of_attribute("width", size->width, {Axis::Horizontal, lengths.viewport_width, true}, lengths, say);
    if (size != nullptr && size->has_height)
        height =
            length_of_attribute("height", size->height, {Axis::Vertical, lengths.viewport_height, true}, lengths, say);
    if (width <= 0.0 || height <= 0.0) {
        say(Severity::Fault, "bad-length", "an inner svg of no size draws nothing");
        return false;
    }
    context.map = context.map * Affine::translation({x, y});
    window = {context.map, width, height, nullptr};
    lengths.viewport_width = width;
    lengths.viewport_height = height;
    const std::string_view text = node.attribute("viewBox").value();
    if (text.empty()) return true;
    const auto box = view_box_of(text);
    if (!box) {
        say(Severity::Fault, "bad-view-box",
            "viewBox=" + quoted(text) + " is not four numbers with sizes above 0 and is ignored");
        return true;
    }
    if (box->width == 0.0 || box->height == 0.0) {
        say(Severity::Fault, "bad-view-box", "a viewBox of no size draws nothing");
        return false;
    }
    context.map = context.map * fitted(*box, fit_of(node.attribute("preserveAspectRatio").value()), width, height);
    lengths.viewport_width = box->width;
    lengths.viewport_height = box->height;
    return true;
}

void Walker::remark_cut(const pugi::xml_node& node, Element element, const Window* window) {
    if (window == nullptr || measuring_ > 0) return;
    const DrawnShape& shape = drawing_.shapes.back();
    const auto reaches_out = [&](const Window& of) {
        if (of.map.determinant() == 0.0) return false;
        const Affine inside = of.map.inverse();
        const double slack = 1e-6 * std::max(of.width, of.height); // what is left of decimal fractions
        const geometry::Box whole = geometry::Box{{0, 0}, {of.width, of.height}}.grown(slack);
        const geometry::Box box = geometry::mapped(inside, shape.bbox);
        if (whole.contains(box.min) && whole.contains(box.max)) return false;
        for (const Subpath& subpath : drawing_.subpaths_of(shape))
            for (const Vec2 p : drawing_.points_of(subpath))
                if (!whole.contains(inside(p))) return true;
        return false;
    };
    for (; window != nullptr; window = window->outer) {
        if (!reaches_out(*window)) continue;
        remark(node, Severity::Note, "clip",
               named(to_text(element), attributes_[Attribute::Id]) +
                   " reaches out of the inner svg or symbol it lies in: a browser cuts what is seen, the geometry is "
                   "kept whole");
        return;
    }
}

Vec2 Walker::place_of_use(const pugi::xml_node& node, const LengthContext& lengths) {
    const auto length = [&](Property property, Axis axis) {
        return length_of_property(attributes_.properties, property, {axis, 0.0, true}, lengths, remark_at(node));
    };
    return {length(Property::X, Axis::Horizontal), length(Property::Y, Axis::Vertical)};
}

void Walker::visit_use(const pugi::xml_node& node, const Context& context) {
    const bool plain = attributes_.has(Attribute::Href);
    const std::string_view href = trimmed(attributes_[plain ? Attribute::Href : Attribute::LinkHref]);
    const Remark say = remark_at(node);
    if (!href.starts_with('#') || href.size() == 1) {
        say(Severity::Fault, "use-outside",
            "<use> refers to " + quoted(href) + ", not to a thing of this drawing: left out");
        return;
    }
    pugi::xml_node target = document_.find_id(href.substr(1));
    if (!target && href.find('%') != std::string_view::npos)
        target = document_.find_id(without_percent(href.substr(1)));
    if (!target) {
        say(Severity::Fault, "use-missing",
            "<use> refers to " + quoted(href) + ", which is not in the drawing: left out");
        return;
    }
    if (std::find(path_.begin(), path_.end(), target) != path_.end()) {
        say(Severity::Fault, "use-cycle", "<use> refers to " + quoted(href) + ", which holds it: left out");
        return;
    }
    visit_target(node, target, context);
}

void Walker::visit_target(const pugi::xml_node& node, const pugi::xml_node& target, Context context) {
    context.scope = target;
    context.plain_names_are_svg = plain_names_inside(target);
    const pugi::xml_attribute width = node.attribute("width");
    const pugi::xml_attribute height = node.attribute("height");
    SizeOverride size;
    // "auto" is no length here and counts as 0, as browsers take it.
    if ((size.has_width = static_cast<bool>(width))) size.width = width.value();
    if ((size.has_height = static_cast<bool>(height))) size.height = height.value();
    const Element element = element_named(local_name(target.name()));
    if (!is_shape(element) && element > Element::Symbol && element != Element::Text && element != Element::Image)
        remark(node, Severity::Fault, "use-missing",
               "<use> refers to <" + std::string(target.name()) + ">, which cannot be drawn: left out");
    Counters counters;
    ++instances_;
    visit(target, context, counters, &size);
    --instances_;
}

} // namespace padchart::svg
