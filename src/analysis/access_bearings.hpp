#pragma once
// Sets of bearings: which way one may come and which not. Degrees, counter-clockwise, 0 to the right. For the access
// files; what they report is a list of sectors.

#include <utility>
#include <vector>

namespace padchart::analysis {

/// From one bearing counter-clockwise to another. The whole turn: width 360.
struct Sector {
    double from_deg = 0.0;  ///< 0 to below 360
    double width_deg = 0.0; ///< above 0, at most 360

    bool operator==(const Sector&) const = default;
    [[nodiscard]] double to_deg() const;     ///< 0 to below 360
    [[nodiscard]] double middle_deg() const; ///< 0 to below 360
    /// Its ends count as in it.
    [[nodiscard]] bool contains(double bearing_deg) const;
};

[[nodiscard]] double wrapped_deg(double deg); ///< 0 to below 360
/// The lesser turn from one bearing to another, -180 to 180.
[[nodiscard]] double turn_between(double from_deg, double to_deg);

/// Pieces of [0, 360] in rising order that do not touch.
class Bearings {
public:
    [[nodiscard]] static Bearings all();
    [[nodiscard]] static Bearings of(const std::vector<Sector>& sectors);

    /// Adds what lies counter-clockwise between the two; `to_deg` may be beyond 360, `from_deg` below 0.
    void add(double from_deg, double to_deg);
    [[nodiscard]] bool contains(double bearing_deg) const;
    [[nodiscard]] bool is_empty() const { return pieces_.empty(); }
    [[nodiscard]] Bearings without(const Bearings& other) const;
    [[nodiscard]] Bearings within(const Bearings& other) const;
    [[nodiscard]] Bearings together_with(const Bearings& other) const;
    /// What is not in it.
    [[nodiscard]] Bearings complement() const;
    /// A piece that ends at 360 and one that begins at 0 are one sector. Slivers below a millionth of a degree, which
    /// are rounding, are left out.
    [[nodiscard]] std::vector<Sector> sectors() const;

private:
    void tidy();
    std::vector<std::pair<double, double>> pieces_;
};

} // namespace padchart::analysis
