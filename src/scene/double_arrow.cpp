#include "scene/double_arrow.hpp"

#include <algorithm>
#include <utility>

namespace padchart::scene {

using geometry::Vec2;

void add_double_arrow(Scene& scene, Vec2 from, Vec2 to, double px_per_mm) {
    scene.add(Role::Measure, Line{{from, to}, false, Weight::Thin});
    const double span = geometry::distance(from, to);
    if (span <= 1e-9) return;
    const Vec2 along = (to - from) / span;
    const Vec2 across = Vec2{-along.y, along.x} * 0.4;
    const double head = std::min(9.0 / px_per_mm, span * 0.3);
    for (const auto& [tip, back] : {std::pair{from, along}, std::pair{to, -along}})
        scene.add(Role::Measure, Fill{{{tip, tip + (back + across) * head, tip + (back - across) * head}, {}}});
}

} // namespace padchart::scene
