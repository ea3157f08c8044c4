#pragma once
// Relative angles of the two published zero orientations, and how a part lies in tape. An angle of a part is only
// meaningful with its reference; the chart keeps the bearing of the physical mark, and these numbers are derived.
// Sources: level A, IPC-7351 (pin 1 upper left); level B, IEC 61188-7 (pin 1 lower left); two-terminal parts have pin 1
// left in both. Tape quadrants and squareness: EIA-481-E. Second-hand, from texts that quote them.

#include <optional>

#include "base/angle.hpp"
#include "document/footprint.hpp"

namespace padchart::patterns {

enum class ZeroLevel { A, B };

/// The counter-clockwise turn that takes a part from its zero of level A to its zero of level B: 90 degrees, or 0 for
/// two-terminal parts. Requires: pads >= 1.
[[nodiscard]] Angle level_b_from_a(int pads);

/// How far the part as placed is turned, counter-clockwise, from its zero of the level, in [0, 360). Read from where
/// land "1" or "A1" lies in the part's own frame. Nothing when no land bears that number, or it lies in the middle.
[[nodiscard]] std::optional<Angle> turn_from_zero(const document::Footprint& part, ZeroLevel level);

/// The tape quadrant of a place seen from the middle of the part: 1 upper left, 2 upper right, 3 lower left, 4 lower
/// right. `towards` is y down; a place on an axis counts to the right or lower one.
[[nodiscard]] int tape_quadrant(geometry::Vec2 towards);
/// Length and width differ by no more than 0.3 mm.
[[nodiscard]] bool is_square_in_tape(double length_mm, double width_mm);

} // namespace padchart::patterns
