#pragma once
// Areas and lines of a scene as quads for one zoom: most of the work that a large picture asks for. Needs no display
// and may be made on any thread.
//
// Level of detail: below 6 px rounded shapes are drawn with four corners, below 30 px with at most sixteen, pads lose
// their edge below 5 px.

#include <memory>

#include "paint/prepared_scene.hpp"
#include "paint/sfml_mesh.hpp"
#include "paint/theme.hpp"
#include "paint/view.hpp"

namespace padchart::paint {

struct Ground {
    std::shared_ptr<const PreparedScene> scene;
    View view;               ///< the quads are px about its centre
    geometry::Box region_mm; ///< what is in the quads: more than the view
    const Theme* theme = nullptr;
    Mesh quads;
};

/// Requires: the scene is there, the theme outlives what is returned.
[[nodiscard]] std::shared_ptr<const Ground> ground_of(std::shared_ptr<const PreparedScene> scene, const View& view,
                                                      const Theme& theme, const Around& around = {});
/// It is of this zoom and theme, and reaches as far round the view as is to be kept.
[[nodiscard]] bool serves(const Ground& ground, const View& view, const Theme& theme, const Around& around = {});

} // namespace padchart::paint
