// Layouts of shield cans, microphones with a port, cell holders, test points and mounting holes.

#include <array>

#include "patterns/layout_parts.hpp"

namespace padchart::patterns {
namespace {

using document::Pad;
using document::ShapeKind;

constexpr ParameterSpec kBodyWidth = size_spec("body_width_mm", "body left to right");
constexpr ParameterSpec kBodyLength = size_spec("body_length_mm", "body top to bottom");
constexpr ParameterSpec kBodyHeight = size_spec("body_height_mm", "body height");

document::Body body_of(const Given& given) {
    return rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"));
}

// The frame of a can under the walls of its body, interrupted by gaps. The upper and lower side hold the corners.
// Every land is the same net, hence without a number.
constexpr std::array kShield{
    kBodyWidth,
    kBodyLength,
    kBodyHeight,
    size_spec("land_width_mm", "frame land across"),
    size_spec("gap_mm", "gaps of the frame"),
    count_spec("end_lands", "lands of upper and lower side, each", 1, 40),
    count_spec("side_lands", "lands of left and right side, each", 0, 40),
};

/// `count` lands of equal length with gaps between them, from -length/2 to length/2 along x or y.
void add_frame_side(std::vector<Pad>& pads, int count, double length, double gap, double across, double at,
                    bool along_x) {
    const double land = (length - (count - 1) * gap) / count;
    for (int i = 0; i < count; ++i) {
        const double middle = -length / 2 + land / 2 + i * (land + gap);
        pads.push_back(along_x ? rectangle_pad("", {middle, at}, land, across)
                               : rectangle_pad("", {at, middle}, across, land));
    }
}

Result<Pattern> build_shield(const Given& given) {
    const double across = given("land_width_mm");
    const double gap = given("gap_mm");
    const int ends = given.count("end_lands");
    const int sides = given.count("side_lands");
    const double width = given("body_width_mm") + across; // the wall stands on the middle of the land
    const double length = given("body_length_mm") - across - 2 * gap;
    if (width <= (ends - 1) * gap || (sides > 0 && length <= (sides - 1) * gap))
        return Error{"The gaps leave no room for the frame's lands; use fewer lands or smaller gaps.", "gap_mm"};
    const double x = given("body_width_mm") / 2;
    const double y = given("body_length_mm") / 2;
    Pattern pattern;
    add_frame_side(pattern.pads, sides, length, gap, across, -x, false);
    add_frame_side(pattern.pads, ends, width, gap, across, y, true);
    add_frame_side(pattern.pads, sides, length, gap, across, x, false);
    add_frame_side(pattern.pads, ends, width, gap, across, -y, true);
    pattern.body = body_of(given);
    return pattern;
}

// Four corner lands left, the ring land round the port right; the ring is the last number.
constexpr std::array kMicrophone{
    kBodyWidth,
    kBodyLength,
    kBodyHeight,
    place_spec("lands_x_mm", "middle of the four lands, across"),
    size_spec("spacing_x_mm", "lands left to right, centres"),
    size_spec("spacing_y_mm", "lands top to bottom, centres"),
    size_spec("land_width_mm", "land left to right"),
    size_spec("land_length_mm", "land top to bottom"),
    place_spec("port_x_mm", "port, across"),
    size_spec("ring_outer_mm", "ring land, outside"),
    size_spec("ring_inner_mm", "ring land, inside"),
};

Result<Pattern> build_microphone(const Given& given) {
    const double outer = given("ring_outer_mm");
    const double inner = given("ring_inner_mm");
    if (inner >= outer) return Error{"The ring's inside is not smaller than its outside.", "ring_inner_mm"};
    const double left = given("lands_x_mm") - given("spacing_x_mm") / 2;
    const double right = given("lands_x_mm") + given("spacing_x_mm") / 2;
    const double y = given("spacing_y_mm") / 2;
    const double w = given("land_width_mm");
    const double h = given("land_length_mm");
    return Pattern{{rectangle_pad("1", {left, -y}, w, h), rectangle_pad("2", {left, y}, w, h),
                    rectangle_pad("3", {right, y}, w, h), rectangle_pad("4", {right, -y}, w, h),
                    ring_pad("5", {given("port_x_mm"), 0}, outer, inner)},
                   body_of(given)};
}

// Two lands for the spring (the cell's case, positive) left and right, one round land in the middle (negative).
constexpr std::array kCellHolder{
    size_spec("body_mm", "holder left to right"),
    size_spec("cell_mm", "cell diameter"),
    kBodyHeight,
    size_spec("spacing_mm", "spring lands, centre to centre"),
    size_spec("land_length_mm", "spring land left to right"),
    size_spec("land_width_mm", "spring land top to bottom"),
    size_spec("middle_mm", "middle land, diameter"),
};

Result<Pattern> build_cell_holder(const Given& given) {
    const double x = given("spacing_mm") / 2;
    const double w = given("land_length_mm");
    const double h = given("land_width_mm");
    return Pattern{{rectangle_pad("1", {-x, 0}, w, h), round_pad("2", {0, 0}, given("middle_mm")),
                    rectangle_pad("3", {x, 0}, w, h)},
                   rectangle_body(given("body_mm"), given("cell_mm"), given("body_height_mm"))};
}

// One round land, with or without a hole; the body is what sits on it, such as a screw's head.
constexpr std::array kRoundLand{
    size_spec("body_mm", "body diameter"),
    optional_size_spec("body_height_mm", "body height"),
    size_spec("land_mm", "land diameter"),
    optional_size_spec("hole_mm", "hole diameter"),
};

Result<Pattern> build_round_land(const Given& given) {
    const double land = given("land_mm");
    const double hole = given("hole_mm");
    if (hole >= land) return Error{"The hole is not smaller than its land.", "hole_mm"};
    Pattern pattern;
    pattern.pads.push_back(hole > 0.0 ? ring_pad("1", {0, 0}, land, hole) : round_pad("1", {0, 0}, land));
    pattern.body.shape = {ShapeKind::Round, given("body_mm"), given("body_mm"), {}};
    pattern.body.height_mm = given("body_height_mm");
    return pattern;
}

} // namespace

Layout shield_layout() {
    return {"family_shield", kShield, build_shield, false};
}
Layout microphone_layout() {
    return {"family_microphone", kMicrophone, build_microphone, false};
}
Layout cell_holder_layout() {
    return {"family_cell_holder", kCellHolder, build_cell_holder, false};
}
Layout round_land_layout() {
    return {"family_round_land", kRoundLand, build_round_land, false};
}

} // namespace padchart::patterns
