#pragma once
// What of a scene is seen, where and how large.

#include "geometry/box.hpp"

namespace padchart::paint {

struct View {
    geometry::Vec2 centre_mm;
    geometry::Box viewport_px; ///< whole pixels of the target; nothing is painted outside
    double px_per_mm = 1.0;
    double ui_scale = 1.0;

    bool operator==(const View&) const = default;
};

/// How far round the view the quads reach, in halves of the view.
struct Around {
    double made = 1.25;
    double kept = 1.0; ///< less is taken for too little
};

/// The scene mm within `halves` of the view round its centre.
[[nodiscard]] geometry::Box region_round(const View& view, double halves);

/// What was made for `made`, so far round it, shows `view` and as much round that as is to be kept.
[[nodiscard]] bool serves(const View& made, const View& view, const Around& around = {});

} // namespace padchart::paint
