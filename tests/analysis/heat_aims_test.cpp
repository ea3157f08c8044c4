// The no-aim map, the search for plans, and the calibration.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "analysis/heat_advice.hpp"
#include "analysis/heat_calibration.hpp"
#include "analysis/heat_noaim.hpp"
#include "analysis/heat_solver.hpp"
#include "analysis/heat_sweep.hpp"
#include "geometry/overlay.hpp"
#include "heat_reference.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::analysis::test;
using doctest::Approx;
using geometry::Vec2;

namespace {

HeatSetup live_setup(const document::Chart& chart, const document::HeatPlan& plan) {
    HeatOptions options;
    options.resolution = Resolution::Live;
    Result<HeatSetup> setup = heat_setup(chart, plan, options, 1.5);
    REQUIRE(setup.has_value());
    return std::move(*setup);
}

const HeatCase& case_of(const HeatSetup& setup, std::size_t which) {
    const HeatCase* all[4] = {&setup.cases.low, &setup.cases.nominal, &setup.cases.high, &setup.cases.high_spread};
    return *all[which];
}

} // namespace

TEST_CASE("sixteen aims through one factor agree with a factorisation for each") {
    const HeatSetup setup = live_setup(reference_chart(3), reference_plan(380));
    std::vector<Vec2> aims;
    for (int k = 0; k < 23; ++k)
        aims.push_back({1.0 + 2.55 * k, 1.0 + std::fmod(k * 11.3, 28.0)});
    AimSweep sweep(setup, std::nullopt);
    const auto results = sweep.run(aims, {});
    for (std::size_t a = 0; a < aims.size(); a += 5)
        for (std::size_t c = 0; c < 4; ++c) {
            HeatModel model(setup.layout, setup.board, case_of(setup, c), 25.0);
            model.set_jet(jet_field(setup, model), aims[a]);
            HeatSolver solver(model.network());
            const std::vector<double> t = solver.steady();
            CHECK(std::abs(static_cast<double>(results[a][c].joint_c) - coldest_joint(setup.joints, t)) < 0.2);
            CHECK(std::abs(static_cast<double>(results[a][c].neighbour_c[0]) -
                           hottest_of(setup, setup.neighbours[0], t).celsius) < 0.2);
        }
}

TEST_CASE("the end of a dwell agrees with the stepped run and stays below the steady state") {
    const HeatSetup setup = live_setup(reference_chart(3), reference_plan(380));
    const std::vector<Vec2> aims{{30, 15}, {24, 12}, {40, 20}};
    AimSweep dwell(setup, 30.0);
    AimSweep steady(setup, std::nullopt);
    const auto at_end = dwell.run(aims, {});
    const auto bound = steady.run(aims, {});
    for (std::size_t a = 0; a < aims.size(); ++a) {
        HeatModel model(setup.layout, setup.board, setup.cases.nominal, 25.0);
        model.set_jet(jet_field(setup, model), aims[a]);
        HeatSolver solver(model.network());
        std::vector<double> t(model.network().size(), 25.0);
        const HeatStretch stretch{30, 0.25};
        solver.run(t, {&stretch, 1}, [](double, std::span<const double>) {});
        CHECK(std::abs(static_cast<double>(at_end[a][1].joint_c) - coldest_joint(setup.joints, t)) < 1.5);
        CHECK(std::abs(static_cast<double>(at_end[a][1].neighbour_c[0]) -
                       hottest_of(setup, setup.neighbours[0], t).celsius) < 1.5);
        CHECK(at_end[a][1].joint_c <= bound[a][1].joint_c + 0.2F);
        CHECK(at_end[a][1].neighbour_c[0] <= bound[a][1].neighbour_c[0] + 0.2F);
    }
}

TEST_CASE("the refined map has the zones of the full one and they nest") {
    NoAimOptions options;
    options.heat.cell_mm = 1.5;
    options.step_mm = 1.5;
    const document::Chart chart = reference_chart(8);
    const auto refined = no_aim(chart, reference_plan(380), options);
    options.refine_everywhere = true;
    const auto full = no_aim(chart, reference_plan(380), options);
    REQUIRE(refined.has_value());
    REQUIRE(full.has_value());
    CHECK(refined->is_finished);
    CHECK(refined->solves < full->solves);
    CHECK(refined->share_no_aim == Approx(full->share_no_aim).epsilon(0.01));
    CHECK(refined->share_depends == Approx(full->share_depends).epsilon(0.01));
    const double board = 60.0 * 30.0;
    CHECK(geometry::area(geometry::subtract(refined->no_aim, full->no_aim)) < 0.003 * board);
    CHECK(geometry::area(geometry::subtract(full->no_aim, refined->no_aim)) < 0.003 * board);
    // Certain lies in no-aim; depends has nothing of it; good has nothing of either.
    CHECK(geometry::area(geometry::subtract(full->certain, full->no_aim)) < 1e-6);
    CHECK(geometry::area(geometry::intersect(full->depends, full->no_aim)) < 1e-6);
    CHECK(geometry::area(geometry::intersect(full->good, full->no_aim)) < 1e-6);
    CHECK(geometry::area(geometry::subtract(full->melts_surely, full->melts)) < 1e-6);
    // On the socket it is forbidden, in the far corner allowed.
    REQUIRE(full->zones.size() == 1);
    CHECK(geometry::contains(full->zones[0].no_aim, {43.5, 15}));
    CHECK_FALSE(geometry::contains(full->zones[0].no_aim, {3, 15}));
    CHECK(geometry::contains(full->melts, {30, 15}));
}

TEST_CASE("the gap to the socket at which it stays below its limit") {
    // Own prototype, steady, along y = 15: nominal more than 10, 7 and 3.3 mm for 225, 260 and 300 C; target near the
    // aim on the board without its chip. Socket from x = 38 to 48.
    const document::HeatPlan plan = reference_plan(380);
    const HeatSetup setup = [&] {
        HeatOptions options;
        Result<HeatSetup> made = heat_setup(reference_chart(7.5), plan, options, 0.5);
        REQUIRE(made.has_value());
        return std::move(*made);
    }();
    std::vector<Vec2> aims;
    for (double gap = 2.0; gap < 14.0; gap += 0.5)
        aims.push_back({38.0 - gap, 15.0});
    AimSweep sweep(setup, std::nullopt);
    const auto results = sweep.run(aims, {});
    const auto gap_for = [&](double limit) {
        for (std::size_t a = 0; a < aims.size(); ++a)
            if (static_cast<double>(results[a][1].neighbour_c[0]) < limit) return 38.0 - aims[a].x;
        return 99.0;
    };
    CHECK(gap_for(225) == Approx(10.0).epsilon(0.15));
    CHECK(gap_for(260) == Approx(7.0).epsilon(0.15));
    CHECK(gap_for(300) == Approx(3.3).epsilon(0.25));
}

TEST_CASE("the map does not depend on threads and can be watched and stopped") {
    NoAimOptions options;
    options.heat.cell_mm = 2.0;
    options.step_mm = 2.0;
    options.heat.threads = 1;
    const document::Chart chart = reference_chart(8);
    const auto one = no_aim(chart, reference_plan(380), options);
    options.heat.threads = 2;
    std::vector<double> steps;
    options.progress = [&](const NoAimMap& map) {
        steps.push_back(map.lattice.cell_mm);
        CHECK_FALSE(map.is_finished);
        CHECK(map.zones.size() == 1);
    };
    const auto two = no_aim(chart, reference_plan(380), options);
    CHECK(one->joint_c.nominal == two->joint_c.nominal);
    CHECK(one->no_aim == two->no_aim);
    CHECK(steps == std::vector<double>{8.0, 4.0});
    std::stop_source stop;
    options.stop = stop.get_token();
    options.progress = [&](const NoAimMap&) { stop.request_stop(); };
    const auto stopped = no_aim(chart, reference_plan(380), options);
    REQUIRE(stopped.has_value());
    CHECK_FALSE(stopped->is_finished);
    CHECK(stopped->lattice.cell_mm == Approx(8.0));
}

TEST_CASE("a cell is said to be taken out first and the map says what is possible then") {
    document::Chart chart = reference_chart(12);
    chart.parts.add(block("bt1", document::PartClass::Cell, {30, 24}, 8, 8, 3));
    NoAimOptions options;
    options.heat.cell_mm = 1.5;
    options.step_mm = 2.0;
    const Result<NoAimMap> map = no_aim(chart, reference_plan(400), options);
    REQUIRE(map.has_value());
    REQUIRE(map->to_be_out == std::vector<std::string>{"bt1"});
    CHECK(map->likely.empty()); // with the cell on the board
    CHECK_FALSE(map->likely_without.empty());
    CHECK(geometry::subtract(map->likely_without, map->melts).empty());
    const std::string sentence = no_aim_sentence(*map);
    CHECK(sentence.starts_with("Take bt1 out before any heat. Then without a calibration"));
    CHECK(sentence.find("mm² do both") != std::string::npos);
}

TEST_CASE("where no aim will do the map says what is in the way or what would help") {
    NoAimOptions options;
    options.heat.cell_mm = 1.5;
    options.step_mm = 2.0;
    const Result<NoAimMap> soft = no_aim(reference_chart(3, 120.0), reference_plan(400), options);
    REQUIRE(soft.has_value());
    REQUIRE(soft->in_the_way == std::vector<std::string>{"j2"});
    CHECK(no_aim_sentence(*soft).find("overheats j2: shield it or take it off first") != std::string::npos);
    const Result<NoAimMap> cold = no_aim(reference_chart(3), reference_plan(200), options);
    REQUIRE(cold.has_value());
    CHECK_FALSE(cold->may_melt);
    CHECK(no_aim_sentence(*cold).starts_with("No aim melts r1 with these settings, not even in the hot case"));
}

TEST_CASE("moving away from the socket is proposed first and said in words") {
    HeatOptions options;
    options.cell_mm = 1.5;
    const auto found = what_ifs(reference_chart(3), reference_plan(380), options);
    REQUIRE(found.has_value());
    CHECK(found->front().change == "With a shield over j2");
    // What it names can be put on the chart.
    REQUIRE(found->front().new_shields.size() == 1);
    CHECK(found->front().plan.shields == std::vector<document::Id>{found->front().new_shields.front().id});
    const auto left = std::find_if(found->begin(), found->end(),
                                   [](const WhatIf& w) { return w.change == "Aim 3.0 mm further left"; });
    REQUIRE(left != found->end());
    CHECK(left->joint_change_k < 0.0);
    CHECK(left->neighbour_change_k < -20.0);
    CHECK(left->sentence.find("of margin") != std::string::npos);
    const auto right = std::find_if(found->begin(), found->end(),
                                    [](const WhatIf& w) { return w.change == "Aim 3.0 mm further right"; });
    CHECK(right->neighbour_change_k > 5.0);
    // Seen from below, left and right change places.
    document::Chart turned = reference_chart(3);
    for (std::size_t k = 0; k < 2; ++k) {
        document::Footprint part = turned.parts[k];
        part.placement.side = document::Side::Bottom;
        turned.parts.replace(k, part);
    }
    document::HeatPlan below = reference_plan(380);
    below.side = document::Side::Bottom;
    const auto mirrored = what_ifs(turned, below, options);
    const auto again = std::find_if(mirrored->begin(), mirrored->end(),
                                    [](const WhatIf& w) { return w.change == "Aim 3.0 mm further right"; });
    CHECK(again->neighbour_change_k == Approx(left->neighbour_change_k).epsilon(0.01));
}

TEST_CASE("plans that are found keep what they promise and where there is none it says so") {
    AdviceOptions options;
    options.heat.cell_mm = 2.0;
    options.may_change_nozzle = false;
    options.heat.calibration = HeatCalibration{0.95, 1.0};
    document::HeatPlan plan = reference_plan(380);
    plan.low_melt_fraction = 0.6;
    const document::Chart chart = reference_chart(3);
    const auto easy = heat_advice(chart, plan, options);
    REQUIRE(easy.has_value());
    REQUIRE(easy->exists);
    const AdvisedPlan& best = easy->plans.front();
    CHECK(best.works());
    CHECK(best.margin_k() >= easy->plans.back().margin_k());
    CHECK(best.margin_k() >= easy->current.margin_k());
    // Run it by itself: the cold case melts within the dwell and the hot case spares the socket.
    document::Chart with_shields = chart;
    for (const document::Shield& shield : best.new_shields)
        with_shields.shields.add(shield);
    HeatOptions check = options.heat;
    check.cool_s = 0;
    const auto run = heat(with_shields, best.plan, check);
    REQUIRE(run.has_value());
    CHECK(run->target.verdict == MeltVerdict::Melts);
    CHECK(run->neighbours[0].verdict == NeighbourVerdict::Safe);

    AdviceOptions strict;
    strict.heat.cell_mm = 2.5;
    strict.may_change_nozzle = strict.may_preheat = false;
    const auto none = heat_advice(reference_chart(2, 150), reference_plan(380), strict);
    REQUIRE(none.has_value());
    CHECK_FALSE(none->exists);
    REQUIRE(none->nearest_miss);
    CHECK_FALSE(none->nearest_miss->works());
    CHECK(none->sentences.front().find("No plan found") != std::string::npos);
    CHECK(none->nearest_miss->margin_k() >= none->current.margin_k());
}

TEST_CASE("one thermocouple finds the exit factor that made its reading") {
    const document::Chart chart = reference_chart(3);
    const document::HeatPlan plan = reference_plan(380);
    HeatOptions options;
    options.cell_mm = 1.0;
    options.cool_s = 0;
    // Own prototype: a reading of 201.85 C on the pad after a minute is answered by 0.788.
    const auto fit = calibrate(chart, plan, {{{30, 15}, 201.85, 60.0, std::nullopt, false, std::nullopt}}, options);
    REQUIRE(fit.has_value());
    CHECK(fit->calibration.exit_factor == Approx(0.788).epsilon(0.01));
    CHECK(fit->calibration.h_factor == 1.0);
    CHECK(fit->largest_miss_k < 0.1);

    // A made-up station: its own model's temperatures are answered by its own factors, also through the rise.
    HeatOptions hidden = options;
    hidden.calibration = HeatCalibration{0.82, 1.35};
    const auto truth = heat(chart, plan, hidden);
    REQUIRE(truth.has_value());
    const auto& curve = truth->curves.joint_mean_c.nominal;
    const double target = 25 + 0.632 * (curve.back() - 25);
    double t63 = 0.0;
    for (std::size_t k = 1; k < curve.size() && t63 == 0.0; ++k)
        if (curve[k] >= target) t63 = truth->curves.time_s[k];
    const Vec2 at = truth->target.joints[0].at;
    const auto both = calibrate(chart, plan, {{at, curve.back(), 60.0, t63, false, std::nullopt}}, options);
    REQUIRE(both.has_value());
    CHECK(std::abs(both->model_c[0] - curve.back()) < 0.2);
    CHECK(std::abs(both->model_time_to_63_s[0] - t63) < 0.2 * t63);
}

TEST_CASE("a calibration narrows the band and carries over to another set point") {
    const document::Chart chart = reference_chart(3);
    HeatOptions options;
    options.cell_mm = 1.5;
    options.cool_s = 0;
    const auto wide = heat(chart, reference_plan(280, 30), options);
    options.calibration = HeatCalibration{0.85, 1.0};
    const auto narrow = heat(chart, reference_plan(280, 30), options);
    CHECK(narrow->target.peak_mean_c.high - narrow->target.peak_mean_c.low <= 20.0 + 1e-9);
    CHECK(wide->target.peak_mean_c.high - wide->target.peak_mean_c.low > 60.0);
    CHECK(narrow->neighbours[0].peak_c.high - narrow->neighbours[0].peak_c.low <= 40.0 + 1e-9);
    CHECK(narrow->jet.exit_c.nominal == Approx(25 + 0.85 * 255));
}

TEST_CASE("readings that no station gives are refused with the likely cause") {
    HeatOptions options;
    options.cell_mm = 2.0;
    const document::Chart chart = reference_chart(3);
    const auto refused = [&](std::vector<ThermocoupleReading> readings, std::string_view words) {
        const auto fit = calibrate(chart, reference_plan(380), readings, options);
        REQUIRE_FALSE(fit.has_value());
        CHECK(fit.error().message.find(words) != std::string::npos);
    };
    refused({}, "no reading");
    refused({{{30, 15}, 100, 60.0, std::nullopt, false, std::nullopt}}, "does not touch the pad");
    refused({{{30, 15}, 320, 60.0, std::nullopt, false, std::nullopt}}, "stands in the air");
    refused({{{30, 15}, 20, 60.0, std::nullopt, false, std::nullopt}}, "not above the start");
    const auto in_air =
        calibrate(chart, reference_plan(380), {{{30, 15}, 320, 5.0, std::nullopt, true, std::nullopt}}, options);
    REQUIRE(in_air.has_value());
    CHECK(in_air->calibration.exit_factor == Approx(295.0 / 355.0));
}
