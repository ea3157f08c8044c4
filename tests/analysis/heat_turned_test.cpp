// Where a board lies on the chart and which way it is turned changes nothing.
#include <doctest/doctest.h>

#include <algorithm>

#include "analysis/heat.hpp"
#include "heat_reference.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::analysis::test;
using doctest::Approx;
using document::PartClass;
using geometry::Vec2;

namespace {

struct Scene {
    document::Chart chart;
    document::HeatPlan plan;
};

/// An L whose sides are no multiple of any cell, with a slot, parts on both faces and a foil. Invented.
Scene odd_board() {
    Scene scene{reference_chart(3), reference_plan(360)};
    scene.chart.board.outline =
        geometry::Polygon{{{0, 0}, {43.37, 0}, {43.37, 19.11}, {21.3, 19.11}, {21.3, 37.77}, {0, 37.77}},
                          {{{4, 4}, {5.1, 4}, {5.1, 13}, {4, 13}}}};
    const Vec2 places[] = {{12.3, 10.1}, {23.2, 9.7}};
    for (std::size_t k = 0; k < 2; ++k) {
        document::Footprint part = scene.chart.parts[k];
        part.placement.at = places[k];
        scene.chart.parts.replace(k, part);
    }
    document::Footprint below = block("u9", PartClass::IntegratedCircuit, {13.1, 25.2}, 5, 3, 0.9);
    below.placement.side = document::Side::Bottom;
    scene.chart.parts.add(below);
    document::Shield foil;
    foil.id.text = foil.name = "foil";
    foil.outline = {{{18, 4}, {22, 4}, {22, 15}, {18, 15}}, {}};
    scene.chart.shields.add(foil);
    scene.plan.shields.push_back({"foil"});
    scene.plan.aim = places[0];
    return scene;
}

geometry::Ring moved(const geometry::Ring& ring, const geometry::Affine& by) {
    return geometry::transformed(ring, by);
}

/// `degrees` in quarters, counter-clockwise as seen from the top.
Scene turned(const Scene& from, double degrees, Vec2 shift) {
    const geometry::Affine by =
        geometry::Affine::translation(shift) * geometry::Affine::rotation(Angle::degrees(degrees));
    Scene to = from;
    to.chart.board.outline->outer = moved(from.chart.board.outline->outer, by);
    to.chart.board.outline->holes[0] = moved(from.chart.board.outline->holes[0], by);
    for (std::size_t k = 0; k < from.chart.parts.size(); ++k) {
        document::Footprint part = from.chart.parts[k];
        const bool is_below = part.placement.side == document::Side::Bottom;
        part.placement.at = by(part.placement.at);
        part.placement.turn = Angle::degrees(part.placement.turn.degrees() + (is_below ? -degrees : degrees));
        to.chart.parts.replace(k, part);
    }
    document::Shield foil = from.chart.shields[0];
    foil.outline.outer = moved(foil.outline.outer, by);
    to.chart.shields.replace(0, foil);
    to.plan.aim = by(from.plan.aim);
    return to;
}

} // namespace

TEST_CASE("a board turned by quarters or moved about the chart gives the same answers") {
    const Scene scene = odd_board();
    HeatOptions options;
    options.cell_mm = 0.7;
    const Result<HeatReport> as_it_is = heat(scene.chart, scene.plan, options);
    REQUIRE(as_it_is.has_value());
    for (const auto& [degrees, shift] :
         {std::pair{90.0, Vec2{0, 0}}, std::pair{180.0, Vec2{-310, 77.7}}, std::pair{270.0, Vec2{12345.6, 3}}}) {
        const Scene other = turned(scene, degrees, shift);
        const Result<HeatReport> report = heat(other.chart, other.plan, options);
        REQUIRE(report.has_value());
        CHECK(report->target.peak_mean_c.low == Approx(as_it_is->target.peak_mean_c.low).epsilon(1e-5));
        CHECK(report->target.peak_mean_c.high == Approx(as_it_is->target.peak_mean_c.high).epsilon(1e-5));
        REQUIRE(report->neighbours.size() == as_it_is->neighbours.size());
        for (const NeighbourReport& near : as_it_is->neighbours) {
            const auto same = std::find_if(report->neighbours.begin(), report->neighbours.end(),
                                           [&](const NeighbourReport& n) { return n.source == near.source; });
            REQUIRE(same != report->neighbours.end());
            CHECK(same->peak_c.nominal == Approx(near.peak_c.nominal).epsilon(1e-4));
            CHECK(same->peak_c.high == Approx(near.peak_c.high).epsilon(1e-4));
        }
    }
}
