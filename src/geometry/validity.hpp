#pragma once
// Is a ring a proper outline, and if not, where does it go wrong and what is the nearest proper one?
// Mending keeps every area the hand went round (non-zero winding, "structure" method), it never shrinks silently.

#include <optional>
#include <string>

#include "geometry/polygon.hpp"

namespace padchart::geometry {

struct Flaw {
    std::string reason; ///< "crosses itself", "has fewer than three different points", "has no area", ...
    Vec2 at;            ///< where, mm
};

/// Nothing when the polygon is valid.
[[nodiscard]] std::optional<Flaw> flaw_of(const Polygon& polygon);

/// The proper area of what was drawn: all the outer ring goes round, less all that any hole goes round (a hole that
/// lies outside takes nothing away). Empty when there is no area at all.
[[nodiscard]] Region mended(const Polygon& polygon);

} // namespace padchart::geometry
