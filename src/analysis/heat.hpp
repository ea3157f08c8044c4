#pragma once
// Where the air may go: what a heat plan does to the target's joints and to everything near them, as an estimate with a
// low, a nominal and a high case, never as one number. Board frame, mm, seconds, degrees Celsius.
//
// The model: the board as a thin plate on its true outline, the air as a round impinging jet (heat_jet.hpp), parts as
// bodies that stand on the plate; heat_model.hpp says how they are put together and where the formulas come from.
// What is left out: no profile through the thickness but a correction for the face under the air, constant board data,
// no latent heat of solder, the jet upright, alone and not deflected by tall parts, no heat into fixtures.

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "analysis/heat_grid.hpp"
#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

/// What the same plan gives when everything unknown pushes cold, at its most likely value, or pushes hot.
template <class T>
struct Cases {
    T low{};
    T nominal{};
    T high{};

    bool operator==(const Cases&) const = default;
};
using Band = Cases<double>;
/// Nothing in a case where it does not happen.
using MaybeBand = Cases<std::optional<double>>;

/// Live follows a hand that drags the nozzle, Working is what a panel shows, Final is for the sheet.
enum class Resolution { Live, Working, Final };

/// What one thermocouple reading taught about this hot-air station; made by heat_calibration.hpp.
struct HeatCalibration {
    double exit_factor = 0.9;     ///< (exit - room) / (set point - room)
    double h_factor = 1.0;        ///< on the heat transfer coefficient
    double joint_band = 10.0;     ///< K either way at the place that was measured
    double neighbour_band = 20.0; ///< K either way elsewhere
};

struct HeatOptions {
    Resolution resolution = Resolution::Working;
    std::optional<double> cell_mm; ///< overrides the resolution; kept above what the cap on cells allows
    double coarser = 1.0;          ///< factor on the cell of the resolution, for machines that are in a hurry
    double step_s = 0.5; ///< half of it at first, eight times as long at last; cut where a step errs by over 0.2 K
    double room_c = 25.0;
    double circle_radius_mm = 0.0;   ///< above 0: the nozzle goes round on this radius, one turn in a second or two
    double cool_s = 60.0;            ///< followed for this long after the air is taken away
    std::vector<double> snapshots_s; ///< fields at these times are kept, each within the run
    std::vector<double> isotherms_c; ///< lines of equal peak temperature; empty: 100, 150 and the liquidus
    std::optional<HeatCalibration> calibration;
    int threads = 2;      ///< the answer does not depend on it
    std::stop_token stop; ///< a run that is told to stop ends within one time step
};

enum class MeltVerdict { Melts, Uncertain, WillNotMelt };
enum class NeighbourVerdict { Safe, AtRisk, WillOverheat };

struct JointReport {
    std::string pad; ///< pad number, or "#3" for the third without one; empty: the whole footprint
    geometry::Vec2 at;
    Band peak_mean_c; ///< mean through the board's thickness: a joint tied to inner copper
    Band peak_top_c;  ///< the face under the air: an outer joint without vias
};

struct TargetReport {
    document::Id part; ///< empty: the plan names no target, the spot under the nozzle stands for it
    std::string name;
    std::string alloy;       ///< "SAC305 with 30 % Sn42Bi58"
    double solidus_c = 0.0;  ///< where melting starts; with low-melt alloy mixed in far below the liquidus
    double liquidus_c = 0.0; ///< where it ends: a part lets go here
    MeltVerdict verdict = MeltVerdict::Uncertain;
    std::size_t coldest = 0; ///< position in `joints` of the one that is judged
    std::vector<JointReport> joints;
    MaybeBand time_to_liquidus_s; ///< of the coldest joint
    Band time_above_liquidus_s;   ///< up to the end of the run, cooling included
    Band peak_mean_c;             ///< of the coldest joint
    Band peak_top_c;
    Band likely_c;     ///< about nine runs in ten lie in here; narrower than low to high
    Band body_peak_c;  ///< of the target's own body
    Band ramp_k_per_s; ///< steepest rise of the hottest joint, over one second
};

struct NeighbourReport {
    document::Id source; ///< part or keep-out
    std::string name;
    bool is_keep_out = false;
    document::Side side = document::Side::Top;
    bool far_side = false;     ///< not on the side the air comes from: heated through the board
    bool shielded = false;     ///< wholly or partly under a shield that is in place
    double shield_share = 0.0; ///< of its area
    std::string under_can;     ///< name of the shield can over it, which keeps the air off; empty: none
    double gap_mm = 0.0;       ///< from the aim to its nearest point
    Band peak_c;               ///< hottest spot of its body
    geometry::Vec2 hottest_at; ///< nominal case
    std::optional<double> warn_c;
    std::optional<double> limit_c; ///< nothing where heat has nothing to hurt
    bool delicate = false;         ///< what technicians protect (plastic, cell, microphone ...)
    NeighbourVerdict verdict = NeighbourVerdict::Safe;
    Band margin_k;          ///< limit less peak; low is the cautious one
    Band joint_peak_c;      ///< coldest of its own joints
    bool may_float = false; ///< its own joints may melt: do not touch or blow
    Band ramp_k_per_s;
};

/// One value per time step of the curve and case.
using CurveCases = Cases<std::vector<double>>;

struct HeatCurves {
    std::vector<double> time_s; ///< 0 to dwell to dwell + cooling
    CurveCases joint_mean_c;    ///< coldest joint
    CurveCases joint_top_c;
    std::vector<CurveCases> neighbours_c; ///< hottest spot, in the order of HeatReport::neighbours
};

struct Isotherm {
    double celsius = 0.0;
    bool is_liquidus = false;
    std::vector<Contour> lines; ///< nominal case, peak over the whole run, mean of the thickness: as joints are judged
};

struct HeatSnapshot {
    double time_s = 0.0;
    Cases<std::vector<float>> board_c; ///< one per cell, mean of the thickness; NaN off the board
};

struct HeatField {
    Grid grid;
    std::vector<float> on_board;      ///< share of each cell that is board
    Cases<std::vector<float>> peak_c; ///< mean of the thickness, hottest over the whole run; NaN off the board
    std::vector<float> peak_top_c;    ///< nominal, face under the air
    std::vector<HeatSnapshot> snapshots;
    std::vector<Isotherm> isotherms;
};

/// What the air does, before any board is there.
struct JetReport {
    double mass_flow_kg_per_s = 0.0;
    Band exit_c; ///< temperature of the air at the nozzle's end
    double velocity_m_per_s = 0.0;
    double reynolds = 0.0;
    double stand_off_ratio = 0.0; ///< height over bore
    double power_w = 0.0;         ///< above room temperature
    Band stagnation_h;            ///< W/(m2 K) under the axis
};

/// First law of the nominal run: what went in, what left, what stayed, and what the sum misses.
struct EnergyReport {
    double from_air_j = 0.0;   ///< through the faces under the jet, less what they gave back
    double from_below_j = 0.0; ///< preheater or still air, negative when it takes heat away
    double radiated_j = 0.0;
    double stored_j = 0.0;
    double residual_j = 0.0; ///< in - out - stored, summed over the steps
    double largest_step_residual_w = 0.0;
};

/// Board data used, and whether they were stated or assumed.
struct BoardReport {
    double thickness_mm = 0.0;
    Band conductivity_w_per_m_k;
    Band heat_capacity_j_per_m3_k; ///< low is the slow one: the larger capacity
    double through_conductivity_w_per_m_k = 0.0;
    Band emissivity;
    std::string basis;       ///< "4 layers, 1.0 mm: table", "stated"
    bool is_assumed = false; ///< nothing was stated at all
};

struct HeatReport {
    TargetReport target;
    std::vector<NeighbourReport> neighbours; ///< least margin first
    HeatCurves curves;
    HeatField field;
    JetReport jet;
    BoardReport board;
    std::string station; ///< whose calibration narrows the bands, by name; empty: none
    bool is_calibrated = false;
    EnergyReport energy;
    Band laminate_peak_c; ///< hottest spot of the board's face under the air
    NeighbourVerdict laminate = NeighbourVerdict::Safe;
    std::vector<std::string> sentences; ///< what to do, most urgent first; the first is the verdict
    Diagnostics cautions;               ///< what can hurt someone or something: only those that apply here
    Diagnostics remarks;                ///< assumptions, formulas out of their range, ramps against the standards
    double cell_mm = 0.0;
    std::size_t nodes = 0;
    double largest_step_error_k = 0.0; ///< local error of the time steps, as far as they were checked; Live: never
    int cut_steps = 0;                 ///< steps that were cut because they erred
};

/// Runs the plan. Deterministic: the same chart, plan and options give the same bits on one machine.
/// Errors: no scale; a target that is not on the chart; an unknown alloy; numbers that no bench has (flow, bore,
/// stand-off, dwell not above 0, a share outside 0 to 1, a set point below the room); an aim far off the board;
/// stopped.
[[nodiscard]] Result<HeatReport> heat(const document::Chart& chart, const document::HeatPlan& plan,
                                      const HeatOptions& options = {});

[[nodiscard]] const char* to_text(MeltVerdict verdict);      ///< "melts", "uncertain", "will not melt"
[[nodiscard]] const char* to_text(NeighbourVerdict verdict); ///< "safe", "at risk", "will overheat"

/// What the model leaves out, one sentence each, for help pages.
[[nodiscard]] std::span<const std::string_view> heat_simplifications();

/// "205 to 246": whole degrees, low to high, never one number.
[[nodiscard]] std::string to_text(const Band& band);

} // namespace padchart::analysis
