// Boxes that transforms refer to (`transform-box: fill-box` and percentages of it). What the standard leaves to a
// program is done as browsers do: the box of a container is put together of the boxes of its parts, each turned and
// boxed again; hidden parts count, those without display do not; a `use` is measured before its x and y; a trailing
// move of the pen counts beside curves (SVG 2, section 8.10, read off a browser's matrices).

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "geometry/mapped_box.hpp"
#include "svg/basic_shapes.hpp"
#include "svg/flatten.hpp"
#include "svg/walker.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Box;

constexpr int kMaxMeasuring = 4; ///< transform boxes of groups within groups

/// More than rounding apart, for their size.
bool differ(const Box& a, const Box& b) {
    if (a.is_empty() || b.is_empty()) return a.is_empty() != b.is_empty();
    const double size = std::max({std::abs(a.min.x), std::abs(a.min.y), std::abs(a.max.x), std::abs(a.max.y)});
    const double apart = std::max({std::abs(a.min.x - b.min.x), std::abs(a.min.y - b.min.y),
                                   std::abs(a.max.x - b.max.x), std::abs(a.max.y - b.max.y)});
    return apart > 1e-6 * size;
}

} // namespace

void Walker::measure_outline(const Affine& map) {
    measured_.add(geometry::mapped(map, reference_box_of(outline_)));
}

void Walker::visit_measured(const pugi::xml_node& node, Element element, const Context& parent) {
    if (!passes_conditions(node)) return;
    style(node,
          element == Element::Image  ? "image"
          : element == Element::Text ? "text"
                                     : "foreignObject",
          parent.scope);
    const Properties& properties = attributes_.properties;
    if (!is_displayed(properties)) return;
    const auto is_stated = [&](Property side) { return properties[side].is_set && properties[side].text != "auto"; };
    if (element == Element::Text || !is_stated(Property::Width) || !is_stated(Property::Height)) {
        unmeasured_ = true;
        return;
    }
    const Remark say = remark_at(node);
    const LengthContext lengths = inherited_by_children(properties, parent.inherited).lengths;
    const auto length = [&](Property property, Axis axis) {
        return length_of_property(properties, property, {axis, 0.0, true}, lengths, say);
    };
    RectSizes sizes;
    sizes.x = length(Property::X, Axis::Horizontal);
    sizes.y = length(Property::Y, Axis::Vertical);
    sizes.width = length(Property::Width, Axis::Horizontal);
    sizes.height = length(Property::Height, Axis::Vertical);
    outline_.clear();
    if (sizes.width > 0.0 && sizes.height > 0.0) add_rect(outline_, sizes);
    measure_outline(transform_of(
        properties, lengths, [&] { return reference_box_of(outline_); }, say));
}

Box Walker::box_of_children(const pugi::xml_node& node, Element element, const SizeOverride* size,
                            const Context& context) {
    if (measuring_ >= kMaxMeasuring) {
        remark(node, Severity::Fault, "transform-box", "transform-box is not applied here: the place may be wrong");
        return {};
    }
    ++measuring_;
    const auto counts =
        std::tuple(drawing_.shapes.size(), drawing_.groups.size(), drawing_.subpaths.size(), drawing_.points.size());
    const Box outside = std::exchange(measured_, {});
    Context plain = context;
    path_.push_back(node);
    const bool has_viewport = element == Element::Svg || element == Element::Symbol;
    Window unused;
    if (!has_viewport || enter_viewport(node, size, plain, unused)) {
        plain.map = {};
        visit_inside(node, element, plain);
    }
    path_.pop_back();
    const Box box = std::exchange(measured_, outside);
    Box tightest;
    for (std::size_t i = std::get<0>(counts); i < drawing_.shapes.size(); ++i)
        tightest.add(drawing_.shapes[i].bbox);
    note_effort();
    drawing_.shapes.resize(std::get<0>(counts));
    drawing_.groups.resize(std::get<1>(counts));
    drawing_.subpaths.resize(std::get<2>(counts));
    drawing_.points.resize(std::get<3>(counts));
    if (--measuring_ > 0) return box;
    if (std::exchange(unmeasured_, false))
        remark(node, Severity::Fault, "transform-box",
               "the box this is placed by takes in text or a picture of unknown size: the place is wrong");
    else if (differ(box, tightest))
        remark(node, Severity::Warning, "transform-box",
               "placed by the box round the boxes of its parts, as in a browser; other programs may take a tighter one "
               "and place it elsewhere");
    return box;
}

} // namespace padchart::svg
