#include "patterns/zero_orientation.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "geometry/box.hpp"

namespace padchart::patterns {
namespace {

using document::Footprint;
using document::Pad;
using geometry::Vec2;

/// From the middle of the lands to land 1.
std::optional<Vec2> towards_pin_1(const Footprint& part) {
    const auto first = std::find_if(part.pads.begin(), part.pads.end(),
                                    [](const Pad& pad) { return pad.number == "1" || pad.number == "A1"; });
    if (first == part.pads.end()) return std::nullopt;
    geometry::Box box;
    for (const Pad& pad : part.pads)
        box.add(pad.at);
    const Vec2 towards = first->at - box.centre();
    if (geometry::length(towards) < 1e-6) return std::nullopt;
    return towards;
}

/// The turn of the part's own frame against level A: which quarter holds pin 1.
Angle own_turn(Vec2 towards, std::size_t pads) {
    if (pads <= 2) {
        // Left is 0; then down, right, up as the part turns counter-clockwise.
        if (std::abs(towards.x) >= std::abs(towards.y)) return Angle::degrees(towards.x < 0.0 ? 0.0 : 180.0);
        return Angle::degrees(towards.y > 0.0 ? 90.0 : 270.0);
    }
    const bool left = towards.x < 0.0 || (towards.x == 0.0 && towards.y < 0.0);
    const bool upper = left ? towards.y <= 0.0 : towards.y < 0.0;
    if (left) return Angle::degrees(upper ? 0.0 : 90.0);
    return Angle::degrees(upper ? 270.0 : 180.0);
}

} // namespace

Angle level_b_from_a(int pads) {
    assert(pads >= 1);
    return Angle::degrees(pads <= 2 ? 0.0 : 90.0);
}

std::optional<Angle> turn_from_zero(const Footprint& part, ZeroLevel level) {
    const std::optional<Vec2> towards = towards_pin_1(part);
    if (!towards) return std::nullopt;
    const Angle from_a = own_turn(*towards, part.pads.size()) + part.placement.turn;
    if (level == ZeroLevel::A) return from_a.wrapped();
    return (from_a - level_b_from_a(static_cast<int>(part.pads.size()))).wrapped();
}

int tape_quadrant(Vec2 towards) {
    const int lower = towards.y >= 0.0 ? 2 : 0;
    return 1 + lower + (towards.x >= 0.0 ? 1 : 0);
}

bool is_square_in_tape(double length_mm, double width_mm) {
    constexpr double kSquare_mm = 0.3;
    constexpr double kRounding = 1e-9;
    return std::abs(length_mm - width_mm) <= kSquare_mm + kRounding;
}

} // namespace padchart::patterns
