#include "svg/walker.hpp"

#include "svg/element_shape.hpp"
#include "svg/flatten.hpp"
#include "svg/page.hpp"
#include "svg/scan.hpp"
#include "svg/selectors.hpp"
#include "svg/viewport.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Box;

constexpr std::string_view kSvgNamespace = "http://www.w3.org/2000/svg";
constexpr int kMaxMeasuring = 4; ///< transform boxes of groups within groups

bool is_element(const pugi::xml_node& node) {
    return node.type() == pugi::node_element;
}

std::size_t counter_of(Element element) {
    return static_cast<std::size_t>(element);
}

bool is_none(const PropertyValue& value) {
    return !value.is_set || equal_ignoring_case(trimmed(value.text), "none");
}

/// "U4 of layer pads" for messages: id or nothing.
std::string named(std::string_view element, std::string_view id) {
    return std::string(element) + (id.empty() ? std::string() : " " + quoted(id));
}

std::string_view label_of(const Attributes& attributes) {
    const std::string_view label = trimmed(attributes[Attribute::Label]);
    return label.empty() ? trimmed(attributes[Attribute::DataName]) : label;
}

Severity severity_of_limit() {
    return Severity::Fault;
}

} // namespace

Walker::Walker(const pugi::xml_document& document, const ReadOptions& options, Report& report)
    : document_(document), options_(options), report_(report) {}

void Walker::remark(const pugi::xml_node& node, Severity severity, std::string_view code, std::string message) {
    if (measuring_ > 0) return; // what is only measured is reported when it is drawn
    report_.add(severity, code, std::move(message), std::max<std::ptrdiff_t>(0, node.offset_debug() - 1));
}

Remark Walker::remark_at(const pugi::xml_node& node) {
    const auto take = [](void* walker, const pugi::xml_node& at, Severity severity, std::string_view code,
                         std::string message) {
        static_cast<Walker*>(walker)->remark(at, severity, code, std::move(message));
    };
    return {take, this, node};
}

Drawing Walker::walk(const pugi::xml_node& root) {
    Context context;
    context.plain_names_are_svg = plain_names_inside(root);
    collect_styles(root);
    read_attributes(root, attributes_);
    apply_styles(root, "svg", sheet_, {}, attributes_, clean_style_);
    context.inherited = inherited_by_children(attributes_.properties, {});
    context.inherited.lengths.root_font_size = context.inherited.lengths.font_size;

    const Page page = page_of(attributes_, context.inherited.lengths, remark_at(root));
    drawing_.mm_per_unit = page.mm_per_unit;
    drawing_.title = title_of(root);
    drawing_.size_note = page.size_note;
    drawing_.size_in_px = page.size_in_px;
    drawing_.page_width = page.width;
    drawing_.page_height = page.height;
    context.inherited.lengths.viewport_width = page.viewport_width;
    context.inherited.lengths.viewport_height = page.viewport_height;
    // The outermost svg is a CSS box: it turns about its middle unless it says otherwise.
    LengthContext as_box = context.inherited.lengths;
    as_box.viewport_width = page.width;
    as_box.viewport_height = page.height;
    if (!attributes_.properties[Property::TransformOrigin].is_set &&
        attributes_.properties[Property::Transform].is_set) {
        attributes_.properties.set(Property::TransformOrigin, "center", kAttributeWeight);
        remark(root, Severity::Note, "root-transform",
               "the outermost svg is transformed, about its middle as in a browser");
    }
    context.map = transform_of(
                      attributes_.properties, as_box,
                      [&] {
                          return Box{{0, 0}, {page.width, page.height}};
                      },
                      remark_at(root)) *
                  page.map;
    const bool displayed = is_displayed(attributes_.properties);
    if (!displayed)
        remark(root, Severity::Fault, "not-displayed", "the whole drawing says display:none: nothing is drawn");
    if (displayed && page.draws) {
        path_.push_back(root);
        visit_children(root, context);
    }
    return std::move(drawing_);
}

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
    if (!media.empty() && !equal_ignoring_case(media, "all") && !equal_ignoring_case(media, "screen")) {
        remark(style, Severity::Note, "style-not-read", "a style sheet for " + quoted(media) + " is not applied");
        return;
    }
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

bool Walker::passes_conditions(const pugi::xml_node& node) const {
    if (attributes_.has(Attribute::RequiredExtensions)) return false;
    if (!attributes_.has(Attribute::SystemLanguage)) return true;
    const auto primary = [](std::string_view tag) { return trimmed(tag).substr(0, trimmed(tag).find('-')); };
    std::string_view list = node.attribute("systemLanguage").value();
    while (!list.empty()) {
        const std::size_t comma = list.find(',');
        if (const std::string_view tag = primary(list.substr(0, comma));
            !tag.empty() && equal_ignoring_case(tag, primary(options_.language)))
            return true;
        if (comma == std::string_view::npos) break;
        list.remove_prefix(comma + 1);
    }
    return false;
}

bool Walker::may_go_on(const pugi::xml_node& node) {
    if (stopped_) return false;
    // Groups without shapes can multiply as well as shapes.
    const std::size_t max_visits = 16 * options_.max_shapes + 1'000'000;
    if (++visits_ <= max_visits && drawing_.shapes.size() < options_.max_shapes) return true;
    stopped_ = true;
    report_.add(severity_of_limit(), "too-many-shapes",
                "the drawing holds more than " + std::to_string(options_.max_shapes) +
                    " shapes: what follows is left out",
                node.offset_debug() - 1);
    return false;
}

void Walker::visit(const pugi::xml_node& node, const Context& parent, Counters& counters, const SizeOverride* size) {
    if (!is_element(node) || !may_go_on(node)) return;
    read_attributes(node, attributes_);
    const bool plain =
        attributes_.has(Attribute::Xmlns) ? attributes_[Attribute::Xmlns] == kSvgNamespace : parent.plain_names_are_svg;
    if (!is_svg(node, plain)) return;
    const std::string_view name = local_name(node.name());
    const Element element = element_named(name);
    if (is_shape(element)) {
        visit_shape(node, element, parent, counters);
        return;
    }
    switch (element) {
    case Element::Svg:
    case Element::G:
    case Element::A:
    case Element::Switch:
    case Element::Use: visit_container(node, element, parent, counters, size); break;
    case Element::Symbol:
        if (size != nullptr) visit_container(node, element, parent, counters, size);
        break;
    case Element::Text:
    case Element::Image:
    case Element::ForeignObject:
        if (passes_conditions(node))
            remark(node, Severity::Warning, "not-geometry",
                   "<" + std::string(name) + "> is no outline and is left out; turn text into paths to keep it");
        break;
    case Element::Animation: remark(node, Severity::Warning, "animation", "an animation is not applied"); break;
    case Element::Unknown:
        remark(node, Severity::Warning, "unknown-element",
               "<" + std::string(name) + "> is not known and is left out with all in it, as in a browser");
        break;
    default: break;
    }
}

void Walker::visit_children(const pugi::xml_node& node, const Context& context) {
    Counters counters;
    for (const pugi::xml_node child : node.children()) {
        if (stopped_) return;
        visit(child, context, counters, nullptr);
    }
}

void Walker::visit_switch(const pugi::xml_node& node, const Context& context) {
    Counters counters;
    for (const pugi::xml_node child : node.children()) {
        if (!is_element(child)) continue;
        read_attributes(child, attributes_);
        const bool plain = attributes_.has(Attribute::Xmlns) ? attributes_[Attribute::Xmlns] == kSvgNamespace
                                                             : context.plain_names_are_svg;
        if (!is_svg(child, plain) || !passes_conditions(child)) continue;
        visit(child, context, counters, nullptr);
        return;
    }
}

void Walker::visit_shape(const pugi::xml_node& node, Element element, const Context& parent, Counters& counters) {
    if (!passes_conditions(node)) return;
    apply_styles(node, to_text(element), sheet_, parent.scope, attributes_, clean_style_);
    const Properties& properties = attributes_.properties;
    const std::string_view id = attributes_[Attribute::Id];
    if (!is_displayed(properties)) {
        remark(node, Severity::Note, "not-displayed",
               named(to_text(element), id) + " says display:none and is left out");
        return;
    }
    const Remark say = remark_at(node);
    const Inherited own = inherited_by_children(properties, parent.inherited);
    outline_.clear();
    add_shape(outline_, element, attributes_, own.lengths, say);
    if (!outline_.draws()) {
        remark(node, Severity::Note, "draws-nothing", named(to_text(element), id) + " has no extent and draws nothing");
        return;
    }
    const Affine map = parent.map * transform_of(
                                        properties, own.lengths, [&] { return bounds_of(outline_); }, say);
    if (!emit(node, element, parent, own, map, counters)) return;
    remark_unapplied(node, properties);
    if (!own.visible)
        remark(node, Severity::Note, "hidden", named(to_text(element), id) + " is hidden; its geometry is kept");
    for (const pugi::xml_node child : node.children())
        if (is_element(child) && element_named(local_name(child.name())) == Element::Animation)
            remark(child, Severity::Warning, "animation", "an animation is not applied");
}

bool Walker::emit(const pugi::xml_node& node, Element element, const Context& parent, const Inherited& own,
                  const Affine& map, Counters& counters) {
    const FlatShape flat =
        flatten(outline_, map, options_.tolerance_mm, options_.max_points, drawing_.points, drawing_.subpaths);
    const std::string_view id = attributes_[Attribute::Id];
    if (!flat.finite) {
        remark(node, Severity::Fault, "out-of-range",
               named(to_text(element), id) + " leaves the range of numbers and is left out");
        return false;
    }
    if (!flat.fits) {
        stopped_ = true;
        remark(node, severity_of_limit(), "too-many-points",
               "the drawing needs more than " + std::to_string(options_.max_points) +
                   " points: what follows is left out");
        return false;
    }
    if (!flat.within_bound)
        remark(node, Severity::Warning, "coarse",
               named(to_text(element), id) + " is too large for the tolerance and is coarser");
    DrawnShape& shape = drawing_.shapes.emplace_back();
    shape.id = id;
    shape.label = label_of(attributes_);
    shape.classes = attributes_[Attribute::Class];
    if (node.first_child()) shape.title = title_of(node);
    shape.kind = static_cast<Kind>(element);
    shape.closed = flat.closed;
    shape.visible = own.visible;
    shape.has_fill = own.has_fill;
    shape.has_stroke = own.has_stroke;
    shape.group = parent.group;
    if (id.empty()) shape.ordinal = ++counters.of[counter_of(element)];
    const TextPosition at = report_.position(node.offset_debug() - 1);
    shape.line = at.line;
    shape.column = at.column;
    shape.first_subpath = flat.first_subpath;
    shape.subpath_count = flat.subpath_count;
    shape.length = flat.length;
    shape.bbox = flat.bbox;
    return true;
}

std::int32_t Walker::add_group(const pugi::xml_node& node, Element element, const Context& parent, Counters& counters) {
    Group& group = drawing_.groups.emplace_back();
    group.parent = parent.group;
    group.element = to_text(element);
    group.id = attributes_[Attribute::Id];
    group.label = label_of(attributes_);
    group.classes = attributes_[Attribute::Class];
    group.title = title_of(node);
    group.is_layer = attributes_[Attribute::GroupMode] == "layer";
    if (group.label.empty() && element == Element::G) group.label = group.title.empty() ? group.id : group.title;
    if (group.id.empty()) group.ordinal = ++counters.of[counter_of(element)];
    const TextPosition at = report_.position(node.offset_debug() - 1);
    group.line = at.line;
    group.column = at.column;
    return static_cast<std::int32_t>(drawing_.groups.size()) - 1;
}

void Walker::visit_container(const pugi::xml_node& node, Element element, const Context& parent, Counters& counters,
                             const SizeOverride* size) {
    if (!passes_conditions(node)) return;
    if (parent.depth >= options_.max_depth) {
        remark(node, severity_of_limit(), "too-deep",
               "elements are nested more than " + std::to_string(options_.max_depth) +
                   " deep: what lies deeper is left out");
        return;
    }
    apply_styles(node, to_text(element), sheet_, parent.scope, attributes_, clean_style_);
    const Properties& properties = attributes_.properties;
    if (!is_displayed(properties)) {
        const std::string_view label = label_of(attributes_);
        remark(node, Severity::Note, "not-displayed",
               named(to_text(element), label.empty() ? attributes_[Attribute::Id] : label) +
                   " says display:none and is left out with all in it");
        return;
    }
    Context context = parent;
    ++context.depth;
    context.plain_names_are_svg =
        attributes_.has(Attribute::Xmlns) ? attributes_[Attribute::Xmlns] == kSvgNamespace : parent.plain_names_are_svg;
    context.inherited = inherited_by_children(properties, parent.inherited);
    remark_unapplied(node, properties);

    const std::size_t shapes_before = drawing_.shapes.size();
    const std::size_t groups_before = drawing_.groups.size();
    context.group = add_group(node, element, parent, counters);
    // Measuring walks through the children and forgets `attributes_`: only done where asked, then read anew.
    bool measured = false;
    const auto own_box = [&] {
        measured = true;
        return box_of_children(node, context);
    };
    const Affine own = transform_of(Properties(properties), context.inherited.lengths, own_box, remark_at(node));
    if (measured) {
        read_attributes(node, attributes_);
        apply_styles(node, to_text(element), sheet_, parent.scope, attributes_, clean_style_);
    }
    context.map = parent.map * own;
    path_.push_back(node);
    if (element == Element::Use)
        visit_use(node, context);
    else if (element == Element::Switch)
        visit_switch(node, context);
    else if (element == Element::G || element == Element::A || enter_viewport(node, size, context))
        visit_children(node, context);
    path_.pop_back();
    // A group that drew nothing is nobody's ancestor.
    if (drawing_.shapes.size() == shapes_before) drawing_.groups.resize(groups_before);
}

Box Walker::box_of_children(const pugi::xml_node& node, const Context& context) {
    if (measuring_ >= kMaxMeasuring || local_name(node.name()) == "use") {
        remark(node, Severity::Fault, "transform-box", "transform-box is not applied here: the place may be wrong");
        return {};
    }
    ++measuring_;
    const auto counts =
        std::tuple(drawing_.shapes.size(), drawing_.groups.size(), drawing_.subpaths.size(), drawing_.points.size());
    Context plain = context;
    plain.map = {};
    path_.push_back(node);
    visit_children(node, plain);
    path_.pop_back();
    Box box;
    for (std::size_t i = std::get<0>(counts); i < drawing_.shapes.size(); ++i)
        box.add(drawing_.shapes[i].bbox);
    drawing_.shapes.resize(std::get<0>(counts));
    drawing_.groups.resize(std::get<1>(counts));
    drawing_.subpaths.resize(std::get<2>(counts));
    drawing_.points.resize(std::get<3>(counts));
    --measuring_;
    return box;
}

bool Walker::enter_viewport(const pugi::xml_node& node, const SizeOverride* size, Context& context) {
    const Remark say = remark_at(node);
    LengthContext& lengths = context.inherited.lengths;
    // Browsers take sizes of an inner svg from its attributes only, not from its style.
    const auto length = [&](const char* name, Axis axis, double fallback, bool may_be_negative) {
        const std::string_view text = node.attribute(name).value();
        if (text.empty() || equal_ignoring_case(trimmed(text), "auto")) return fallback;
        return length_of_attribute(name, text, {axis, fallback, may_be_negative}, lengths, say);
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

void Walker::visit_use(const pugi::xml_node& node, const Context& context) {
    const bool plain = attributes_.has(Attribute::Href);
    const std::string_view href = trimmed(attributes_[plain ? Attribute::Href : Attribute::LinkHref]);
    const Remark say = remark_at(node);
    const LengthContext& lengths = context.inherited.lengths;
    const Vec2 at{length_of_property(attributes_.properties, Property::X, {Axis::Horizontal, 0.0, true}, lengths, say),
                  length_of_property(attributes_.properties, Property::Y, {Axis::Vertical, 0.0, true}, lengths, say)};
    if (!href.starts_with('#') || href.size() == 1) {
        say(Severity::Fault, "use-outside",
            "<use> refers to " + quoted(href) + ", not to a thing of this drawing: left out");
        return;
    }
    const pugi::xml_node target = find_id(href.substr(1));
    if (!target) {
        say(Severity::Fault, "use-missing",
            "<use> refers to " + quoted(href) + ", which is not in the drawing: left out");
        return;
    }
    if (std::find(path_.begin(), path_.end(), target) != path_.end()) {
        say(Severity::Fault, "use-cycle", "<use> refers to " + quoted(href) + ", which holds it: left out");
        return;
    }
    Context inner = context;
    inner.map = context.map * Affine::translation(at);
    visit_target(node, target, inner);
}

void Walker::visit_target(const pugi::xml_node& node, const pugi::xml_node& target, Context context) {
    context.scope = target;
    context.plain_names_are_svg = plain_names_inside(target);
    const pugi::xml_attribute width = node.attribute("width");
    const pugi::xml_attribute height = node.attribute("height");
    SizeOverride size;
    const auto stated = [](const pugi::xml_attribute& a) {
        return a && !equal_ignoring_case(trimmed(a.value()), "auto");
    };
    if ((size.has_width = stated(width))) size.width = width.value();
    if ((size.has_height = stated(height))) size.height = height.value();
    const Element element = element_named(local_name(target.name()));
    if (!is_shape(element) && element > Element::Symbol && element != Element::Text && element != Element::Image)
        remark(node, Severity::Fault, "use-missing",
               "<use> refers to <" + std::string(target.name()) + ">, which cannot be drawn: left out");
    Counters counters;
    visit(target, context, counters, &size);
}

pugi::xml_node Walker::find_id(std::string_view id) {
    if (!ids_known_) {
        ids_known_ = true;
        for (pugi::xml_node node = document_.first_child(); node;) {
            if (is_element(node))
                if (const pugi::xml_attribute found = node.attribute("id")) ids_.try_emplace(found.value(), node);
            if (node.first_child()) {
                node = node.first_child();
                continue;
            }
            while (node && !node.next_sibling())
                node = node.parent();
            if (node) node = node.next_sibling();
        }
    }
    const auto found = ids_.find(id);
    return found == ids_.end() ? pugi::xml_node() : found->second;
}

std::string Walker::title_of(const pugi::xml_node& node) {
    for (const pugi::xml_node child : node.children()) {
        if (!is_element(child) || local_name(child.name()) != "title") continue;
        std::string text;
        for (const pugi::xml_node part : child.children())
            if (part.type() == pugi::node_pcdata || part.type() == pugi::node_cdata) text += part.value();
        return std::string(trimmed(text));
    }
    return {};
}

void Walker::remark_unapplied(const pugi::xml_node& node, const Properties& properties) {
    struct Unapplied {
        Property property;
        std::string_view code;
        std::string_view message;
    };
    static constexpr std::array<Unapplied, 6> kUnapplied{{
        {Property::ClipPath, "clip", "a clip path cuts what is seen, the geometry is kept whole"},
        {Property::Mask, "mask", "a mask changes what is seen, the geometry is kept whole"},
        {Property::Filter, "filter", "a filter changes what is seen, the geometry is kept as drawn"},
        {Property::MarkerStart, "marker", "markers are not drawn"},
        {Property::MarkerMid, "marker", "markers are not drawn"},
        {Property::MarkerEnd, "marker", "markers are not drawn"},
    }};
    for (const Unapplied& unapplied : kUnapplied)
        if (!is_none(properties[unapplied.property]))
            remark(node, Severity::Note, unapplied.code, std::string(unapplied.message));
}

} // namespace padchart::svg
