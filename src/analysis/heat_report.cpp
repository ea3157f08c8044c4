#include "analysis/heat_report.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include <fmt/format.h>

#include "analysis/heat_words.hpp"

namespace padchart::analysis {
namespace {

using geometry::Vec2;
using Runs = std::array<CaseRun, 4>; // low, nominal, high, high and spreading

constexpr double kLaminateMean_c = 265.0; // FR-4 delaminates above, from memory of laminate makers' data
constexpr double kLaminateTop_c = 290.0;
// The whole band of the corners against root-sum-square of the single effects on the reference board: 33/57 and 31/55.
constexpr double kLikelyShare = 0.58;
constexpr std::size_t kMostCurves = 40;

double largest(const Trace& trace) {
    return trace.empty() ? 0.0 : *std::max_element(trace.begin(), trace.end());
}

/// Low and high are what they are called: away from the air a board that spreads well is the hotter one, so that the
/// corner meant as cold need not be the colder one.
Band ordered(double low, double nominal, double high) {
    return {std::min(low, nominal), nominal, std::max(nominal, high)};
}

/// Runs the reading over the cases; of the two hot ones the hotter stands.
template <class Read>
Band band_of(const Runs& runs, const Read& read) {
    return ordered(read(runs[0]), read(runs[1]), std::max(read(runs[2]), read(runs[3])));
}

void narrow(Band& band, double half) {
    band.low = std::max(band.low, band.nominal - half);
    band.high = std::min(band.high, band.nominal + half);
}

Trace coldest_of(const std::vector<Trace>& joints) {
    Trace coldest = joints.front();
    for (const Trace& joint : joints)
        for (std::size_t k = 0; k < coldest.size(); ++k)
            coldest[k] = std::min(coldest[k], joint[k]);
    return coldest;
}

void narrow(CurveCases& curve, double half) {
    for (std::size_t k = 0; k < curve.nominal.size(); ++k) {
        curve.low[k] = std::max(curve.low[k], curve.nominal[k] - half);
        curve.high[k] = std::min(curve.high[k], curve.nominal[k] + half);
    }
}

/// The cases of one trace, ordered at every time.
template <class Read>
CurveCases curve_of(const Runs& runs, const Read& read) {
    CurveCases curve{read(runs[0]), read(runs[1]), read(runs[2])};
    const Trace spread = read(runs[3]);
    for (std::size_t i = 0; i < curve.high.size(); ++i) {
        curve.high[i] = std::max({curve.high[i], spread[i], curve.nominal[i]});
        curve.low[i] = std::min(curve.low[i], curve.nominal[i]);
    }
    return curve;
}

CurveCases joint_curve(const Runs& runs, std::vector<Trace> CaseRun::*joints) {
    return curve_of(runs, [&](const CaseRun& run) { return coldest_of(run.*joints); });
}

CurveCases neighbour_curve(const Runs& runs, std::size_t k) {
    return curve_of(runs, [&](const CaseRun& run) { return run.neighbour[k]; });
}

double half_band(const HeatSetup& setup, double HeatCalibration::*which) {
    return setup.options.calibration ? (*setup.options.calibration).*which : std::numeric_limits<double>::infinity();
}

std::string alloy_words(const HeatSetup& setup) {
    const double share = setup.plan.low_melt_fraction;
    if (share <= 0.0) return setup.plan.alloy;
    return fmt::format("{} with {:.0f} % Sn42Bi58", setup.plan.alloy, 100.0 * share);
}

MeltVerdict melt_verdict(const Band& peak, double liquidus_c) {
    if (peak.low >= liquidus_c) return MeltVerdict::Melts;
    return peak.high < liquidus_c ? MeltVerdict::WillNotMelt : MeltVerdict::Uncertain;
}

NeighbourVerdict heat_verdict(const Band& peak, double limit_c) {
    if (peak.high < limit_c) return NeighbourVerdict::Safe;
    return peak.low > limit_c ? NeighbourVerdict::WillOverheat : NeighbourVerdict::AtRisk;
}

std::vector<JointReport> joint_reports(const HeatSetup& setup, const Runs& runs) {
    std::vector<JointReport> reports;
    const double half = half_band(setup, &HeatCalibration::joint_band);
    for (std::size_t k = 0; k < setup.joints.size(); ++k) {
        JointReport report;
        report.pad = setup.joints[k].pad;
        report.at = setup.joints[k].at;
        report.peak_mean_c = band_of(runs, [&](const CaseRun& run) { return largest(run.joint_mean[k]); });
        report.peak_top_c = band_of(runs, [&](const CaseRun& run) { return largest(run.joint_top[k]); });
        for (Band* band : {&report.peak_mean_c, &report.peak_top_c})
            narrow(*band, half);
        reports.push_back(std::move(report));
    }
    return reports;
}

MaybeBand times_to(const HeatCurves& curves, double level) {
    const auto& time = curves.time_s;
    return {first_time_at(time, curves.joint_mean_c.low, level),
            first_time_at(time, curves.joint_mean_c.nominal, level),
            first_time_at(time, curves.joint_mean_c.high, level)};
}

TargetReport target_report(const HeatSetup& setup, const Runs& runs, const HeatCurves& curves) {
    TargetReport target;
    target.part = setup.plan.target;
    target.name = setup.target_name;
    target.alloy = alloy_words(setup);
    target.solidus_c = setup.mixture.solidus_c;
    target.liquidus_c = setup.mixture.liquidus_c;
    target.joints = joint_reports(setup, runs);
    const auto colder = [](const JointReport& a, const JointReport& b) {
        return a.peak_mean_c.nominal < b.peak_mean_c.nominal;
    };
    target.coldest = static_cast<std::size_t>(std::min_element(target.joints.begin(), target.joints.end(), colder) -
                                              target.joints.begin());
    const auto peaks = [](const CurveCases& curve) {
        return Band{largest(curve.low), largest(curve.nominal), largest(curve.high)};
    };
    target.peak_mean_c = peaks(curves.joint_mean_c);
    target.peak_top_c = peaks(curves.joint_top_c);
    target.verdict = melt_verdict(target.peak_mean_c, target.liquidus_c);
    target.time_to_liquidus_s = times_to(curves, target.liquidus_c);
    const auto above = [&](const Trace& trace) { return time_at_or_above(curves.time_s, trace, target.liquidus_c); };
    target.time_above_liquidus_s = {above(curves.joint_mean_c.low), above(curves.joint_mean_c.nominal),
                                    above(curves.joint_mean_c.high)};
    const Band& peak = target.peak_mean_c;
    const double share = setup.options.calibration ? 1.0 : kLikelyShare;
    target.likely_c = {peak.nominal + share * (peak.low - peak.nominal), peak.nominal,
                       peak.nominal + share * (peak.high - peak.nominal)};
    if (!setup.target_body.is_empty())
        target.body_peak_c = band_of(runs, [](const CaseRun& run) { return largest(run.target_body); });
    target.ramp_k_per_s = band_of(runs, [](const CaseRun& run) {
        double steepest = 0.0;
        for (const Trace& joint : run.joint_mean)
            steepest = std::max(steepest, steepest_rise(run.time_s, joint));
        return steepest;
    });
    return target;
}

NeighbourReport neighbour_report(const HeatSetup& setup, const Runs& runs, const CurveCases& curve, std::size_t k) {
    const WatchedNeighbour& watch = setup.neighbours[k];
    NeighbourReport report;
    report.source = watch.source;
    report.name = watch.name;
    report.is_keep_out = watch.is_keep_out;
    report.side = watch.side;
    report.far_side = watch.far_side;
    report.shielded = watch.shielded;
    report.shield_share = watch.shield_share;
    report.under_can = watch.under_can;
    report.gap_mm = gap_to(setup.plan.aim, watch.outline);
    report.peak_c = {largest(curve.low), largest(curve.nominal), largest(curve.high)};
    report.hottest_at = runs[1].hottest_at[k];
    if (watch.limits) {
        report.warn_c = watch.limits->warn_c;
        report.limit_c = watch.limits->limit_c;
        report.delicate = watch.limits->delicate;
        report.verdict = heat_verdict(report.peak_c, *report.limit_c);
        // The cautious margin is that of the hot case.
        report.margin_k = {*report.limit_c - report.peak_c.high, *report.limit_c - report.peak_c.nominal,
                           *report.limit_c - report.peak_c.low};
    }
    report.joint_peak_c = band_of(runs, [&](const CaseRun& run) { return largest(run.neighbour_joint[k]); });
    narrow(report.joint_peak_c, half_band(setup, &HeatCalibration::neighbour_band));
    // By the likely band: in the widest one half the board would float, and nobody would look at the list any more.
    const Band& own = report.joint_peak_c;
    const double likely_c = own.nominal + kLikelyShare * (own.high - own.nominal);
    report.may_float = !watch.joints.empty() && likely_c >= setup.alloy.solidus_c;
    report.ramp_k_per_s =
        band_of(runs, [&](const CaseRun& run) { return steepest_rise(run.time_s, run.neighbour[k]); });
    return report;
}

double sort_margin(const NeighbourReport& report) {
    return report.limit_c ? report.margin_k.low : std::numeric_limits<double>::infinity();
}

void report_neighbours(const HeatSetup& setup, const Runs& runs, HeatReport& report) {
    std::vector<NeighbourReport> found;
    std::vector<CurveCases> curves;
    const double half = half_band(setup, &HeatCalibration::neighbour_band);
    for (std::size_t k = 0; k < setup.neighbours.size(); ++k) {
        curves.push_back(neighbour_curve(runs, k));
        narrow(curves.back(), half);
        found.push_back(neighbour_report(setup, runs, curves.back(), k));
    }
    std::vector<std::size_t> order(found.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return sort_margin(found[a]) < sort_margin(found[b]); });
    for (const std::size_t k : order) {
        report.neighbours.push_back(std::move(found[k]));
        if (report.curves.neighbours_c.size() < kMostCurves) report.curves.neighbours_c.push_back(std::move(curves[k]));
    }
}

std::vector<float> on_cells(const HeatLayout& layout, const std::vector<float>& nodes) {
    std::vector<float> cells(layout.grid.size(), std::numeric_limits<float>::quiet_NaN());
    for (std::size_t n = 0; n < nodes.size(); ++n)
        cells[layout.plate.cell_of_node[n]] = nodes[n];
    return cells;
}

/// One value per node of all cases, ordered at each node, as cells.
template <class Read>
Cases<std::vector<float>> field_cases(const HeatLayout& layout, const Runs& runs, const Read& read) {
    std::vector<float> low = read(runs[0]), high = read(runs[2]);
    const std::vector<float>& nominal = read(runs[1]);
    const std::vector<float>& spread = read(runs[3]);
    for (std::size_t n = 0; n < nominal.size(); ++n) {
        low[n] = std::min(low[n], nominal[n]);
        high[n] = std::max({high[n], spread[n], nominal[n]});
    }
    return {on_cells(layout, low), on_cells(layout, nominal), on_cells(layout, high)};
}

std::vector<double> isotherm_levels(const HeatSetup& setup) {
    std::vector<double> levels = setup.options.isotherms_c;
    if (levels.empty()) levels = {100.0, 150.0, setup.mixture.liquidus_c};
    std::sort(levels.begin(), levels.end());
    levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
    return levels;
}

HeatField field_of(const HeatSetup& setup, const Runs& runs) {
    const HeatLayout& layout = setup.layout;
    HeatField field;
    field.grid = layout.grid;
    field.on_board.assign(layout.share.begin(), layout.share.end());
    field.peak_c = field_cases(
        layout, runs, [](const CaseRun& run) -> const auto& { return run.peak; });
    field.peak_top_c = on_cells(layout, runs[1].peak_top);
    for (std::size_t k = 0; k < setup.options.snapshots_s.size(); ++k) {
        if (runs[1].snapshots[k].empty()) continue; // asked for after the end
        field.snapshots.push_back(
            {setup.options.snapshots_s[k],
             field_cases(
                 layout, runs, [&](const CaseRun& run) -> const auto& { return run.snapshots[k]; })});
    }
    for (const double level : isotherm_levels(setup))
        field.isotherms.push_back({level, level == setup.mixture.liquidus_c,
                                   contours(field.grid, field.peak_c.nominal, static_cast<float>(level))});
    return field;
}

JetReport jet_report(const HeatSetup& setup, const Runs& runs) {
    const JetFlow& flow = runs[1].flow;
    JetReport jet;
    jet.mass_flow_kg_per_s = flow.mass_flow_kg_per_s;
    jet.exit_c = band_of(runs, [](const CaseRun& run) { return run.flow.exit_c; });
    jet.velocity_m_per_s = flow.velocity_m_per_s;
    jet.reynolds = flow.reynolds;
    jet.stand_off_ratio = setup.plan.stand_off_mm / setup.plan.nozzle_bore_mm;
    jet.power_w = flow.power_w;
    jet.stagnation_h = band_of(runs, [](const CaseRun& run) { return run.stagnation_h; });
    return jet;
}

BoardReport board_report(const HeatSetup& setup) {
    const patterns::BoardData& board = setup.board;
    BoardReport report;
    report.thickness_mm = board.thickness_mm;
    report.conductivity_w_per_m_k = {board.conductivity_w_per_m_k.low, board.conductivity_w_per_m_k.nominal,
                                     board.conductivity_w_per_m_k.high};
    report.heat_capacity_j_per_m3_k = {board.heat_capacity_j_per_m3_k.high, board.heat_capacity_j_per_m3_k.nominal,
                                       board.heat_capacity_j_per_m3_k.low};
    report.through_conductivity_w_per_m_k = board.through_conductivity_w_per_m_k;
    report.emissivity = {setup.cases.low.emissivity, setup.cases.nominal.emissivity, setup.cases.high.emissivity};
    report.basis = board.basis;
    report.is_assumed = board.is_assumed;
    return report;
}

void report_laminate(const Runs& runs, HeatReport& report) {
    const auto hottest = [](const std::vector<float>& values) {
        return values.empty() ? 0.0 : static_cast<double>(*std::max_element(values.begin(), values.end()));
    };
    report.laminate_peak_c = band_of(runs, [&](const CaseRun& run) { return hottest(run.peak_top); });
    const Band mean = band_of(runs, [&](const CaseRun& run) { return hottest(run.peak); });
    const NeighbourVerdict by_face = heat_verdict(report.laminate_peak_c, kLaminateTop_c);
    const NeighbourVerdict by_mean = heat_verdict(mean, kLaminateMean_c);
    report.laminate = std::max(by_face, by_mean);
}

} // namespace

HeatReport report_of(const document::Chart& chart, const HeatSetup& setup, const Runs& runs) {
    HeatReport report;
    report.curves.time_s = runs[1].time_s;
    report.curves.joint_mean_c = joint_curve(runs, &CaseRun::joint_mean);
    report.curves.joint_top_c = joint_curve(runs, &CaseRun::joint_top);
    for (CurveCases* curve : {&report.curves.joint_mean_c, &report.curves.joint_top_c})
        narrow(*curve, half_band(setup, &HeatCalibration::joint_band));
    report.target = target_report(setup, runs, report.curves);
    report_neighbours(setup, runs, report);
    report.field = field_of(setup, runs);
    report.jet = jet_report(setup, runs);
    report.board = board_report(setup);
    report.station = setup.station;
    report.is_calibrated = setup.options.calibration.has_value();
    const HeatBalance& balance = runs[1].balance;
    report.energy = {balance.from_air_j, balance.from_below_j, balance.radiated_j,
                     balance.stored_j,   balance.residual_j(), balance.largest_step_residual_w};
    report.largest_step_error_k = runs[1].largest_step_error_k;
    report.cut_steps = runs[1].cut_steps;
    report_laminate(runs, report);
    report.cell_mm = setup.layout.grid.cell_mm;
    report.nodes = runs[1].nodes;
    report.sentences = heat_sentences(setup, report);
    report.cautions = heat_cautions(chart, setup, report);
    report.remarks = heat_remarks(setup, report);
    return report;
}

} // namespace padchart::analysis
