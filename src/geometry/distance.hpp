#pragma once
// The true distance between two areas and where it is. Touching or overlapping areas have distance 0.

#include <memory>
#include <span>

#include "geometry/polygon.hpp"

namespace padchart::geometry {

struct Gap {
    double mm = 0.0; ///< 0 where the areas touch or overlap
    Vec2 from;       ///< nearest point of the first area
    Vec2 to;         ///< nearest point of the second area
};

/// Requires: neither region is empty.
[[nodiscard]] Gap gap_between(const Region& a, const Region& b);

/// From an area to lines (the board's edge as open or closed lines; each Ring is taken as a closed line).
[[nodiscard]] Gap gap_to_lines(const Region& a, std::span<const Ring> closed_lines);

/// One area prepared for many questions against others. Movable, not copyable; use from one thread at a time.
class PreparedArea {
public:
    /// Requires: the region is not empty.
    explicit PreparedArea(const Region& region);
    PreparedArea(PreparedArea&&) noexcept;
    PreparedArea& operator=(PreparedArea&&) noexcept;
    ~PreparedArea();

    /// Closed lines instead of an area (the board's edge): what lies inside a ring keeps its distance to it.
    /// Requires: at least one ring that is not empty.
    [[nodiscard]] static PreparedArea along(std::span<const Ring> closed_lines);

    [[nodiscard]] double distance_to(const PreparedArea& other) const;
    [[nodiscard]] bool is_within(const PreparedArea& other, double mm) const; ///< distance <= mm; stops early
    [[nodiscard]] Gap gap_to(const PreparedArea& other) const;
    [[nodiscard]] const Box& box() const;

private:
    struct State;
    explicit PreparedArea(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

} // namespace padchart::geometry
