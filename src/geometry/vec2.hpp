#pragma once
// A point or displacement in the plane. Always millimetres, x to the right, y downwards, as on the
// traced page seen from the top side of the board; a part's own frame says so where it is used.

#include <cmath>

namespace padchart::geometry {

struct Vec2 {
    double x = 0.0;
    double y = 0.0;

    bool operator==(const Vec2&) const = default;

    friend constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
    friend constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
    friend constexpr Vec2 operator*(Vec2 a, double k) { return {a.x * k, a.y * k}; }
    friend constexpr Vec2 operator*(double k, Vec2 a) { return a * k; }
    friend constexpr Vec2 operator/(Vec2 a, double k) { return {a.x / k, a.y / k}; }
    constexpr Vec2 operator-() const { return {-x, -y}; }
    constexpr Vec2& operator+=(Vec2 b) { return *this = *this + b; }
    constexpr Vec2& operator-=(Vec2 b) { return *this = *this - b; }
};

[[nodiscard]] constexpr double dot(Vec2 a, Vec2 b) {
    return a.x * b.x + a.y * b.y;
}
/// z of the cross product; with y down, positive means b lies clockwise of a on the screen.
[[nodiscard]] constexpr double cross(Vec2 a, Vec2 b) {
    return a.x * b.y - a.y * b.x;
}
[[nodiscard]] inline double length(Vec2 a) {
    return std::hypot(a.x, a.y);
}
[[nodiscard]] inline double distance(Vec2 a, Vec2 b) {
    return length(b - a);
}
[[nodiscard]] constexpr Vec2 lerp(Vec2 a, Vec2 b, double t) {
    return a + (b - a) * t;
}
[[nodiscard]] inline bool is_finite(Vec2 a) {
    return std::isfinite(a.x) && std::isfinite(a.y);
}

} // namespace padchart::geometry
