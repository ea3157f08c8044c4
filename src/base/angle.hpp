#pragma once
// A plane angle. Positive is counter-clockwise as seen from the viewed side, as the trade counts it.
// Kept in degrees, so that 90 written to a file is 90 when read back.

#include <cmath>
#include <compare>
#include <numbers>

namespace padchart {

class Angle {
public:
    constexpr Angle() = default;
    [[nodiscard]] static constexpr Angle degrees(double value) { return Angle(value); }
    [[nodiscard]] static constexpr Angle radians(double value) { return Angle(value * 180.0 / std::numbers::pi); }

    [[nodiscard]] constexpr double degrees() const { return degrees_; }
    [[nodiscard]] constexpr double radians() const { return degrees_ * std::numbers::pi / 180.0; }

    constexpr auto operator<=>(const Angle&) const = default;

    constexpr Angle operator-() const { return Angle(-degrees_); }
    constexpr friend Angle operator+(Angle a, Angle b) { return Angle(a.degrees_ + b.degrees_); }
    constexpr friend Angle operator-(Angle a, Angle b) { return Angle(a.degrees_ - b.degrees_); }
    constexpr friend Angle operator*(Angle a, double k) { return Angle(a.degrees_ * k); }

    /// The same direction in [0, 360).
    [[nodiscard]] Angle wrapped() const {
        const double turn = std::fmod(degrees_, 360.0);
        const double positive = turn < 0.0 ? turn + 360.0 : turn;
        // -1e-17 + 360 rounds to 360, which is 0 again; and -0 is 0.
        return Angle(positive >= 360.0 || positive == 0.0 ? 0.0 : positive);
    }

    /// The same direction in (-180, 180].
    [[nodiscard]] Angle signed_turn() const {
        const double turn = wrapped().degrees();
        return Angle(turn > 180.0 ? turn - 360.0 : turn);
    }

private:
    explicit constexpr Angle(double degrees) : degrees_(degrees) {}

    double degrees_ = 0.0;
};

/// Cosine and sine that are exact for quarter turns, so that a part turned four times is where it was.
struct CosSin {
    double cos = 1.0;
    double sin = 0.0;
};

[[nodiscard]] inline CosSin cos_sin(Angle angle) {
    const double turn = angle.wrapped().degrees();
    if (turn == 0.0) return {1.0, 0.0};
    if (turn == 90.0) return {0.0, 1.0};
    if (turn == 180.0) return {-1.0, 0.0};
    if (turn == 270.0) return {0.0, -1.0};
    return {std::cos(angle.radians()), std::sin(angle.radians())};
}

} // namespace padchart
