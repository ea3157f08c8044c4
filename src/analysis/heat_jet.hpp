#pragma once
// Dry air and the round jet of hot air that strikes the board upright. SI units except where a name says otherwise;
// radii are counted from the nozzle's axis along the board.
//
// Sources. Air: 1976 US Standard Atmosphere formulas for viscosity and conductivity; specific heat fitted here to the
// usual handbook table (within 0.3 %). Heat transfer: Martin, Adv. Heat Transfer 13 (1977) 1-60, as in Incropera,
// chapter 7. Temperature the air offers to a wall: own formula, see effectiveness().

#include <algorithm>
#include <cstddef>
#include <vector>

namespace padchart::analysis {

struct Air {
    double density = 0.0;       ///< kg/m3 at one atmosphere
    double viscosity = 0.0;     ///< Pa s
    double conductivity = 0.0;  ///< W/(m K)
    double specific_heat = 0.0; ///< J/(kg K)

    [[nodiscard]] double prandtl() const { return specific_heat * viscosity / conductivity; }
};

/// Good from -50 to 600 C.
[[nodiscard]] Air air_at(double celsius);

struct JetSettings {
    double set_point_c = 350.0;
    double flow_l_per_min = 30.0; ///< counted at 25 C and one atmosphere
    double bore_mm = 5.0;         ///< of a nozzle that is not round: sqrt(4 A / pi)
    double stand_off_mm = 10.0;
    double room_c = 25.0;
    double exit_factor = 0.9; ///< (exit - room) / (set point - room)
};

struct JetFlow {
    double mass_flow_kg_per_s = 0.0;
    double exit_c = 0.0;
    double velocity_m_per_s = 0.0;
    double reynolds = 0.0; ///< on the bore, properties at the exit
    double prandtl = 0.0;
    double air_conductivity = 0.0;
    double power_w = 0.0; ///< enthalpy flow above the room
};
[[nodiscard]] JetFlow jet_flow(const JetSettings& settings);

/// Martin's correlation holds for 2 <= H/D <= 12; outside, the nearest end stands.
inline constexpr double kLeastStandOffRatio = 2.0;
inline constexpr double kLargestStandOffRatio = 12.0;
inline constexpr double kLeastReynolds = 2000.0;
inline constexpr double kLeastRadiusRatio = 2.5; ///< R/D of the correlation's data
inline constexpr double kLargestRadiusRatio = 7.9;

/// F(Re) = 2 Re^0.5 (1 + 0.005 Re^0.55)^0.5.
[[nodiscard]] double martin_f(double reynolds);
/// G(R/D, H/D) of the mean over a disc. Requires: radius_ratio >= 2.5.
[[nodiscard]] double martin_average(double radius_ratio, double stand_off_ratio);
/// G at one radius, such that its mean over every disc of R/D >= 2.5 is martin_average. The bell inside 2.5 D is an
/// assumption: smooth, level on the axis, with the mean that the correlation asks for.
[[nodiscard]] double martin_local(double radius_ratio, double stand_off_ratio);
/// G F Pr^0.42.
[[nodiscard]] double martin_average_nusselt(double radius_ratio, double stand_off_ratio, double reynolds,
                                            double prandtl);
[[nodiscard]] double martin_local_nusselt(double radius_ratio, double stand_off_ratio, double reynolds, double prandtl);

/// How much of the exit's excess temperature the air offers to a wall at r/D: eta0(H/D) / sqrt(1 + (r / (b D))^2), with
/// eta0 = min(1, 5 D/H). Own formula: enthalpy kept in a radial wall jet asks for 1/r far out; b = 1.9 (1.5 to 2.4).
[[nodiscard]] double effectiveness(double radius_ratio, double stand_off_ratio, double spread);

/// What a spot of the board meets at a distance from the axis.
struct JetSpot {
    double h = 0.0;         ///< W/(m2 K), on a thin body
    double h_times_t = 0.0; ///< h times the temperature the air offers there
    double board_h = 0.0;   ///< h lessened by the board's own thickness
    double board_h_times_t = 0.0;
};

/// What turns one jet into the numbers above: unknowns and geometry.
struct JetShape {
    double h_factor = 1.0;
    double spread = 1.9;               ///< b of effectiveness()
    double entrained_c = 25.0;         ///< air drawn in: the room's, or warmer over a preheater
    double thickness_resistance = 0.0; ///< thickness / (3 through-conductivity), m2 K/W
    double circle_radius_mm = 0.0;     ///< above 0: mean over a circle the nozzle goes round
};

/// The jet tabulated over the radius, for quick look-up.
class JetField {
public:
    /// Good up to `reach_mm` from the centre; farther out the value at the end stands.
    JetField(const JetSettings& settings, const JetShape& shape, double reach_mm);

    [[nodiscard]] JetSpot at(double radius_mm) const {
        const double place = std::min(radius_mm * per_step_, last_);
        const auto low = static_cast<std::size_t>(place);
        const double b = place - static_cast<double>(low);
        const double a = 1.0 - b;
        const JetSpot& from = table_[low];
        const JetSpot& to = table_[low + 1];
        return {a * from.h + b * to.h, a * from.h_times_t + b * to.h_times_t, a * from.board_h + b * to.board_h,
                a * from.board_h_times_t + b * to.board_h_times_t};
    }
    [[nodiscard]] const JetFlow& flow() const { return flow_; }
    [[nodiscard]] double bore_mm() const { return bore_mm_; }

private:
    JetFlow flow_;
    double bore_mm_ = 0.0;
    double per_step_ = 0.0; ///< steps of the table in one mm
    double last_ = 0.0;     ///< place just below the last step
    std::vector<JetSpot> table_;
};

} // namespace padchart::analysis
