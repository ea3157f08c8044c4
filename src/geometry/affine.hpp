#pragma once
// An affine map of the plane, written as SVG writes it: x' = a x + c y + e, y' = b x + d y + f.

#include "base/angle.hpp"
#include "geometry/vec2.hpp"

namespace padchart::geometry {

struct Affine {
    double a = 1.0, b = 0.0, c = 0.0, d = 1.0, e = 0.0, f = 0.0;

    bool operator==(const Affine&) const = default;

    [[nodiscard]] constexpr Vec2 operator()(Vec2 p) const { return {a * p.x + c * p.y + e, b * p.x + d * p.y + f}; }

    /// The map of displacements: no translation.
    [[nodiscard]] constexpr Vec2 linear(Vec2 v) const { return {a * v.x + c * v.y, b * v.x + d * v.y}; }

    /// Apply `first`, then this.
    [[nodiscard]] constexpr Affine operator*(const Affine& first) const {
        return {a * first.a + c * first.b, b * first.a + d * first.b,     a * first.c + c * first.d,
                b * first.c + d * first.d, a * first.e + c * first.f + e, b * first.e + d * first.f + f};
    }

    /// Negative when the map mirrors.
    [[nodiscard]] constexpr double determinant() const { return a * d - b * c; }
    [[nodiscard]] constexpr bool mirrors() const { return determinant() < 0.0; }

    /// Requires: determinant() != 0.
    [[nodiscard]] constexpr Affine inverse() const {
        const double k = 1.0 / determinant();
        return {d * k, -b * k, -c * k, a * k, (c * f - d * e) * k, (b * e - a * f) * k};
    }

    [[nodiscard]] static constexpr Affine translation(Vec2 by) { return {1, 0, 0, 1, by.x, by.y}; }
    [[nodiscard]] static constexpr Affine scaling(double x, double y) { return {x, 0, 0, y, 0, 0}; }

    /// Counter-clockwise as seen on a page with y downwards.
    [[nodiscard]] static Affine rotation(Angle angle) {
        const CosSin t = cos_sin(angle);
        return {t.cos, -t.sin, t.sin, t.cos, 0, 0};
    }

    [[nodiscard]] static Affine rotation_about(Vec2 centre, Angle angle) {
        return translation(centre) * rotation(angle) * translation(-centre);
    }
};

/// The largest factor by which the map stretches any length (its spectral norm).
[[nodiscard]] inline double largest_stretch(const Affine& m) {
    const double p = std::hypot((m.a + m.d) / 2, (m.b - m.c) / 2);
    const double q = std::hypot((m.a - m.d) / 2, (m.b + m.c) / 2);
    return p + q;
}

/// The direction of a displacement, counter-clockwise from +x as seen on the page.
[[nodiscard]] inline Angle bearing(Vec2 v) {
    return Angle::radians(std::atan2(-v.y, v.x)).wrapped();
}

/// The unit displacement at a bearing.
[[nodiscard]] inline Vec2 direction(Angle bearing) {
    const CosSin t = cos_sin(bearing);
    return {t.cos, -t.sin};
}

} // namespace padchart::geometry
