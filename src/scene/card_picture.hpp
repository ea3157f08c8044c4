#pragma once
// The pictures on an orientation card: the part as it lies, and the turns it must not be fitted in.

#include <vector>

#include "analysis/fit.hpp"
#include "document/chart.hpp"
#include "scene/page.hpp"

namespace padchart::scene {

/// The part as large as it fits into the box (page mm), with its mark; where none is on record, circles to fill in by
/// pen and a sign.
[[nodiscard]] PlacedScene part_picture(const document::Footprint& part, const analysis::PartFit& fit,
                                       const geometry::Box& box);

/// The copper of the board as it is, and on it, dashed, the part turned counter-clockwise by `turn_deg`. `scale` in
/// page mm per mm, so that small pictures side by side are alike.
[[nodiscard]] PlacedScene turned_picture(const document::Footprint& part, double turn_deg,
                                         geometry::Vec2 centre_on_page, double scale);
/// The largest scale at which the part in all these turns fits into the room (page mm).
[[nodiscard]] double turned_scale(const document::Footprint& part, const std::vector<double>& turns_deg,
                                  geometry::Vec2 room_mm);

} // namespace padchart::scene
