#include "app/tools/keyed_place.hpp"

namespace padchart::app {
namespace {

constexpr double kStep_mm = 0.5, kFine = 0.1, kFar = 10.0;

std::optional<geometry::Vec2> way_of(Key key) {
    switch (key) {
    case Key::Left: return geometry::Vec2{-1, 0};
    case Key::Right: return geometry::Vec2{1, 0};
    case Key::Up: return geometry::Vec2{0, -1};
    case Key::Down: return geometry::Vec2{0, 1};
    default: return std::nullopt;
    }
}

} // namespace

bool KeyedPlace::key(const ToolContext& context, const Chord& chord) {
    const auto way = way_of(chord.key);
    if (!way || chord.alt) return false;
    const double step_mm = kStep_mm * (chord.ctrl ? kFine : chord.shift ? kFar : 1.0);
    at_ = at_.value_or(context.from.scene) + *way * step_mm;
    return true;
}

Pointer KeyedPlace::pointer(const Pointer& hand) const {
    if (!at_) return hand;
    Pointer led = hand;
    led.scene = *at_;
    led.ctrl = true;
    return led;
}

} // namespace padchart::app
