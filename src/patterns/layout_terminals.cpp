// Layouts of parts with two to four terminals and no leads: chips, cases, cans, rows in line, corners.

#include <array>

#include "patterns/layout_parts.hpp"

namespace padchart::patterns {
namespace {

using document::Pad;
using document::ShapeKind;

// Two lands left and right. Span, gap and width are the handbook's Z, G and X.
constexpr std::array kTwoLand{
    size_spec("body_length_mm", "body from land to land"),
    size_spec("body_width_mm", "body the other way"),
    size_spec("body_height_mm", "body height"),
    size_spec("span_mm", "over both lands"),
    size_spec("gap_mm", "between the lands"),
    size_spec("land_width_mm", "land width"),
};

Result<std::vector<Pad>> two_lands(double span, double gap, double width) {
    if (gap >= span)
        return Error{"The gap between the lands is not smaller than the span over both; raise the span.", "span_mm"};
    const double length = (span - gap) / 2;
    const double at = (span + gap) / 4;
    return std::vector<Pad>{rectangle_pad("1", {-at, 0}, length, width), rectangle_pad("2", {at, 0}, length, width)};
}

Result<Pattern> build_two_land(const Given& given) {
    Result<std::vector<Pad>> pads = two_lands(given("span_mm"), given("gap_mm"), given("land_width_mm"));
    if (!pads) return pads.error();
    return Pattern{std::move(*pads),
                   rectangle_body(given("body_length_mm"), given("body_width_mm"), given("body_height_mm"))};
}

// A can on a square base. The base's two bevelled corners are on the positive side, which is pin 1, left.
constexpr std::array kCan{
    size_spec("base_mm", "square base"),       size_spec("bevel_mm", "bevel of the two corners"),
    size_spec("body_height_mm", "can height"), size_spec("land_length_mm", "land length"),
    size_spec("land_width_mm", "land width"),  size_spec("gap_mm", "between the lands"),
};

Result<Pattern> build_can(const Given& given) {
    const double gap = given("gap_mm");
    Result<std::vector<Pad>> pads = two_lands(gap + 2 * given("land_length_mm"), gap, given("land_width_mm"));
    if (!pads) return pads.error();
    const double half = given("base_mm") / 2;
    const double bevel = given("bevel_mm");
    if (bevel >= half) return Error{"The bevel is as large as half the base; it should be a corner of it.", "bevel_mm"};
    Pattern pattern{std::move(*pads), {}};
    pattern.body.shape = {ShapeKind::Polygon,
                          0.0,
                          0.0,
                          {{-half + bevel, -half},
                           {half, -half},
                           {half, half},
                           {-half + bevel, half},
                           {-half, half - bevel},
                           {-half, -half + bevel}}};
    pattern.body.height_mm = given("body_height_mm");
    return pattern;
}

// Equal lands in one row from left to right.
constexpr std::array kLine{
    size_spec("body_width_mm", "body along the row"),
    size_spec("body_length_mm", "body across the row"),
    size_spec("body_height_mm", "body height"),
    count_spec("pins", "lands", 1, 40),
    size_spec("pitch_mm", "pitch"),
    size_spec("land_width_mm", "land along the row"),
    size_spec("land_length_mm", "land across the row"),
};

Result<Pattern> build_line(const Given& given) {
    const int pins = given.count("pins");
    const double pitch = given("pitch_mm");
    Pattern pattern;
    add_row(pattern.pads, 1, pins, {-(pins - 1) * pitch / 2, 0}, {pitch, 0}, given("land_width_mm"),
            given("land_length_mm"));
    pattern.body = rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"));
    return pattern;
}

// Four equal lands at the corners, counter-clockwise from upper left.
constexpr std::array kFourLand{
    size_spec("body_width_mm", "body left to right"),   size_spec("body_length_mm", "body top to bottom"),
    size_spec("body_height_mm", "body height"),         size_spec("spacing_x_mm", "centres left to right"),
    size_spec("spacing_y_mm", "centres top to bottom"), size_spec("land_width_mm", "land left to right"),
    size_spec("land_length_mm", "land top to bottom"),
};

Result<Pattern> build_four_land(const Given& given) {
    const double x = given("spacing_x_mm") / 2;
    const double y = given("spacing_y_mm") / 2;
    const double w = given("land_width_mm");
    const double h = given("land_length_mm");
    return Pattern{{rectangle_pad("1", {-x, -y}, w, h), rectangle_pad("2", {-x, y}, w, h),
                    rectangle_pad("3", {x, y}, w, h), rectangle_pad("4", {x, -y}, w, h)},
                   rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"))};
}

// Sense resistor with four terminals: at each end one wide land for the current, one narrow one for the reading.
constexpr std::array kSense{
    size_spec("body_width_mm", "body left to right"),    size_spec("body_length_mm", "body top to bottom"),
    size_spec("body_height_mm", "body height"),          size_spec("spacing_x_mm", "centres left to right"),
    size_spec("land_length_mm", "land left to right"),   size_spec("wide_width_mm", "wide land top to bottom"),
    place_spec("wide_y_mm", "wide land moved down"),     size_spec("narrow_width_mm", "narrow land top to bottom"),
    place_spec("narrow_y_mm", "narrow land moved down"),
};

Result<Pattern> build_sense(const Given& given) {
    const double x = given("spacing_x_mm") / 2;
    const double length = given("land_length_mm");
    const auto wide = [&](const char* number, double at) {
        return rectangle_pad(number, {at, given("wide_y_mm")}, length, given("wide_width_mm"));
    };
    const auto narrow = [&](const char* number, double at) {
        return rectangle_pad(number, {at, given("narrow_y_mm")}, length, given("narrow_width_mm"));
    };
    return Pattern{{wide("1", -x), narrow("2", -x), narrow("3", x), wide("4", x)},
                   rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"))};
}

// Feed-through capacitor: the ends are in and out, the sides are ground. Counter-clockwise from the left end.
constexpr std::array kFeedthrough{
    size_spec("body_width_mm", "body left to right"),
    size_spec("body_length_mm", "body top to bottom"),
    size_spec("body_height_mm", "body height"),
    size_spec("spacing_x_mm", "end lands, centres"),
    size_spec("end_length_mm", "end land left to right"),
    size_spec("end_width_mm", "end land top to bottom"),
    size_spec("spacing_y_mm", "side lands, centres"),
    size_spec("side_length_mm", "side land left to right"),
    size_spec("side_width_mm", "side land top to bottom"),
};

Result<Pattern> build_feedthrough(const Given& given) {
    const double x = given("spacing_x_mm") / 2;
    const double y = given("spacing_y_mm") / 2;
    const double end_w = given("end_length_mm");
    const double end_h = given("end_width_mm");
    const double side_w = given("side_length_mm");
    const double side_h = given("side_width_mm");
    return Pattern{{rectangle_pad("1", {-x, 0}, end_w, end_h), rectangle_pad("2", {0, y}, side_w, side_h),
                    rectangle_pad("3", {x, 0}, end_w, end_h), rectangle_pad("4", {0, -y}, side_w, side_h)},
                   rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"))};
}

} // namespace

Layout two_land_layout() {
    return {"family_two_land", kTwoLand, build_two_land, false};
}
Layout can_layout() {
    return {"family_can", kCan, build_can, false};
}
Layout line_layout() {
    return {"family_line", kLine, build_line, false};
}
Layout four_land_layout() {
    return {"family_four_land", kFourLand, build_four_land, false};
}
Layout sense_layout() {
    return {"family_sense", kSense, build_sense, false};
}
Layout feedthrough_layout() {
    return {"family_feedthrough", kFeedthrough, build_feedthrough, false};
}

} // namespace padchart::patterns
