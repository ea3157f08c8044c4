#pragma once
// A map of the plane as a camera makes it: straight lines stay straight, and nothing else is promised. 3 x 3 numbers
// row by row: (x, y) -> ((h0 x + h1 y + h2) / w, (h3 x + h4 y + h5) / w), w = h6 x + h7 y + h8.

#include <array>
#include <cmath>
#include <optional>

#include "geometry/affine.hpp"

namespace padchart::geometry {

struct Homography {
    std::array<double, 9> h{1, 0, 0, 0, 1, 0, 0, 0, 1};

    bool operator==(const Homography&) const = default;

    [[nodiscard]] static constexpr Homography of(const Affine& m) {
        return {{m.a, m.c, m.e, m.b, m.d, m.f, 0.0, 0.0, 1.0}};
    }

    /// Below or at zero: the point lies on or beyond the picture's horizon, where the map means nothing. The sign is
    /// that of a map whose last number is positive.
    [[nodiscard]] constexpr double weight(Vec2 p) const { return h[6] * p.x + h[7] * p.y + h[8]; }

    /// Requires: weight(p) != 0.
    [[nodiscard]] constexpr Vec2 operator()(Vec2 p) const {
        const double w = weight(p);
        return {(h[0] * p.x + h[1] * p.y + h[2]) / w, (h[3] * p.x + h[4] * p.y + h[5]) / w};
    }

    /// Apply `first`, then this.
    [[nodiscard]] constexpr Homography operator*(const Homography& first) const {
        Homography out{{}};
        for (std::size_t row = 0; row < 3; ++row)
            for (std::size_t column = 0; column < 3; ++column)
                for (std::size_t k = 0; k < 3; ++k)
                    out.h[3 * row + column] += h[3 * row + k] * first.h[3 * k + column];
        return out;
    }

    [[nodiscard]] constexpr double determinant() const {
        return h[0] * (h[4] * h[8] - h[5] * h[7]) - h[1] * (h[3] * h[8] - h[5] * h[6]) +
               h[2] * (h[3] * h[7] - h[4] * h[6]);
    }

    /// The way back. Requires: determinant() != 0.
    [[nodiscard]] constexpr Homography inverse() const {
        const double k = 1.0 / determinant();
        return {{(h[4] * h[8] - h[5] * h[7]) * k, (h[2] * h[7] - h[1] * h[8]) * k, (h[1] * h[5] - h[2] * h[4]) * k,
                 (h[5] * h[6] - h[3] * h[8]) * k, (h[0] * h[8] - h[2] * h[6]) * k, (h[2] * h[3] - h[0] * h[5]) * k,
                 (h[3] * h[7] - h[4] * h[6]) * k, (h[1] * h[6] - h[0] * h[7]) * k, (h[0] * h[4] - h[1] * h[3]) * k}};
    }

    /// By how much areas grow at a point; negative where the map mirrors. Requires: weight(p) != 0.
    [[nodiscard]] constexpr double area_factor(Vec2 p) const {
        const double w = weight(p);
        return determinant() / (w * w * w);
    }
};

} // namespace padchart::geometry
