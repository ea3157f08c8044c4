#include "svg/element_shape.hpp"

#include <algorithm>

#include "svg/basic_shapes.hpp"
#include "svg/path_data.hpp"
#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

struct Reader {
    Outline& outline;
    const Attributes& attributes;
    const LengthContext& lengths;
    const Remark& remark;

    [[nodiscard]] double length(Property property, Axis axis, bool may_be_negative = true) const {
        return length_of_property(attributes.properties, property, {axis, 0.0, may_be_negative}, lengths, remark);
    }
    [[nodiscard]] double end(Attribute attribute, std::string_view name, Axis axis) const {
        if (!attributes.has(attribute)) return 0.0;
        return length_of_attribute(name, attributes[attribute], {axis, 0.0, true}, lengths, remark);
    }

    void rect() const {
        RectSizes sizes;
        sizes.x = length(Property::X, Axis::Horizontal);
        sizes.y = length(Property::Y, Axis::Vertical);
        sizes.width = length(Property::Width, Axis::Horizontal, false);
        sizes.height = length(Property::Height, Axis::Vertical, false);
        sizes.rx = radius_of_property(attributes.properties, Property::Rx, Axis::Horizontal, lengths, remark);
        sizes.ry = radius_of_property(attributes.properties, Property::Ry, Axis::Vertical, lengths, remark);
        if (sizes.width > 0.0 && sizes.height > 0.0) add_rect(outline, sizes);
    }

    void circle() const {
        const Vec2 centre{length(Property::Cx, Axis::Horizontal), length(Property::Cy, Axis::Vertical)};
        const double r = length(Property::R, Axis::Diagonal, false);
        if (r > 0.0) add_ellipse(outline, centre, r, r);
    }

    void ellipse() const {
        const Vec2 centre{length(Property::Cx, Axis::Horizontal), length(Property::Cy, Axis::Vertical)};
        const auto rx = radius_of_property(attributes.properties, Property::Rx, Axis::Horizontal, lengths, remark);
        const auto ry = radius_of_property(attributes.properties, Property::Ry, Axis::Vertical, lengths, remark);
        const double used_rx = rx.value_or(ry.value_or(0.0));
        const double used_ry = ry.value_or(rx.value_or(0.0));
        if (used_rx > 0.0 && used_ry > 0.0) add_ellipse(outline, centre, used_rx, used_ry);
    }

    void line() const {
        add_line(outline, {end(Attribute::X1, "x1", Axis::Horizontal), end(Attribute::Y1, "y1", Axis::Vertical)},
                 {end(Attribute::X2, "x2", Axis::Horizontal), end(Attribute::Y2, "y2", Axis::Vertical)});
    }

    void points(bool close) const {
        const auto fault = add_points(outline, attributes[Attribute::Points], close);
        if (!fault) return;
        remark(Severity::Fault, "bad-points",
               "points=" + quoted(attributes[Attribute::Points]) + " " + fault->message +
                   (fault->fatal ? ": nothing is drawn, as in a browser" : ""));
    }

    void path() const {
        const PropertyValue& d = attributes.properties[Property::D];
        if (!d.is_set) return;
        std::string_view data = d.text;
        if (d.from_css()) {
            const std::size_t open = data.find_first_of("\"'");
            const std::size_t shut = data.find_last_of("\"'");
            if (open == std::string_view::npos || shut <= open) return; // none
            data = data.substr(open + 1, shut - open - 1);
        }
        const auto fault = read_path_data(data, outline);
        if (!fault) return;
        const std::size_t from = fault->at < 12 ? 0 : fault->at - 12;
        remark(Severity::Fault, "path-cut-short",
               "the path data has an error at character " + std::to_string(fault->at + 1) + ", near " +
                   quoted(data.substr(std::min(from, data.size()), 24)) + ": " + fault->message +
                   ". What comes before it is kept");
    }
};

} // namespace

void add_shape(Outline& outline, Element element, const Attributes& attributes, const LengthContext& lengths,
               const Remark& remark) {
    const Reader reader{outline, attributes, lengths, remark};
    switch (element) {
    case Element::Path: return reader.path();
    case Element::Rect: return reader.rect();
    case Element::Circle: return reader.circle();
    case Element::Ellipse: return reader.ellipse();
    case Element::Line: return reader.line();
    case Element::Polyline: return reader.points(false);
    case Element::Polygon: return reader.points(true);
    default: return;
    }
}

} // namespace padchart::svg
