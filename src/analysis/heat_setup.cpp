#include "analysis/heat_setup.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "analysis/heat_solver.hpp"
#include "analysis/heat_station.hpp"
#include "geometry/overlay.hpp"
#include "geometry/segment.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using document::HeatPlan;
using geometry::Ring;
using geometry::Vec2;

constexpr double kShieldedShare = 0.02; // of a body's area under a shield: a shield is there, if not over all of it
constexpr double kWholeShare = 0.9;     // covered by more: wholly, but for its rim
constexpr double kMuchMore = 0.3;       // of its area that a shield lying idle would cover beside those in place
constexpr double kSpot_mm = 1.0;        // the spot that stands for a plan without a target

struct Bound {
    const char* what;
    double value;
    double least;
    double most;
    const char* unit;
    const char* where;
};

std::optional<Error> out_of_bench(const HeatPlan& plan, const HeatOptions& options) {
    const Bound bounds[] = {{"The room", options.room_c, -20.0, 60.0, "C", "room_c"},
                            {"The set point", plan.set_point_c, options.room_c + 10.0, 600.0, "C", "set_point_c"},
                            {"The air flow", plan.flow_l_per_min, 0.5, 300.0, "L/min", "flow_l_per_min"},
                            {"The nozzle bore", plan.nozzle_bore_mm, 0.5, 50.0, "mm", "nozzle_bore_mm"},
                            {"The stand-off", plan.stand_off_mm, 0.5, 200.0, "mm", "stand_off_mm"},
                            {"The dwell", plan.dwell_s, 0.5, 1800.0, "s", "dwell_s"},
                            {"The share of low-melt alloy", plan.low_melt_fraction, 0.0, 1.0, "", "low_melt_fraction"},
                            {"The preheater", plan.preheat_c.value_or(50.0), options.room_c, 300.0, "C", "preheat_c"},
                            {"The circle of the nozzle", options.circle_radius_mm, 0.0, 50.0, "mm", "circle_radius_mm"},
                            {"The cooling time", options.cool_s, 0.0, 3600.0, "s", "cool_s"},
                            {"The time step", options.step_s, 0.01, 1.0, "s", "step_s"},
                            {"The factor on the cell", options.coarser, 0.1, 10.0, "", "coarser"},
                            {"The cell", options.cell_mm.value_or(1.0), 0.02, 20.0, "mm", "cell_mm"}};
    for (const Bound& bound : bounds) {
        if (bound.value >= bound.least && bound.value <= bound.most) continue; // NaN fails both
        const std::string unit = *bound.unit == '\0' ? "" : fmt::format(" {}", bound.unit);
        return Error{fmt::format("{} is {:g}{}: from {:g} to {:g}{} can be computed.", bound.what, bound.value, unit,
                                 bound.least, bound.most, unit),
                     bound.where};
    }
    if (!geometry::is_finite(plan.aim)) return Error{"The aim is not a point on the board.", "aim"};
    return std::nullopt;
}

std::string pad_label(const document::Pad& pad, std::size_t position) {
    return pad.number.empty() ? fmt::format("#{}", position + 1) : pad.number;
}

std::vector<WatchedJoint> joints_of(const HeatLayout& layout, const Footprint& part) {
    std::vector<WatchedJoint> joints;
    for (std::size_t k = 0; k < part.pads.size(); ++k) {
        const Ring ring = document::outline_on_board(part, part.pads[k]);
        if (ring.size() < 3) continue;
        joints.push_back({pad_label(part.pads[k], k), geometry::centroid(ring), layout.board_probe(ring)});
    }
    if (!joints.empty()) return joints;
    const Ring extent = document::extent_on_board(part);
    if (extent.size() >= 3) joints.push_back({"", geometry::centroid(extent), layout.board_probe(extent)});
    return joints;
}

WatchedJoint spot_under(const HeatLayout& layout, Vec2 aim) {
    const Ring ring = geometry::transformed(geometry::circle(kSpot_mm, 0.01), geometry::Affine::translation(aim));
    return {"", aim, layout.board_probe(ring)};
}

double shielded_share(const HeatLayout& layout, const Ring& ring) {
    double under = 0.0;
    double all = 0.0;
    for (const auto& [cell, part] : covered_cells(layout.grid, ring)) {
        under += part * layout.shielded[cell];
        all += part;
    }
    return all > 0.0 ? under / all : 0.0;
}

/// The body that stands for it, or the board where there is none.
const HeatBody* look_at_body(WatchedNeighbour& watch, const HeatSetup& setup, const Chart& chart) {
    const HeatBody* body = setup.layout.body_of(watch.source);
    watch.is_judged_by_board = body == nullptr;
    watch.hot = body ? setup.layout.body_probe(*body) : setup.layout.board_probe(watch.outline);
    if (body != nullptr && !body->under.is_empty())
        if (const auto can = document::find_part(chart, body->under))
            watch.under_can = chart.parts[*can].name.empty() ? "a shield can" : chart.parts[*can].name;
    return body;
}

/// What shields do for a neighbour in the air.
void look_at_shields(WatchedNeighbour& watch, const HeatSetup& setup, const Chart& chart) {
    if (watch.far_side || !watch.under_can.empty()) return;
    watch.shield_share = shielded_share(setup.layout, watch.outline);
    watch.shielded = watch.shield_share > kShieldedShare;
    if (watch.shielded && watch.shield_share < kWholeShare) {
        Vec2 sum;
        double open = 0.0;
        for (const auto& [cell, part] : covered_cells(setup.layout.grid, watch.outline)) {
            const double bare = part * (1.0 - setup.layout.shielded[cell]);
            sum += setup.layout.grid.centre(cell) * bare;
            open += bare;
        }
        if (open > 0.0) watch.bare_at = sum / open;
    }
    const double area = std::abs(geometry::signed_area(watch.outline));
    const auto& in_place = setup.plan.shields;
    for (const document::Shield& shield : chart.shields) {
        if (shield.side != setup.plan.side || std::find(in_place.begin(), in_place.end(), shield.id) != in_place.end())
            continue;
        const double covered = geometry::area(geometry::intersect({{watch.outline, {}}}, {shield.outline}));
        if (covered > (watch.shield_share + kMuchMore) * area)
            watch.idle_shield = shield.name.empty() ? shield.id.text : shield.name;
    }
}

bool is_of_no_interest(document::PartClass part_class) {
    return part_class == document::PartClass::TestPoint || part_class == document::PartClass::MountingHole;
}

void watch_part(HeatSetup& setup, const Chart& chart, const Footprint& part) {
    WatchedNeighbour watch;
    watch.outline = document::extent_on_board(part);
    if (watch.outline.size() < 3) {
        setup.layout.remarks.push_back({Severity::Note, "part-without-extent",
                                        part.name + " has neither body nor pads: it is left out of the heat.", "",
                                        part.id.text});
        return;
    }
    watch.source = part.id;
    watch.name = part.name;
    watch.side = part.placement.side;
    watch.far_side = part.placement.side != setup.plan.side;
    watch.part_class = part.part_class;
    watch.limits = patterns::limits_of(part);
    look_at_body(watch, setup, chart);
    look_at_shields(watch, setup, chart);
    for (WatchedJoint& joint : joints_of(setup.layout, part))
        watch.joints.push_back(std::move(joint.board));
    setup.neighbours.push_back(std::move(watch));
}

void watch_keep_out(HeatSetup& setup, const Chart& chart, const document::KeepOut& keep_out) {
    if (keep_out.measure == document::Measure::Removed || keep_out.outline.outer.size() < 3) return;
    WatchedNeighbour watch;
    watch.source = keep_out.id;
    watch.name = keep_out.name;
    watch.is_keep_out = true;
    watch.outline = keep_out.outline.outer;
    watch.side = keep_out.side;
    watch.far_side = keep_out.side != setup.plan.side;
    watch.limits = patterns::limits_of(keep_out);
    const HeatBody* body = look_at_body(watch, setup, chart);
    look_at_shields(watch, setup, chart);
    // A keep-out round drawn parts is as hot as the hottest of them.
    if (!body)
        for (const HeatBody& other : setup.layout.bodies)
            for (std::size_t k = other.first; other.is_far == watch.far_side && k < other.first + other.count; ++k) {
                const std::size_t node = setup.layout.node_of_body(k);
                if (geometry::contains(watch.outline, setup.layout.place_of(node)))
                    watch.hot.nodes.emplace_back(node, 0.0);
            }
    setup.neighbours.push_back(std::move(watch));
}

void apply_calibration(HeatSetup& setup) {
    if (!setup.options.calibration) return;
    const HeatCalibration& fit = *setup.options.calibration;
    const double scale = fit.exit_factor;
    // The factor has been measured; what is left of its band is in the bands of the calibration.
    for (HeatCase* unknowns : {&setup.cases.low, &setup.cases.nominal, &setup.cases.high, &setup.cases.high_spread}) {
        unknowns->exit_factor = scale;
        unknowns->h_factor *= fit.h_factor;
    }
}

/// What a thermocouple taught of the plan's station, unless the caller says what holds.
void use_station(HeatSetup& setup, const Chart& chart, const HeatPlan& plan) {
    if (setup.options.calibration || plan.station.is_empty()) return;
    const document::Station* known = find_station(chart, plan.station);
    if (known == nullptr) {
        setup.remarks.push_back({Severity::Warning, "no-station",
                                 "The plan's hot-air station is not on the chart: computed without a "
                                 "calibration, with the wide band.",
                                 "", plan.station.text});
        return;
    }
    const std::string name = known->name.empty() ? known->id.text : known->name;
    if (const std::string other = differs_from(*known, plan); !other.empty()) {
        setup.remarks.push_back(
            {Severity::Warning, "station-differs",
             fmt::format("The calibration of \"{}\" was made with other settings ({}): not used, the band is the wide "
                         "one.",
                         name, other),
             "", plan.station.text});
        return;
    }
    setup.options.calibration = calibration_of(*known);
    setup.station = name;
}

constexpr double kMostOffBoard_mm = 25.0; // air farther beside the board than this is not meant for it

std::optional<Error> off_board(const geometry::Region& board, const HeatPlan& plan) {
    if (geometry::contains(board, plan.aim)) return std::nullopt;
    double away = std::numeric_limits<double>::infinity();
    for (const geometry::Polygon& piece : board)
        away = std::min(away, gap_to(plan.aim, piece.outer));
    if (away <= std::max(kMostOffBoard_mm, 2.0 * plan.nozzle_bore_mm)) return std::nullopt;
    return Error{
        fmt::format("The aim {:.1f}, {:.1f} lies {:.0f} mm off the board: no air meant for it goes there. Aim at "
                    "the board, or trace the outline if it is larger than drawn.",
                    plan.aim.x, plan.aim.y, away),
        "aim"};
}

/// What keeps a plan from being computed, but for an aim off the board.
std::optional<Error> unfit(const Chart& chart, const HeatPlan& plan, const HeatOptions& options) {
    if (!chart.scale)
        return Error{"The chart has no scale: set one first, no length on it may be read in mm until then.", "scale"};
    if (auto error = out_of_bench(plan, options)) return error;
    if (!patterns::find_alloy(plan.alloy))
        return Error{fmt::format("The alloy \"{}\" is not in the table: SAC305 or Sn63Pb37, for example.", plan.alloy),
                     "alloy"};
    if (!plan.target.is_empty() && !document::find_part(chart, plan.target))
        return Error{fmt::format("The plan's target \"{}\" is not on the chart.", plan.target.text), "target"};
    return std::nullopt;
}

/// Joints and neighbours of the plan's target.
void watch(HeatSetup& setup, const Chart& chart) {
    const HeatPlan& plan = setup.plan;
    if (const auto target = document::find_part(chart, plan.target)) {
        const Footprint& part = chart.parts[*target];
        setup.target_name = part.name;
        setup.target_class = part.part_class;
        setup.joints = joints_of(setup.layout, part);
        if (const HeatBody* body = setup.layout.body_of(part.id)) setup.target_body = setup.layout.body_probe(*body);
    }
    if (setup.joints.empty()) setup.joints.push_back(spot_under(setup.layout, plan.aim));
    for (const Footprint& part : chart.parts)
        if (part.id != plan.target && stands_on_board(part) && !is_of_no_interest(part.part_class))
            watch_part(setup, chart, part);
    for (const document::KeepOut& keep_out : chart.keep_outs)
        watch_keep_out(setup, chart, keep_out);
}

} // namespace

double gap_to(Vec2 place, const geometry::Ring& outline) {
    if (geometry::contains(outline, place)) return 0.0;
    return geometry::distance_to_closed_line(place, outline);
}

double cell_for(Resolution resolution, const geometry::Box& board) {
    // The reference board of 60 by 30 mm gets 1, 0.5 and 0.25 mm.
    const double cells = resolution == Resolution::Live ? 1800.0 : resolution == Resolution::Working ? 7200.0 : 28800.0;
    const double finest = resolution == Resolution::Live ? 0.4 : resolution == Resolution::Working ? 0.25 : 0.125;
    return std::max(finest, std::sqrt(board.width() * board.height() / cells));
}

bool same_scene(const HeatPlan& a, const HeatPlan& b) {
    // Without a target the spot under the nozzle is watched, which moves with it.
    return a.side == b.side && a.shields == b.shields && a.target == b.target &&
           (!a.target.is_empty() || a.aim == b.aim);
}

Result<void> renew(HeatSetup& setup, const Chart& chart, const HeatPlan& plan, const HeatOptions& options) {
    if (auto error = unfit(chart, plan, options)) return *error;
    if (auto error = off_board(setup.layout.board, plan)) return *error;
    setup.plan = plan;
    setup.options = options;
    setup.board = patterns::board_data(chart.board.stack);
    setup.alloy = *patterns::find_alloy(plan.alloy);
    setup.mixture = patterns::mixed_with_low_melt(setup.alloy, plan.low_melt_fraction);
    setup.cases = heat_cases(setup.board);
    setup.station.clear();
    setup.remarks.clear();
    use_station(setup, chart, plan);
    apply_calibration(setup);
    return {};
}

Result<HeatSetup> heat_setup(const Chart& chart, const HeatPlan& plan, const HeatOptions& options,
                             std::optional<double> cell_mm) {
    if (auto error = unfit(chart, plan, options)) return *error;
    HeatSetup setup;
    const geometry::Region region = board_region(chart);
    if (auto error = off_board(region, plan)) return *error;
    const geometry::Box board = geometry::bounds(region);
    const double cell =
        cell_mm ? *cell_mm : options.cell_mm.value_or(options.coarser * cell_for(options.resolution, board));
    setup.layout = heat_layout(chart, plan.side, plan.shields, cell, plan.target);
    if (setup.layout.board_nodes() == 0) return Error{"The board's outline has no area.", "board/outline"};
    if (const Result<void> renewed = renew(setup, chart, plan, options); !renewed) return renewed.error();
    watch(setup, chart);
    return setup;
}

JetSettings jet_settings(const HeatSetup& setup, const HeatCase& unknowns) {
    return {setup.plan.set_point_c,  setup.plan.flow_l_per_min, setup.plan.nozzle_bore_mm,
            setup.plan.stand_off_mm, setup.options.room_c,      unknowns.exit_factor};
}

JetField jet_field(const HeatSetup& setup, const HeatModel& model) {
    const Grid& grid = setup.layout.grid;
    const double reach = std::hypot(grid.columns * grid.cell_mm, grid.rows * grid.cell_mm) + setup.plan.nozzle_bore_mm;
    return JetField(jet_settings(setup, model.unknowns()),
                    model.jet_shape(setup.plan.preheat_c, setup.options.circle_radius_mm), reach);
}

std::vector<double> start_state(HeatModel& model, const HeatSetup& setup) {
    model.set_below(setup.plan.preheat_c);
    model.set_still_air();
    if (!setup.plan.preheat_c) return std::vector<double>(model.network().size(), setup.options.room_c);
    HeatSolver solver(model.network());
    return solver.steady();
}

HotSpot hottest_of(const HeatSetup& setup, const WatchedNeighbour& watch, std::span<const double> celsius) {
    if (watch.hot.is_empty()) return {setup.options.room_c, std::nullopt};
    const std::size_t node = watch.hot.nodes[watch.hot.hottest(celsius)].first;
    double hot = celsius[node];
    if (watch.far_side && watch.is_judged_by_board && setup.plan.preheat_c)
        hot = std::max(hot, (*setup.plan.preheat_c + hot) / 2.0);
    return {hot, node};
}

double coldest_joint(const std::vector<WatchedJoint>& joints, std::span<const double> celsius) {
    double coldest = 1e300;
    for (const WatchedJoint& joint : joints)
        coldest = std::min(coldest, joint.board.mean(celsius));
    return coldest;
}

} // namespace padchart::analysis
