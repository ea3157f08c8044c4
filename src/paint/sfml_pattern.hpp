#pragma once
// Hatches and dots, clipped to the area they stand for. The pattern is fixed to the scene's origin, so that it does not
// swim while the hand pans.

#include "paint/sfml_mesh.hpp"

namespace padchart::paint {

/// `area` in px about the scene's origin; only what lies in `region` (same frame) is made; `anchor` is taken off
/// before the numbers become float.
void add_hatch(Mesh& mesh, const geometry::Polygon& area, const geometry::Box& region, geometry::Vec2 anchor,
               const Hatch& hatch, double ui_scale);

} // namespace padchart::paint
