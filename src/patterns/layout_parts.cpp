#include "patterns/layout_parts.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace padchart::patterns {
namespace {

using document::Pad;
using document::ShapeKind;
using geometry::Ring;
using geometry::Vec2;

constexpr double kSlit_mm = 0.05;

/// Points on a circle from one bearing to another, both ends included.
void add_arc(Ring& ring, double radius, double from_rad, double to_rad) {
    const double largest_step = 2.0 * std::acos(1.0 - std::min(1.0, document::kShapeTolerance / radius));
    const int steps = std::max(8, static_cast<int>(std::ceil(std::abs(to_rad - from_rad) / largest_step)));
    for (int i = 0; i <= steps; ++i) {
        const double at = from_rad + (to_rad - from_rad) * i / steps;
        ring.push_back({radius * std::cos(at), radius * std::sin(at)});
    }
}

} // namespace

Pad rectangle_pad(std::string number, Vec2 at, double width_mm, double height_mm) {
    Pad pad;
    pad.number = std::move(number);
    pad.at = at;
    pad.shape = {ShapeKind::Rectangle, width_mm, height_mm, {}};
    return pad;
}

Pad round_pad(std::string number, Vec2 at, double diameter_mm) {
    Pad pad;
    pad.number = std::move(number);
    pad.at = at;
    pad.shape = {ShapeKind::Round, diameter_mm, diameter_mm, {}};
    return pad;
}

Pad polygon_pad(std::string number, const Ring& points_in_part) {
    geometry::Box box;
    for (const Vec2 point : points_in_part)
        box.add(point);
    Pad pad;
    pad.number = std::move(number);
    pad.at = box.centre();
    pad.shape.kind = ShapeKind::Polygon;
    for (const Vec2 point : points_in_part)
        pad.shape.points.push_back(point - pad.at);
    return pad;
}

Pad ring_pad(std::string number, Vec2 at, double outer_mm, double inner_mm) {
    assert(inner_mm > 0.0 && inner_mm < outer_mm);
    const auto slit = [](double diameter) { return std::asin(std::min(0.5, kSlit_mm / diameter)); };
    constexpr double kTurn = 2.0 * std::numbers::pi;
    Pad pad;
    pad.number = std::move(number);
    pad.at = at;
    pad.shape.kind = ShapeKind::Polygon;
    add_arc(pad.shape.points, outer_mm / 2, slit(outer_mm), kTurn - slit(outer_mm));
    add_arc(pad.shape.points, inner_mm / 2, kTurn - slit(inner_mm), slit(inner_mm));
    return pad;
}

void add_row(std::vector<Pad>& pads, int number, int count, Vec2 first, Vec2 step, double width_mm, double height_mm,
             const std::string& prefix) {
    for (int i = 0; i < count; ++i)
        pads.push_back(rectangle_pad(prefix + std::to_string(number + i), first + step * i, width_mm, height_mm));
}

document::Body rectangle_body(double width_mm, double length_mm, double height_mm) {
    document::Body body;
    body.shape = {ShapeKind::Rectangle, width_mm, length_mm, {}};
    body.height_mm = height_mm;
    return body;
}

std::span<const std::string_view> centre_name_choices() {
    static constexpr std::array<std::string_view, 4> kChoices{"next number", "EP", "0", "no number"};
    return kChoices;
}

std::string centre_name(int choice, int perimeter_pins) {
    switch (choice) {
    case 0: return std::to_string(perimeter_pins + 1);
    case 1: return "EP";
    case 2: return "0";
    default: return "";
    }
}

ParameterSpec centre_name_spec() {
    return choice_spec(kCentreNameKey, "centre land is called", centre_name_choices());
}

Result<void> add_centre(std::vector<Pad>& pads, const Given& given) {
    const double width = given("centre_width_mm");
    const double length = given("centre_length_mm");
    const double chamfer = given("centre_chamfer_mm");
    if (width == 0.0 && length == 0.0) return {};
    if (width == 0.0 || length == 0.0)
        return Error{"A centre land needs both its sizes; for none set both to 0 mm.", "centre_width_mm"};
    if (chamfer >= std::min(width, length))
        return Error{"The chamfer is as large as the centre land; it should be a small corner of it.",
                     "centre_chamfer_mm"};
    std::string name = centre_name(given.count(kCentreNameKey), static_cast<int>(pads.size()));
    const Vec2 at{given("centre_x_mm"), given("centre_y_mm")};
    if (chamfer == 0.0) {
        pads.push_back(rectangle_pad(std::move(name), at, width, length));
        return {};
    }
    const double x = width / 2;
    const double y = length / 2;
    const Ring corners{{-x + chamfer, -y}, {x, -y}, {x, y}, {-x, y}, {-x, -y + chamfer}};
    Pad pad = rectangle_pad(std::move(name), at, 0.0, 0.0);
    pad.shape = {ShapeKind::Polygon, 0.0, 0.0, corners};
    pads.push_back(std::move(pad));
    return {};
}

} // namespace padchart::patterns
