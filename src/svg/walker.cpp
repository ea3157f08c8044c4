#include "svg/walker.hpp"

#include <algorithm>
#include <utility>

#include "base/large_pages.hpp"
#include "geometry/mapped_box.hpp"
#include "svg/element_shape.hpp"
#include "svg/flatten.hpp"
#include "svg/page.hpp"
#include "svg/scan.hpp"
#include "svg/selectors.hpp"
#include "svg/transforms.hpp"
#include "svg/viewport.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Box;

constexpr std::string_view kSvgNamespace = "http://www.w3.org/2000/svg";

bool is_element(const pugi::xml_node& node) {
    return node.type() == pugi::node_element;
}

std::size_t counter_of(Element element) {
    return static_cast<std::size_t>(element);
}

/// "0", "0.0", "0%".
bool is_none(const PropertyValue& value) {
    return !value.is_set || equal_ignoring_case(trimmed(value.text), "none");
}

/// What reaches out of an inner svg is cut unless it says otherwise (SVG 2, section 3.2; the initial value is no cut).
bool does_cut(const PropertyValue& overflow) {
    const std::string_view says = overflow.is_set ? trimmed(overflow.text) : std::string_view();
    const auto is = [&](std::string_view word) { return equal_ignoring_case(says, word); };
    return !is("visible") && !is("auto") && !is("initial") && !is("unset");
}

std::string_view label_of(const Attributes& attributes) {
    const std::string_view label = trimmed(attributes[Attribute::Label]);
    return label.empty() ? trimmed(attributes[Attribute::DataName]) : label;
}

/// How many containers are open from before the part begins until after it ends.
std::size_t shared_containers(const WalkPart& part) {
    if (part.begin.empty() || part.end.empty()) return 0;
    const auto end = part.begin.end() - 1;
    return static_cast<std::size_t>(std::mismatch(part.begin.begin(), end, part.end.begin(), part.end.end() - 1).first -
                                    part.begin.begin());
}

Severity severity_of_limit() {
    return Severity::Fault;
}

} // namespace

std::size_t max_shapes_of(std::size_t bytes, const ReadOptions& options) {
    return std::min(options.max_shapes, 50'000 + bytes / 8);
}

std::size_t max_visits_of(std::size_t max_shapes) {
    return 16 * max_shapes + 1'000'000;
}

Walker::Walker(const ParsedDocument& document, const ReadOptions& options, Report& report, const WalkPart& part)
    : document_(document), options_(options), report_(report), part_(part),
      open_(part.end.empty() ? 0 : part.end.size() - 1), max_shapes_(max_shapes_of(document.bytes(), options)) {}

void Walker::remark(const pugi::xml_node& node, Severity severity, std::string_view code, std::string message) {
    if (measuring_ > 0) return; // what is only measured is reported when it is drawn
    if (is_begun_before(node)) return;
    report_.add(severity, code, std::move(message), std::max<std::ptrdiff_t>(0, node.offset_debug() - 1));
}

Remark Walker::remark_at(const pugi::xml_node& node) {
    const auto take = [](void* walker, const pugi::xml_node& at, Severity severity, std::string_view code,
                         std::string message) {
        static_cast<Walker*>(walker)->remark(at, severity, code, std::move(message));
    };
    return {take, this, node};
}

void Walker::expect(std::size_t bytes) {
    reserve_large(drawing_.points, std::min(bytes / 8, options_.max_points));
    drawing_.subpaths.reserve(std::min(bytes / 128, options_.max_shapes));
    reserve_large(drawing_.shapes, std::min(bytes / 128, options_.max_shapes));
    reserve_large(drawing_.groups, std::min(bytes / 512, options_.max_shapes));
}

void Walker::style(const pugi::xml_node& node, std::string_view type, const pugi::xml_node& scope) {
    const auto refused = apply_styles(node, type, document_.sheet(), style_budget_, scope, attributes_, inline_styles_);
    for (const RefusedDeclaration& declaration : refused)
        remark(node, Severity::Warning, "css", words_of(declaration));
    if (style_budget_.is_exhausted() && !std::exchange(sheet_given_up_, true))
        report_.add(severity_of_limit(), "too-many-rules",
                    "the style sheet has more rules than could be held against so many shapes: from here on it is not "
                    "applied, and places may be wrong",
                    node.offset_debug() - 1);
    css_values_.settle(node, path_, scope, attributes_.properties, remark_at(node));
}

WalkedPart Walker::walk() {
    visit_page(document_.root());
    note_effort();
    effort_.looks = StyleBudget::kMostLooks - style_budget_.looks;
    effort_.stopped = stopped_;
    return {std::move(drawing_), begun_before_, std::move(open_), shared_containers(part_), effort_};
}

void Walker::note_effort() {
    effort_.most_shapes = std::max(effort_.most_shapes, drawing_.shapes.size());
    effort_.most_points = std::max(effort_.most_points, drawing_.points.size());
}

bool Walker::leads_through(const pugi::xml_node& node, const std::vector<pugi::xml_node>& way) const {
    return is_on_the_way() && path_.size() < way.size() && way[path_.size() - 1] == node;
}

bool Walker::is_begun_before(const pugi::xml_node& node) const {
    return is_on_the_way() && !part_.begin.empty() &&
           std::find(part_.begin.begin(), part_.begin.end() - 1, node) != part_.begin.end() - 1;
}

void Walker::visit_page(const pugi::xml_node& root) {
    Context context;
    context.plain_names_are_svg = plain_names_inside(root);
    read_attributes(root, attributes_);
    style(root, "svg", {});
    context.inherited = inherited_by_children(attributes_.properties, {});
    context.inherited.lengths.root_font_size = context.inherited.lengths.font_size;

    const Page page = page_of(attributes_, context.inherited.lengths, remark_at(root));
    drawing_.mm_per_unit = page.mm_per_unit;
    drawing_.title = document_.title_of(root);
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
    const Affine placed = transform_of(
        attributes_.properties, as_box,
        [&] {
            return Box{{0, 0}, {page.width, page.height}};
        },
        remark_at(root));
    context.map = placed * page.map;
    const bool displayed = is_displayed(attributes_.properties) && !remark_collapsed(root, Element::Svg, placed);
    if (!is_displayed(attributes_.properties))
        remark(root, Severity::Fault, "not-displayed", "the whole drawing says display:none: nothing is drawn");
    if (displayed && page.draws) {
        path_.push_back(root);
        visit_children(root, context);
    }
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

void Walker::ask_to_go_on(const pugi::xml_node& node) {
    const double here = static_cast<double>(node.offset_debug()) / static_cast<double>(document_.bytes());
    gone_through_ = std::clamp(here, gone_through_, 1.0);
    effort_.called_off = stopped_ = !options_.go_on(gone_through_);
}

bool Walker::may_go_on(const pugi::xml_node& node) {
    constexpr std::size_t kVisitsBetween = 256;
    if (options_.go_on && !stopped_ && effort_.visits % kVisitsBetween == 0) ask_to_go_on(node);
    if (stopped_) return false;
    if (++effort_.visits <= max_visits_of(max_shapes_) && drawing_.shapes.size() < max_shapes_) return true;
    stopped_ = true;
    report_.add(severity_of_limit(), "too-many-shapes",
                "the drawing holds more than " + std::to_string(max_shapes_) + " shapes: what follows is left out",
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
    case Element::A:
        if (parent.inside_link) {
            remark(node, Severity::Warning, "nested-link",
                   "an <a> right inside another <a> is left out with all in it, as in a browser");
            break;
        }
        [[fallthrough]];
    case Element::Svg:
    case Element::G:
    case Element::Switch:
    case Element::Use: visit_container(node, element, parent, counters, size); break;
    case Element::Symbol:
        if (size != nullptr) visit_container(node, element, parent, counters, size);
        break;
    case Element::Text:
    case Element::Image:
    case Element::ForeignObject:
        if (measuring_ > 0) visit_measured(node, element, parent);
        if (passes_conditions(node))
            remark(node, Severity::Warning, "not-geometry",
                   "<" + std::string(name) + "> is no outline and is left out" +
                       (name == "text" ? "; turn text into paths to keep it" : ""));
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
    const std::size_t level = path_.size();
    const bool ends_inside = leads_through(node, part_.end);
    pugi::xml_node child = leads_through(node, part_.begin) ? part_.begin[level] : node.first_child();
    for (; child && !stopped_; child = child.next_sibling()) {
        const bool is_last = ends_inside && child == part_.end[level];
        if (is_last && level + 1 == part_.end.size()) break; // the next part begins with it
        visit(child, context, counters, nullptr);
        if (is_last) break;
    }
    if (ends_inside) open_[level - 1].counters = counters;
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
    style(node, to_text(element), parent.scope);
    const Properties& properties = attributes_.properties;
    const std::string_view id = attributes_[Attribute::Id];
    if (!is_displayed(properties) || is_only_contents(properties)) {
        remark(node, Severity::Note, "not-displayed",
               named(to_text(element), id) + " says display:" + (is_displayed(properties) ? "contents" : "none") +
                   " and is left out");
        return;
    }
    const Remark say = remark_at(node);
    const Inherited own = inherited_by_children(properties, parent.inherited);
    outline_.clear();
    add_shape(outline_, element, attributes_, own.lengths, say);
    const auto own_box = [&] { return reference_box_of(outline_); };
    if (measuring_ > 0) measure_outline(transform_of(properties, own.lengths, own_box, say));
    if (!outline_.draws()) {
        remark(node, Severity::Note, "draws-nothing", named(to_text(element), id) + " has no extent and draws nothing");
        return;
    }
    const Affine placed = transform_of(properties, own.lengths, own_box, say);
    if (remark_collapsed(node, element, placed)) return;
    if (!emit(node, element, parent, own, parent.map * placed, counters)) return;
    remark_unapplied(node, properties);
    remark_unseen(node, element, own);
    remark_cut(node, element, parent.window);
    for (const pugi::xml_node child : node.children())
        if (is_element(child) && element_named(local_name(child.name())) == Element::Animation)
            remark(child, Severity::Warning, "animation", "an animation is not applied");
}

void Walker::remark_unseen(const pugi::xml_node& node, Element element, const Inherited& own) {
    const auto name = [&] { return named(to_text(element), attributes_[Attribute::Id]); };
    if (!own.visible) remark(node, Severity::Note, "hidden", name() + " is hidden; it is measured all the same");
    const bool is_filled = own.has_fill && element != Element::Line; // a straight line has nothing to fill
    if (!is_filled && !own.has_stroke)
        remark(node, Severity::Note, "unpainted",
               name() + " has neither fill nor stroke, so nothing of it is seen; the geometry is kept");
    else if ((!is_filled || own.fill_unseen.any()) && (!own.has_stroke || own.stroke_unseen.any()))
        remark(node, Severity::Note, "unpainted",
               name() +
                   " is painted with what does not show (a clear colour, an opacity of 0 or a stroke of no width), "
                   "so nothing of it is seen; the geometry is kept");
}

bool Walker::remark_collapsed(const pugi::xml_node& node, Element element, const Affine& own) {
    if (measuring_ > 0 || !collapses(own)) return false; // the box of a group takes in what is not displayed
    remark(node, Severity::Warning, "collapsed",
           named(to_text(element), attributes_[Attribute::Id]) +
               " is pressed flat by its transform and is left out, as in a browser");
    return true;
}

bool Walker::emit(const pugi::xml_node& node, Element element, const Context& parent, const Inherited& own,
                  const Affine& map, Counters& counters) {
    const FlatShape flat =
        flatten(outline_, map, {options_.tolerance_mm, options_.max_points, options_.measure_lengths}, drawing_.points,
                drawing_.subpaths);
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
    shape.id = in_one_line(id);
    shape.label = in_one_line(label_of(attributes_));
    shape.classes = in_one_line(attributes_[Attribute::Class]);
    if (node.first_child()) shape.title = document_.title_of(node);
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
    group.id = in_one_line(attributes_[Attribute::Id]);
    group.label = in_one_line(label_of(attributes_));
    group.classes = in_one_line(attributes_[Attribute::Class]);
    group.title = document_.title_of(node);
    group.is_layer = attributes_[Attribute::GroupMode] == "layer";
    if (group.label.empty() && element == Element::G) group.label = group.title.empty() ? group.id : group.title;
    if (group.id.empty() && !is_begun_before(node)) group.ordinal = ++counters.of[counter_of(element)];
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
    style(node, to_text(element), parent.scope);
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
    context.inside_link = element == Element::A;
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
        return box_of_children(node, element, size, context);
    };
    const bool placed = !is_only_contents(properties);
    const Affine own =
        placed ? transform_of(Properties(properties), context.inherited.lengths, own_box, remark_at(node)) : Affine{};
    if (!placed && element == Element::Svg)
        remark(node, Severity::Warning, "css", "display: contents of an inner svg is not applied: check its place");
    if (measured) {
        read_attributes(node, attributes_);
        style(node, to_text(element), parent.scope);
    }
    if (remark_collapsed(node, element, own)) {
        drawing_.groups.resize(groups_before);
        return;
    }
    path_.push_back(node);
    context.map = own;
    const Box outside = std::exchange(measured_, {});
    Window window;
    const bool cuts = does_cut(properties[Property::Overflow]);
    if (enter(node, element, size, context, window)) {
        const Affine local = context.map;
        context.map = parent.map * local;
        if (window.width > 0.0 && cuts) {
            window.map = parent.map * window.map;
            window.outer = parent.window;
            context.window = &window;
        }
        visit_inside(node, element, context);
        measured_ = geometry::mapped(local, measured_);
    }
    measured_.add(outside);
    path_.pop_back();
    leave_group(node, context.group, shapes_before);
}

void Walker::leave_group(const pugi::xml_node& node, std::int32_t index, std::size_t shapes_before) {
    const auto at = static_cast<std::size_t>(index);
    const bool draws = drawing_.shapes.size() > shapes_before;
    if (const std::size_t level = path_.size(); is_on_the_way() && level < open_.size() && part_.end[level] == node) {
        open_[level].group = drawing_.groups[at];
        open_[level].index = draws ? index : -1;
    }
    if (draws && is_begun_before(node)) ++begun_before_;
    // A group that drew nothing is nobody's ancestor.
    if (!draws) drawing_.groups.resize(at);
}

bool Walker::enter(const pugi::xml_node& node, Element element, const SizeOverride* size, Context& context,
                   Window& window) {
    if (element == Element::Svg || element == Element::Symbol) return enter_viewport(node, size, context, window);
    if (element == Element::Use)
        context.map = context.map * Affine::translation(place_of_use(node, context.inherited.lengths));
    return true;
}

void Walker::visit_inside(const pugi::xml_node& node, Element element, const Context& context) {
    if (element == Element::Use)
        visit_use(node, context);
    else if (element == Element::Switch)
        visit_switch(node, context);
    else
        visit_children(node, context);
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
    if (properties[Property::Opacity].is_set && is_nought(properties[Property::Opacity].text))
        remark(node, Severity::Note, "clear", "an opacity of 0 hides what is drawn here, the geometry is kept");
}

} // namespace padchart::svg
