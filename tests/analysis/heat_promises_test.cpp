// What holds for every plan: bands in order, numbers that are numbers, a map that single runs confirm, advice that
// comes true.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "analysis/heat_advice.hpp"
#include "analysis/heat_live.hpp"
#include "analysis/heat_noaim.hpp"
#include "analysis/heat_setup.hpp"
#include "analysis/heat_solver.hpp"
#include "geometry/overlay.hpp"
#include "geometry/validity.hpp"
#include "heat_reference.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::analysis::test;
using doctest::Approx;
using document::PartClass;
using geometry::Vec2;

namespace {

/// The reference board with parts of every kind on both faces, and one shield.
document::Chart crowded_chart() {
    document::Chart chart = reference_chart(4);
    document::Footprint sensor = block("u5", PartClass::IntegratedCircuit, {20, 8}, 4, 4, 0.9);
    add_pads(sensor, 3, 0.4, 1.0);
    document::Footprint cell = block("bt1", PartClass::Cell, {8, 22}, 8, 8, 3);
    document::Footprint mic = block("mk1", PartClass::Microphone, {24, 24}, 3, 2, 1);
    document::Footprint below = block("j7", PartClass::Connector, {33, 16}, 8, 4, 1.5);
    below.placement.side = document::Side::Bottom;
    document::Footprint can =
        block("c9", PartClass::AluminiumCapacitor, {29, 22}, 5, 5, 5.4); // holds heat when the air is off
    for (const auto& part : {sensor, cell, mic, below, can})
        chart.parts.add(part);
    document::Shield foil;
    foil.id.text = foil.name = "foil";
    foil.outline = {{{33, 9}, {46, 9}, {46, 21}, {33, 21}}, {}};
    chart.shields.add(foil);
    return chart;
}

document::HeatPlan random_plan(std::mt19937& random) {
    const auto real = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    const auto one_in = [&](int n) { return std::uniform_int_distribution<int>(1, n)(random) == 1; };
    document::HeatPlan plan = reference_plan(real(150, 480), real(2, 90));
    if (one_in(4)) plan.target.text = "u5";
    if (one_in(6)) plan.target = {};
    if (one_in(4)) plan.side = document::Side::Bottom;
    plan.aim = {real(-3, 63), real(-3, 33)}; // also far from the target, also just beside the board
    plan.flow_l_per_min = real(5, 90);
    plan.nozzle_bore_mm = real(2, 12);
    plan.stand_off_mm = real(3, 40);
    if (one_in(3)) plan.preheat_c = real(60, 180);
    if (one_in(3)) plan.shields.push_back({"foil"});
    if (one_in(4)) plan.low_melt_fraction = real(0.1, 1.0);
    return plan;
}

void check_order(const Band& band) {
    CHECK(std::isfinite(band.low));
    CHECK(std::isfinite(band.high));
    CHECK(band.low <= band.nominal);
    CHECK(band.nominal <= band.high);
}

/// Number of times at which a curve is out of order or not a number.
int disorder(const CurveCases& curve) {
    int count = 0;
    for (std::size_t k = 0; k < curve.nominal.size(); ++k)
        count += curve.low[k] <= curve.nominal[k] && curve.nominal[k] <= curve.high[k] && std::isfinite(curve.low[k]) &&
                         std::isfinite(curve.high[k])
                     ? 0
                     : 1;
    return count;
}

int disorder(const HeatField& field, const Cases<std::vector<float>>& values) {
    int count = 0;
    for (std::size_t k = 0; k < values.nominal.size(); ++k) {
        const bool in_order = values.low[k] <= values.nominal[k] && values.nominal[k] <= values.high[k];
        const bool is_off = field.on_board[k] < 1e-3F && std::isnan(values.nominal[k]);
        count += in_order || is_off ? 0 : 1;
    }
    return count;
}

void check_order(const HeatReport& report, std::optional<double> preheat_c) {
    for (const Band& band : {report.target.peak_mean_c, report.target.peak_top_c, report.target.likely_c,
                             report.target.body_peak_c, report.target.time_above_liquidus_s, report.target.ramp_k_per_s,
                             report.laminate_peak_c, report.jet.exit_c, report.jet.stagnation_h})
        check_order(band);
    const auto& time = report.target.time_to_liquidus_s;
    if (time.low) REQUIRE(time.nominal);
    if (time.nominal) REQUIRE(time.high);
    if (time.low) CHECK(*time.low >= *time.nominal);
    if (time.nominal) CHECK(*time.nominal >= *time.high);
    for (const JointReport& joint : report.target.joints) {
        check_order(joint.peak_mean_c);
        check_order(joint.peak_top_c);
    }
    for (const NeighbourReport& near : report.neighbours) {
        CAPTURE(near.name);
        for (const Band& band : {near.peak_c, near.joint_peak_c, near.ramp_k_per_s})
            check_order(band);
        if (near.limit_c) check_order(near.margin_k);
    }
    // Nothing is hotter than what heats it.
    const double hottest_c = std::max(report.jet.exit_c.high, preheat_c.value_or(0.0)) + 0.5;
    CHECK(report.laminate_peak_c.high <= hottest_c);
    CHECK(report.target.peak_top_c.high <= hottest_c);
    for (const NeighbourReport& near : report.neighbours)
        CHECK(near.peak_c.high <= hottest_c);
    CHECK(disorder(report.curves.joint_mean_c) == 0);
    CHECK(disorder(report.curves.joint_top_c) == 0);
    for (const CurveCases& curve : report.curves.neighbours_c)
        CHECK(disorder(curve) == 0);
    CHECK(disorder(report.field, report.field.peak_c) == 0);
    for (const HeatSnapshot& snapshot : report.field.snapshots)
        CHECK(disorder(report.field, snapshot.board_c) == 0);
    CHECK(std::isfinite(report.energy.residual_j));
    CHECK_FALSE(report.sentences.empty());
    for (const std::string& sentence : report.sentences)
        CHECK(sentence.find("nan") == std::string::npos);
}

double distance_to_border(const geometry::Region& region, Vec2 at) {
    double away = 1e9;
    const auto look = [&](const geometry::Ring& ring) {
        for (std::size_t k = 0; k < ring.size(); ++k) {
            const Vec2 a = ring[k], along = ring[(k + 1) % ring.size()] - a;
            const double squared = geometry::dot(along, along);
            const double t = squared > 0 ? std::clamp(geometry::dot(at - a, along) / squared, 0.0, 1.0) : 0.0;
            away = std::min(away, geometry::distance(at, a + along * t));
        }
    };
    for (const geometry::Polygon& polygon : region) {
        look(polygon.outer);
        for (const geometry::Ring& hole : polygon.holes)
            look(hole);
    }
    return away;
}

/// Steady state of one case at one aim, factorised for itself.
class SingleAim {
public:
    SingleAim(const HeatSetup& setup, const HeatCase& unknowns)
        : setup_(setup), model_(setup.layout, setup.board, unknowns, setup.options.room_c),
          start_(start_state(model_, setup)), jet_(jet_field(setup, model_)), solver_(model_.network()) {}

    /// Greatest excess over a limit of any watched neighbour that has a zone.
    double excess_at(Vec2 aim, const NoAimMap& map) {
        model_.set_jet(jet_, aim);
        const std::vector<double> t = solver_.steady();
        double most = -1e9;
        for (const WatchedNeighbour& watch : setup_.neighbours)
            for (const NoAimZone& zone : map.zones)
                if (zone.source == watch.source)
                    most = std::max(most, std::max(hottest_of(setup_, watch, t).celsius,
                                                   hottest_of(setup_, watch, start_).celsius) -
                                              zone.limit_c);
        joint_c_ = coldest_joint(setup_.joints, t);
        return most;
    }
    [[nodiscard]] double joint_c() const { return joint_c_; }

private:
    const HeatSetup& setup_;
    HeatModel model_;
    std::vector<double> start_;
    JetField jet_;
    HeatSolver solver_;
    double joint_c_ = 0.0;
};

} // namespace

TEST_CASE("low lies below nominal below high for any plan and every number is one") {
    const document::Chart chart = crowded_chart();
    std::mt19937 random(7);
    for (int round = 0; round < 40; ++round) {
        CAPTURE(round);
        HeatOptions options;
        options.resolution = round % 2 == 0 ? Resolution::Live : Resolution::Working;
        options.cell_mm = 1.5;
        options.cool_s = round % 3 == 0 ? 0.0 : 20.0;
        options.snapshots_s = {1.0};
        if (round % 5 == 0) options.calibration = HeatCalibration{0.85, 1.1};
        if (round % 7 == 0) options.circle_radius_mm = 3.0;
        const document::HeatPlan plan = random_plan(random);
        const Result<HeatReport> report = heat(chart, plan, options);
        REQUIRE(report.has_value());
        check_order(*report, plan.preheat_c);
    }
}

TEST_CASE("two hundred aims solved one by one agree with the map but within a step of a border") {
    const document::Chart chart = crowded_chart();
    document::HeatPlan plan = reference_plan(330);
    NoAimOptions options;
    options.heat.cell_mm = 1.5;
    options.step_mm = 1.0;
    const Result<NoAimMap> map = no_aim(chart, plan, options);
    REQUIRE(map.has_value());
    REQUIRE(map->is_finished);
    const Result<HeatSetup> setup = heat_setup(chart, plan, options.heat);
    REQUIRE(setup.has_value());
    for (const geometry::Region* region :
         {&map->no_aim, &map->depends, &map->certain, &map->melts, &map->melts_surely, &map->good, &map->likely})
        for (const geometry::Polygon& polygon : *region)
            CHECK_FALSE(geometry::flaw_of(polygon).has_value());
    SingleAim low(*setup, setup->cases.low), nominal(*setup, setup->cases.nominal), high(*setup, setup->cases.high),
        spread(*setup, setup->cases.high_spread);
    std::mt19937 random(11);
    std::uniform_real_distribution<double> along(0.2, 59.8), across(0.2, 29.8);
    int looked = 0, inside = 0;
    const auto check = [&](const geometry::Region& region, Vec2 aim, bool is_in) {
        if (distance_to_border(region, aim) < map->lattice.cell_mm) return;
        ++looked;
        inside += is_in ? 1 : 0;
        CHECK(geometry::contains(region, aim) == is_in);
    };
    for (int k = 0; k < 200; ++k) {
        const Vec2 aim{along(random), across(random)};
        CAPTURE(aim.x);
        CAPTURE(aim.y);
        const bool passes = nominal.excess_at(aim, *map) >= 0.0;
        check(map->no_aim, aim, passes);
        check(map->melts, aim, nominal.joint_c() >= setup->mixture.liquidus_c);
        if (k % 5 != 0) continue;
        const bool passes_hot = std::max(high.excess_at(aim, *map), spread.excess_at(aim, *map)) >= 0.0;
        if (!passes) check(map->depends, aim, passes_hot);
        check(map->certain, aim, low.excess_at(aim, *map) >= 0.0);
    }
    CHECK(looked > 300);
    CHECK(inside > 40);
}

TEST_CASE("an advised plan gives the promised numbers when it is run as the window runs it") {
    AdviceOptions options;
    options.may_change_nozzle = false;
    options.heat.cell_mm = 1.5;
    options.heat.calibration = HeatCalibration{0.95, 1.0};
    document::HeatPlan plan = reference_plan(380);
    plan.low_melt_fraction = 0.6;
    const document::Chart chart = reference_chart(3);
    const Result<Advice> advice = heat_advice(chart, plan, options);
    REQUIRE(advice.has_value());
    REQUIRE(advice->exists);
    HeatOptions as_shown;
    as_shown.cell_mm = options.heat.cell_mm;
    as_shown.calibration = options.heat.calibration;
    std::vector<AdvisedPlan> all = advice->plans;
    all.push_back(advice->current);
    for (const AdvisedPlan& one : all) {
        CAPTURE(one.sentence);
        document::Chart with = chart;
        for (const document::Shield& shield : one.new_shields)
            with.shields.add(shield);
        const Result<HeatReport> run = heat(with, one.plan, as_shown);
        REQUIRE(run.has_value());
        CHECK(run->target.peak_mean_c == one.joint_c);
        CHECK(run->target.peak_mean_c.low - run->target.liquidus_c == Approx(one.melt_margin_k));
        CHECK(run->neighbours[0].name == one.worst_neighbour);
        CHECK(run->neighbours[0].margin_k.low == Approx(one.spare_margin_k));
        CHECK((run->target.verdict == MeltVerdict::Melts) == (one.melt_margin_k >= 0.0));
        CHECK((run->neighbours[0].verdict == NeighbourVerdict::Safe) == (one.spare_margin_k > 0.0));
    }
}

TEST_CASE("what is kept from one plan to the next changes no answer") {
    const auto chart = std::make_shared<const document::Chart>(crowded_chart());
    LiveHeat live;
    std::mt19937 random(3);
    document::HeatPlan plan = reference_plan(350, 20);
    for (int round = 0; round < 24; ++round) {
        CAPTURE(round);
        if (round % 6 == 5)
            plan = random_plan(random); // another scene, another preheater
        else if (round % 2 == 0)
            plan.aim.x += 0.7;
        else
            plan.set_point_c += 3;
        HeatOptions options;
        options.cell_mm = 1.5;
        if (round > 12 && round < 16) options.room_c = 20;
        if (round % 8 == 7) options.calibration = HeatCalibration{0.85, 1.1};
        const Result<HeatReport> kept = live.heat(chart, plan, options);
        options.resolution = Resolution::Live;
        const Result<HeatReport> plain = heat(*chart, plan, options);
        REQUIRE(kept.has_value() == plain.has_value());
        if (!kept) continue;
        CHECK(kept->target.peak_mean_c == plain->target.peak_mean_c);
        CHECK(kept->curves.joint_top_c == plain->curves.joint_top_c);
        CHECK(kept->curves.neighbours_c == plain->curves.neighbours_c);
        CHECK(kept->sentences == plain->sentences);
        CHECK(kept->remarks == plain->remarks);
    }
    document::HeatPlan unfit = plan;
    unfit.dwell_s = 0;
    CHECK_FALSE(live.heat(chart, unfit).has_value());
    CHECK(live.heat(chart, plan).has_value());
}

TEST_CASE("a part that has stored heat warms the face under it to no more than its own temperature") {
    const Result<HeatSetup> setup = heat_setup(crowded_chart(), reference_plan(350), {}, 1.0);
    REQUIRE(setup.has_value());
    HeatModel model(setup->layout, setup->board, setup->cases.high_spread, 25.0); // in still air, tight contacts
    std::vector<double> celsius(model.network().size(), 300.0);
    std::fill_n(celsius.begin(), setup->layout.board_nodes(), 100.0);
    std::vector<double> excess;
    model.top_excess(celsius, excess);
    const double most = *std::max_element(excess.begin(), excess.end());
    CHECK(most <= 200.0 + 1e-9);
    CHECK(most > 50.0);
}
