#include "svg/page.hpp"

#include <cmath>
#include <utility>

#include "svg/scan.hpp"
#include "svg/viewport.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;

// What CSS gives a drawing that says nothing of its size (CSS 2, section 10.3.2).
constexpr double kDefaultWidth = 300.0;
constexpr double kDefaultHeight = 150.0;

/// Twelve digits: a page of 44 mm over 44 units is a scale of 1, not of 1.0000000000000002.
double without_noise(double value) {
    const double magnitude = value == 0.0 ? 0.0 : std::floor(std::log10(std::abs(value)));
    const double unit = std::pow(10.0, 11.0 - magnitude);
    const double rounded = std::round(value * unit) / unit;
    return std::isfinite(rounded) ? rounded : value;
}

Affine without_noise(const Affine& map) {
    return {without_noise(map.a), without_noise(map.b), without_noise(map.c),
            without_noise(map.d), without_noise(map.e), without_noise(map.f)};
}

struct Side {
    std::optional<double> px; ///< nothing: not stated, or a percentage
    bool physical = false;
    bool ignored = false; ///< stated, but no size
};

Side side_of(const PropertyValue& value, const LengthContext& lengths, Axis axis, const Remark& remark) {
    if (!value.is_set || equal_ignoring_case(trimmed(value.text), "auto")) return {};
    const auto unit = unit_class_of(value.text);
    if (unit == UnitClass::Percent) return {};
    const auto px = length_of(value.text, lengths, axis);
    if (px && *px > 0.0) return {px, unit == UnitClass::Physical};
    remark(Severity::Fault, "bad-length",
           "the page's size " + quoted(value.text) + " is no length above 0 and is ignored");
    return {std::nullopt, false, true};
}

std::string size_note_of(const Properties& properties, const Side& width, const Side& height,
                         std::string_view view_box) {
    std::string note;
    for (const auto& [side, read] : {std::pair(Property::Width, width), std::pair(Property::Height, height)})
        if (properties[side].is_set && !read.ignored)
            note += (note.empty() ? "" : " ") + std::string(to_text(side)) + "=" + quoted(properties[side].text);
    if (!view_box.empty()) note += (note.empty() ? "viewBox=" : " viewBox=") + quoted(view_box);
    return note;
}

std::optional<ViewBox> read_view_box(const Attributes& attributes, const Remark& remark) {
    if (!attributes.has(Attribute::ViewBox)) return std::nullopt;
    const auto box = view_box_of(attributes[Attribute::ViewBox]);
    if (!box)
        remark(Severity::Fault, "bad-view-box",
               "viewBox=" + quoted(attributes[Attribute::ViewBox]) +
                   " is not four numbers with sizes above 0 and is ignored");
    return box;
}

void set_page_without_size(Page& page, const std::optional<ViewBox>& box, const Remark& remark) {
    page.viewport_width = box ? box->width : kDefaultWidth;
    page.viewport_height = box ? box->height : kDefaultHeight;
    if (box) {
        page.map = Affine::translation({-box->x, -box->y});
        page.width = box->width;
        page.height = box->height;
    }
    remark(Severity::Warning, "no-physical-size",
           "the trace states no physical size: set width and height in mm in the drawing program, or set the scale by "
           "hand");
}

void check_stretch(const Fit& fit, const ViewBox& box, double width, double height, const Remark& remark) {
    const double ratio = (width / box.width) / (height / box.height);
    if (std::abs(ratio - 1.0) < 1e-3) return;
    if (fit.stretch)
        remark(Severity::Fault, "stretched",
               "a unit is not as wide as it is high (ratio " + std::to_string(ratio) +
                   "): lengths on the page are right, the scale is a mean");
    else if (std::abs(ratio - 1.0) > 0.01)
        remark(Severity::Warning, "page-ratio",
               "width and height do not fit the viewBox (ratio " + std::to_string(ratio) +
                   "): the scale follows preserveAspectRatio; check it");
}

void set_page_with_size(Page& page, const std::optional<ViewBox>& box, const Fit& fit, double width, double height,
                        const Remark& remark) {
    const Affine mm = Affine::scaling(kMmPerPx, kMmPerPx);
    page.width = without_noise(width * kMmPerPx);
    page.height = without_noise(height * kMmPerPx);
    if (!box) {
        page.map = mm;
        page.viewport_width = width;
        page.viewport_height = height;
        page.mm_per_unit = kMmPerPx;
        return;
    }
    check_stretch(fit, *box, width, height, remark);
    const Affine map = fitted(*box, fit, width, height);
    page.map = without_noise(mm * map);
    page.viewport_width = box->width;
    page.viewport_height = box->height;
    page.mm_per_unit = without_noise(kMmPerPx * (map.a == map.d ? map.a : std::sqrt(map.a * map.d)));
}

} // namespace

Page page_of(const Attributes& attributes, const LengthContext& lengths, const Remark& remark) {
    Page page;
    const Properties& properties = attributes.properties;
    Side width = side_of(properties[Property::Width], lengths, Axis::Horizontal, remark);
    Side height = side_of(properties[Property::Height], lengths, Axis::Vertical, remark);
    const auto box = read_view_box(attributes, remark);
    page.size_note = size_note_of(properties, width, height, attributes[Attribute::ViewBox]);
    if (box && (box->width == 0.0 || box->height == 0.0)) {
        remark(Severity::Fault, "bad-view-box", "the viewBox has no size: nothing is drawn");
        page.draws = false;
        return page;
    }
    if (!width.px && !height.px) {
        set_page_without_size(page, box, remark);
        return page;
    }
    if (!width.px || !height.px) {
        if (box) {
            (width.px ? height.px : width.px) =
                width.px ? *width.px * box->height / box->width : *height.px * box->width / box->height;
            remark(Severity::Note, "one-size",
                   "only one of width and height is stated: the other follows from the viewBox");
        } else {
            (width.px ? height.px : width.px) = width.px ? kDefaultHeight : kDefaultWidth;
        }
    }
    page.size_in_px = !width.physical && !height.physical;
    if (page.size_in_px) remark(Severity::Note, "size-in-px", "the size is in px, taken as 1/96 in: check the scale");
    set_page_with_size(page, box, fit_of(attributes[Attribute::PreserveAspectRatio]), *width.px, *height.px, remark);
    return page;
}

} // namespace padchart::svg
