#pragma once
// Random shapes that are the same on every machine: the standard's distributions are not, so the numbers are made
// from the raw bits of mt19937_64, which is.

#include <algorithm>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

#include "geometry/polygon.hpp"

namespace padchart::testing {

class Random {
public:
    explicit Random(std::uint64_t start) : bits_(start) {}

    [[nodiscard]] double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(bits_() >> 11U) * 0x1.0p-53);
    }
    /// From 0 up to but without `end`.
    [[nodiscard]] std::size_t below(std::size_t end) { return static_cast<std::size_t>(bits_() % end); }
    [[nodiscard]] bool chance(double p) { return between(0.0, 1.0) < p; }
    [[nodiscard]] geometry::Vec2 point(double reach) { return {between(-reach, reach), between(-reach, reach)}; }
    [[nodiscard]] Angle turn() { return Angle::degrees(between(0.0, 360.0)); }

private:
    std::mt19937_64 bits_;
};

/// Corners on an ellipse at sorted random angles: convex, either way round.
inline geometry::Ring random_convex(Random& random, geometry::Vec2 centre, double reach) {
    const std::size_t corners = 3 + random.below(9);
    std::vector<double> angles;
    for (std::size_t i = 0; i < corners; ++i)
        angles.push_back(random.between(0.0, 2.0 * std::numbers::pi));
    std::sort(angles.begin(), angles.end());
    if (random.chance(0.5)) std::reverse(angles.begin(), angles.end());
    const geometry::Vec2 radius{random.between(0.2, 1.0) * reach, random.between(0.2, 1.0) * reach};
    geometry::Ring ring;
    for (const double angle : angles)
        ring.push_back(centre + geometry::Vec2{radius.x * std::cos(angle), radius.y * std::sin(angle)});
    return ring;
}

/// Corners at evenly rising angles and random radii: a simple ring with deep dents.
inline geometry::Ring random_star(Random& random, geometry::Vec2 centre, double reach, std::size_t corners) {
    geometry::Ring ring;
    for (std::size_t i = 0; i < corners; ++i) {
        const double angle = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(corners);
        const double radius = random.between(0.25, 1.0) * reach;
        ring.push_back(centre + radius * geometry::Vec2{std::cos(angle), std::sin(angle)});
    }
    return ring;
}

/// Points anywhere in a square: crosses itself many times over.
inline geometry::Ring random_tangle(Random& random, geometry::Vec2 centre, double reach, std::size_t corners) {
    geometry::Ring ring;
    for (std::size_t i = 0; i < corners; ++i)
        ring.push_back(centre + random.point(reach));
    return ring;
}

} // namespace padchart::testing
