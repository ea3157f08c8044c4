#pragma once
// Words of an overlay, such as what was measured, laid off what the picture below shows: beside the line they belong
// to where nothing is yet, else a little away with a leader to it.

#include "scene/scene.hpp"

namespace padchart::scene {

/// Moves the LabelMeasure texts of `overlay` off bodies, lands, signs and words of `picture` and of the overlay itself,
/// and off its Measure and Snap lines; over a body only where nothing else is near. One that lies clear stays where it
/// is; one that finds no place in `view` (scene mm) too. `px_per_mm` at scale 1.
void lay_words_off(Scene& overlay, const Scene& picture, const geometry::Box& view, double px_per_mm);

} // namespace padchart::scene
