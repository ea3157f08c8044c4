#pragma once
// Where the handle stands by which a selection is turned: above it, and names make way for it.

namespace padchart::scene {

inline constexpr double kTurnHandle_px = 28.0;      ///< above the selection's upper edge
inline constexpr double kTurnHandleRadius_px = 5.5; ///< of its disc

} // namespace padchart::scene
