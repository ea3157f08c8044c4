#pragma once
// The line of a measured length, with an arrow head at either end.

#include "scene/scene.hpp"

namespace padchart::scene {

/// Scene frame. The heads are 9 px long, less on a short line. Nothing but the line where both ends are one.
void add_double_arrow(Scene& scene, geometry::Vec2 from, geometry::Vec2 to, double px_per_mm);

} // namespace padchart::scene
