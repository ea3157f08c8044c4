#pragma once
// The recorded mark of a part, drawn where it is to be found: on the body's edge in the direction of its bearing.

#include "document/footprint.hpp"
#include "scene/scene.hpp"

namespace padchart::scene {

/// Adds the mark and answers the box it takes, in scene mm; an empty box where none is on record.
/// `scene_from_part` maps the part's frame to the scene.
geometry::Box add_mark(Scene& scene, const document::Footprint& part, const geometry::Affine& scene_from_part,
                       std::int32_t source);

/// A land with such a cross fills `box`: the legend's sample.
void add_faulty_land(Scene& scene, const geometry::Box& box);
/// A cross on a pad whose land or joint is not as it should be: it reads without colour. `pad` in scene mm.
void add_fault_cross(Scene& scene, const geometry::Box& pad, std::int32_t source);

} // namespace padchart::scene
