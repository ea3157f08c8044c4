#pragma once
// What tells a locked part from one that can be moved, on the board.

#include "app/editor.hpp"
#include "scene/scene.hpp"

namespace padchart::app {

/// A padlock at the lower right corner of each locked part of the side looked at. `mm_per_px` is a pixel at scale 1.
void add_lock_signs(scene::Scene& out, const Editor& editor, document::Side seen_from, double mm_per_px);

} // namespace padchart::app
