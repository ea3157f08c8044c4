#pragma once
// What a painter needs to know of a scene whatever the zoom: boxes, which areas are convex, the others cut into pieces,
// which lines are the edge of the area before them. Made on any thread, so that the one that paints need not.

#include <memory>
#include <vector>

#include "geometry/box.hpp"
#include "paint/bands.hpp"
#include "scene/scene.hpp"

namespace padchart::paint {

struct PreparedScene {
    struct Area {
        geometry::Box box;
        bool convex = false;
        std::vector<Band> bands; ///< of an area that is not convex
    };

    std::shared_ptr<const scene::Scene> scene; ///< never null
    std::vector<Area> areas;                   ///< by Item::index
    std::vector<geometry::Box> line_boxes;     ///< by Item::index
    std::vector<bool> is_outlined;             ///< by item: an area whose own outline is the next item
};

/// Requires: the scene is there.
[[nodiscard]] std::shared_ptr<const PreparedScene> prepared(std::shared_ptr<const scene::Scene> scene);

} // namespace padchart::paint
