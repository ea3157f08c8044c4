#include "scene/heat_overlay.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <doctest/doctest.h>

#include "golden.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;
using document::Chart;
using document::Side;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr Vec2 kAim{7.4, 5.4};

/// A cone: 300 C at the aim, 20 K less for every mm. Its lines are circles of known radius (own arithmetic).
analysis::HeatReport cone_report(double liquidus_c) {
    analysis::HeatReport report;
    report.target.liquidus_c = liquidus_c;
    report.field.grid = {{0, 0}, 0.25, 64, 48};
    for (std::size_t i = 0; i < report.field.grid.size(); ++i)
        report.field.peak_c.nominal.push_back(
            static_cast<float>(300.0 - 20.0 * geometry::distance(report.field.grid.centre(i), kAim)));
    return report;
}

geometry::Region box_region(Vec2 min, Vec2 max) {
    return {test::box_polygon(min, max)};
}

analysis::NoAimMap map_with_zones() {
    analysis::NoAimMap map;
    map.no_aim = box_region({10, 6}, {14, 9});
    map.depends = box_region({9, 5}, {10, 10});
    map.good = box_region({6, 5}, {8, 6});
    map.is_finished = true;
    return map;
}

document::HeatPlan sample_plan(const Chart& chart) {
    document::HeatPlan plan = chart.heat_plans[0];
    plan.aim = kAim;
    return plan;
}

ViewOptions heat_stage(Side side = Side::Top) {
    ViewOptions options;
    options.stage = Stage::Heat;
    options.seen_from = side;
    return options;
}

std::vector<const Line*> lines_of(const Scene& scene, Role role) {
    std::vector<const Line*> lines;
    for (const Item& item : scene.items)
        if (item.role == role && item.kind == Item::Kind::Line) lines.push_back(&scene.lines[item.index]);
    return lines;
}

std::size_t count(const Scene& scene, Role role) {
    return static_cast<std::size_t>(
        std::count_if(scene.items.begin(), scene.items.end(), [role](const Item& item) { return item.role == role; }));
}

const Text* label(const Scene& scene, std::string_view text) {
    const auto found =
        std::find_if(scene.texts.begin(), scene.texts.end(), [text](const Text& t) { return t.text == text; });
    return found == scene.texts.end() ? nullptr : &*found;
}

std::string legend_text(const Scene& scene, Role role) {
    for (const LegendEntry& entry : legend_of(scene))
        if (entry.role == role) return entry.text;
    return {};
}

} // namespace

TEST_CASE("round temperatures and the liquidus get a line and a near one gives way") {
    CHECK(isotherm_levels(217.0, 25, 290) == std::vector<double>{100, 150, 200, 217, 250});
    CHECK(isotherm_levels(183.0, 25, 290) == std::vector<double>{100, 150, 183, 200, 250});
    CHECK(isotherm_levels(138.0, 25, 290) == std::vector<double>{100, 138, 200, 250});
    CHECK(isotherm_levels(200.0, 25, 290) == std::vector<double>{100, 150, 200, 250});
    // A board that a preheater has soaked is flat.
    CHECK(isotherm_levels(217.0, 152, 231) == std::vector<double>{160, 180, 200, 217});
    CHECK(isotherm_levels(217.0, 148, 163) == std::vector<double>{150, 155, 160, 217});
}

TEST_CASE("lines of a cone are circles of the right radius about the aim") {
    const Chart chart = test::sample_chart();
    const analysis::HeatReport report = cone_report(217.0);
    const document::HeatPlan plan = sample_plan(chart);
    Reports reports;
    reports.plan = &plan;
    reports.heat = &report;
    const Scene scene = chart_scene(chart, reports, heat_stage());
    const auto liquidus = lines_of(scene, Role::IsothermLiquidus);
    REQUIRE(liquidus.size() == 1);
    CHECK(liquidus[0]->closed);
    CHECK(liquidus[0]->weight == Weight::Bold);
    for (const Vec2 point : liquidus[0]->points) // (300 - 217) / 20 mm
        CHECK(geometry::distance(point, kAim) == doctest::Approx(4.15).epsilon(0.01));
    CHECK(legend_text(scene, Role::IsothermLiquidus) == "liquidus 217 °C, peak estimate");
    for (const char* text : {"150", "217", "250"})
        CHECK_MESSAGE(label(scene, text) != nullptr, text);
}

TEST_CASE("temperatures stand on plates on their line and beside every part") {
    const Chart chart = test::sample_chart();
    const analysis::HeatReport report = cone_report(217.0);
    const document::HeatPlan plan = sample_plan(chart);
    Reports reports;
    reports.plan = &plan;
    reports.heat = &report;
    const Scene scene = chart_scene(chart, reports, heat_stage());
    std::vector<Box> bodies;
    for (const document::Footprint& part : chart.parts)
        if (part.placement.side == Side::Top) bodies.push_back(geometry::bounds(document::extent_on_board(part)));
    std::size_t labels = 0;
    for (const Item& item : scene.items) {
        if (item.role != Role::LabelIsotherm) continue;
        const Text& text = scene.texts[item.index];
        ++labels;
        CHECK(text.halo);
        const double radius = (300.0 - std::stod(text.text)) / 20.0;
        CHECK(geometry::distance(text.at, kAim) == doctest::Approx(radius).epsilon(0.01));
        CHECK(std::none_of(bodies.begin(), bodies.end(), [&](const Box& body) { return body.contains(text.at); }));
    }
    CHECK(labels >= 3);
}

TEST_CASE("a time between two snapshots is their mean by time and beyond them the nearest one holds") {
    analysis::HeatField field;
    field.peak_c.nominal = {9.0F};
    field.snapshots.push_back({10.0, {{}, {100.0F}, {}}});
    field.snapshots.push_back({30.0, {{}, {200.0F}, {}}});
    CHECK(field_at(field, std::nullopt) == std::vector<float>{9.0F});
    CHECK(field_at(field, 15.0) == std::vector<float>{125.0F});
    CHECK(field_at(field, 30.0) == std::vector<float>{200.0F});
    CHECK(field_at(field, 1.0) == std::vector<float>{100.0F});
    CHECK(field_at(field, 99.0) == std::vector<float>{200.0F});
    field.snapshots.clear();
    CHECK(field_at(field, 15.0) == std::vector<float>{9.0F});
}

TEST_CASE("cells off the board end the lines at a time as they do at the peak") {
    const float none = std::numeric_limits<float>::quiet_NaN();
    analysis::HeatField field;
    field.snapshots.push_back({0.0, {{}, {none}, {}}});
    field.snapshots.push_back({10.0, {{}, {none}, {}}});
    CHECK(std::isnan(field_at(field, 5.0)[0]));
}

TEST_CASE("the no-aim map stands in place of the clearance zones") {
    const Chart chart = test::sample_chart();
    const analysis::ClearanceReport clearance = analysis::clearance(chart);
    REQUIRE_FALSE(clearance.top_zones.empty());
    const analysis::NoAimMap map = map_with_zones();
    Reports reports;
    reports.clearance = &clearance;
    const Scene without = chart_scene(chart, reports, heat_stage());
    reports.no_aim = &map;
    const Scene with = chart_scene(chart, reports, heat_stage());
    CHECK(count(without, Role::NoAim) == clearance.top_zones.size());
    CHECK(count(without, Role::Depends) == 0);
    CHECK(count(with, Role::NoAim) == 1);
    CHECK(count(with, Role::NoAimEdge) == 1);
    CHECK(count(with, Role::Depends) == 1);
    CHECK(count(with, Role::DependsEdge) == 1);
    CHECK(count(with, Role::GoodAimEdge) == 1);
    CHECK(legend_text(without, Role::NoAim) == "no-aim zone by distance alone");
    CHECK(legend_text(with, Role::NoAim) == "no-aim zone, estimate");
    CHECK(legend_text(with, Role::Depends) == "depends on the board");
}

TEST_CASE("zones can be hidden and what is being worked out anew is pale") {
    const Chart chart = test::sample_chart();
    const analysis::NoAimMap map = map_with_zones();
    const analysis::HeatReport report = cone_report(217.0);
    const document::HeatPlan plan = sample_plan(chart);
    Reports reports;
    reports.plan = &plan;
    reports.heat = &report;
    reports.no_aim = &map;
    ViewOptions options = heat_stage();
    options.show_zones = false;
    CHECK(count(chart_scene(chart, reports, options), Role::NoAim) == 0);
    options.show_zones = true;
    options.heat_is_stale = options.no_aim_is_stale = true;
    const Scene stale = chart_scene(chart, reports, options);
    for (const Role role :
         {Role::NoAim, Role::Depends, Role::GoodAimEdge, Role::Isotherm, Role::IsothermLiquidus, Role::LabelIsotherm})
        CHECK_MESSAGE(count(stale, role) == 0, to_text(role));
    CHECK(count(stale, Role::StaleZone) == 1);
    CHECK(lines_of(stale, Role::Stale).size() >= 4);
}

TEST_CASE("the plan in hand is drawn in place of the chart's own and with the gap to what heat would hurt") {
    const Chart chart = test::sample_chart();
    document::HeatPlan plan = sample_plan(chart);
    plan.aim = {7.9, 5.1};
    Reports reports;
    reports.plan = &plan;
    const Scene scene = chart_scene(chart, reports, heat_stage());
    const auto rings = lines_of(scene, Role::NozzleRing);
    REQUIRE(rings.size() == 1);
    const Box ring = geometry::bounds(rings[0]->points);
    CHECK(ring.centre().x == doctest::Approx(7.9));
    CHECK(ring.width() == doctest::Approx(plan.nozzle_bore_mm).epsilon(0.01));
    const auto gaps = analysis::gaps_to_sensitive(chart, plan.target);
    REQUIRE(gaps.front().same_side);
    const std::vector<const Line*> measures = lines_of(scene, Role::Measure);
    CHECK(std::any_of(measures.begin(), measures.end(), [&](const Line* line) {
        return line->points.size() == 2 &&
               geometry::distance(line->points[0], line->points[1]) == doctest::Approx(gaps.front().gap.mm);
    }));
    CHECK(count(scene, Role::LabelMeasure) > 0);
}

TEST_CASE("seen from the bottom the picture of the heat is mirrored") {
    const Chart chart = test::sample_chart();
    const analysis::HeatReport report = cone_report(217.0);
    const analysis::NoAimMap map = map_with_zones();
    const document::HeatPlan plan = sample_plan(chart);
    Reports reports;
    reports.plan = &plan;
    reports.heat = &report;
    reports.no_aim = &map;
    const Scene scene = chart_scene(chart, reports, heat_stage(Side::Bottom));
    for (const Vec2 point : lines_of(scene, Role::IsothermLiquidus).at(0)->points)
        CHECK(geometry::distance(point, {-kAim.x, kAim.y}) == doctest::Approx(4.15).epsilon(0.01));
    const Box zone = geometry::bounds(lines_of(scene, Role::NoAimEdge).at(0)->points);
    CHECK(zone.min.x == doctest::Approx(-14));
    CHECK(zone.max.x == doctest::Approx(-10));
    CHECK(count(scene, Role::NozzleRing) == 0); // the air comes from the other side
}

TEST_CASE("a small heat picture reads as text") {
    Chart chart;
    chart.scale = document::Scale{};
    document::Footprint part = test::chip("R1", document::PartClass::Resistor, kAim, {1.0, 0.5});
    part.id = document::Id{"r1"};
    chart.parts.add(part);
    document::HeatPlan plan;
    plan.id = document::Id{"hp1"};
    plan.target = part.id;
    plan.aim = kAim;
    plan.nozzle_bore_mm = 2.0;
    analysis::HeatReport report;
    report.target.liquidus_c = 217.0;
    report.field.grid = {{5.4, 3.4}, 1.0, 4, 4};
    for (std::size_t i = 0; i < report.field.grid.size(); ++i)
        report.field.peak_c.nominal.push_back(
            static_cast<float>(260.0 - 40.0 * geometry::distance(report.field.grid.centre(i), kAim)));
    analysis::NoAimMap map;
    map.no_aim = box_region({9, 4}, {10, 6});
    map.depends = box_region({8.5, 4}, {9, 6});
    Reports reports;
    reports.plan = &plan;
    reports.heat = &report;
    reports.no_aim = &map;
    test::check_golden("heat", to_text(chart_scene(chart, reports, heat_stage())));
}
