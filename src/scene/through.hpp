#pragma once
// A scene as a camera sees it: every place through a homography, so that a chart can be laid over a photograph as it
// was taken.

#include "geometry/homography.hpp"
#include "scene/scene.hpp"

namespace padchart::scene {

/// Places of areas, lines, texts and signs through the map. Areas and lines that touch or pass the map's horizon are
/// left out, as are texts and signs beyond it. Texts stay upright; those whose height is in mm grow with the map.
[[nodiscard]] Scene through(const Scene& scene, const geometry::Homography& map);

} // namespace padchart::scene
