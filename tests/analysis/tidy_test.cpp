#include "analysis/tidy.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "document/edits.hpp"
#include "geometry/deviation.hpp"
#include "patterns/family.hpp"

using namespace padchart;
using analysis::TidyKind;
using document::Chart;
using document::Footprint;
using document::Pad;
using geometry::Vec2;

namespace {

Chart chart_of(Footprint part) {
    Chart chart;
    chart.scale = document::Scale{};
    part.id = {"u1"};
    part.name = "U1";
    part.family.clear();
    chart.parts.add(std::move(part));
    return chart;
}

/// A known pattern as a hand would draw it: places, sizes and turns off by up to `off` mm.
Footprint shaky(std::string_view family, double off, unsigned start = 11) {
    Footprint part = *patterns::generate(family);
    std::mt19937 random(start);
    std::uniform_real_distribution<double> jitter(-off, off);
    for (Pad& pad : part.pads) {
        pad.at += Vec2{jitter(random), jitter(random)};
        pad.shape.width_mm += jitter(random);
        pad.shape.height_mm += jitter(random);
        pad.turn = Angle::degrees(jitter(random) * 10.0).wrapped();
    }
    return part;
}

bool has(const std::vector<analysis::TidyStep>& steps, TidyKind kind, bool taken) {
    return std::any_of(steps.begin(), steps.end(),
                       [&](const analysis::TidyStep& step) { return step.kind == kind && step.taken == taken; });
}

} // namespace

TEST_CASE("a shaky package becomes regular and no outline leaves the limit") {
    for (const char* family : {"soic-8", "qfn-24-4040", "sot-23-5"}) {
        CAPTURE(std::string(family));
        const Footprint drawn = shaky(family, 0.012);
        const Chart chart = chart_of(drawn);
        const auto result = analysis::tidy(chart, 0.05);
        REQUIRE(result);
        const Footprint& tidied = result->chart.parts[0];
        for (std::size_t i = 0; i < drawn.pads.size(); ++i) {
            CHECK(geometry::outline_deviation(document::outline_in_part(drawn.pads[i]),
                                              document::outline_in_part(tidied.pads[i])) <= 0.05);
            CHECK(tidied.pads[i].turn.degrees() == 0.0);
            CHECK(tidied.pads[i].number == drawn.pads[i].number);
        }
        CHECK(has(result->steps, TidyKind::CommonSize, true));
        CHECK(has(result->steps, TidyKind::Row, true));
        CHECK(has(result->steps, TidyKind::Pitch, true));
        for (const analysis::TidyStep& step : result->steps)
            CHECK(step.taken == (step.deviation_mm <= 0.05));
    }
}

TEST_CASE("what is tidied is nearer to the true pattern than what was drawn") {
    const Footprint truth = *patterns::generate("soic-8");
    double drawn_error = 0.0;
    double tidied_error = 0.0;
    for (unsigned start = 1; start <= 20; ++start) {
        const Footprint drawn = shaky("soic-8", 0.012, start);
        const auto result = analysis::tidy(chart_of(drawn), 0.05);
        REQUIRE(result);
        for (std::size_t i = 0; i < truth.pads.size(); ++i) {
            drawn_error += geometry::distance(truth.pads[i].at, drawn.pads[i].at);
            tidied_error += geometry::distance(truth.pads[i].at, result->chart.parts[0].pads[i].at);
        }
    }
    CHECK(tidied_error < 0.8 * drawn_error);
}

TEST_CASE("the pitch of a row with an empty place is found by least squares") {
    Footprint part;
    for (const double x : {0.0, 0.5, 1.5, 2.0, 3.5}) { // pitch 0.5, own arithmetic
        Pad pad;
        pad.at = {x + (x == 1.5 ? 0.02 : 0.0), 0.0};
        pad.shape = {document::ShapeKind::Rectangle, 0.3, 0.8, {}};
        part.pads.push_back(pad);
    }
    const auto result = analysis::tidy(chart_of(part), 0.05);
    REQUIRE(result);
    const auto& pads = result->chart.parts[0].pads;
    const double pitch = pads[1].at.x - pads[0].at.x;
    CHECK(pitch == doctest::Approx(0.5).epsilon(0.01));
    CHECK(pads[2].at.x - pads[0].at.x == doctest::Approx(3 * pitch));
    CHECK(pads[4].at.x - pads[0].at.x == doctest::Approx(7 * pitch));
}

TEST_CASE("pads that nobody has put together are not bent to one row or pitch") {
    // Two parts side by side in one line: a pitch of 1.20 and one of 1.27 mm.
    Footprint heap;
    for (const double x : {0.0, 1.2, 2.4, 4.0, 5.27, 6.54}) {
        Pad pad;
        pad.at = {x, 0};
        pad.shape = {document::ShapeKind::Rectangle, 0.6, 0.6, {}};
        heap.pads.push_back(pad);
    }
    Chart chart = chart_of(heap);
    Footprint loose = chart.parts[0];
    loose.name.clear();
    chart.parts.replace(0, loose);
    const auto result = analysis::tidy(chart, 0.3);
    REQUIRE(result);
    for (const analysis::TidyStep& step : result->steps)
        CHECK((step.kind != TidyKind::Pitch && step.kind != TidyKind::Row));
    CHECK(result->chart.parts[0].pads[1].at.x == doctest::Approx(1.2));
}

TEST_CASE("free outlines become rectangles and circles where they are some") {
    Footprint part;
    Pad square;
    square.at = {0, 0};
    square.shape.kind = document::ShapeKind::Polygon;
    square.shape.points = {{-0.51, -0.25}, {0.5, -0.26}, {0.49, 0.25}, {0.02, 0.255}, {-0.5, 0.24}};
    Pad round;
    round.at = {3, 0.7};
    round.shape.kind = document::ShapeKind::Polygon;
    for (int k = 0; k < 24; ++k) {
        const double radius = 0.4 + (k % 2 == 0 ? 0.01 : -0.01);
        round.shape.points.push_back({radius * std::cos(k * 0.2617994), radius * std::sin(k * 0.2617994)});
    }
    Pad star = round;
    star.at = {6, -1.3};
    for (std::size_t k = 0; k < star.shape.points.size(); ++k)
        if (k % 6 == 0) star.shape.points[k] = star.shape.points[k] * 2.0;
    part.pads = {square, round, star};
    const auto result = analysis::tidy(chart_of(part), 0.05);
    REQUIRE(result);
    const auto& pads = result->chart.parts[0].pads;
    CHECK(pads[0].shape.kind == document::ShapeKind::Rectangle);
    CHECK(pads[0].shape.width_mm == doctest::Approx(1.0).epsilon(0.03));
    CHECK(pads[1].shape.kind == document::ShapeKind::Round);
    CHECK(pads[1].shape.width_mm == doctest::Approx(0.8).epsilon(0.03));
    CHECK(pads[2].shape.kind == document::ShapeKind::Polygon);
}

TEST_CASE("a step beyond the limit is listed and not taken") {
    Footprint part = *patterns::generate("soic-8");
    part.pads[0].at.y += 0.09;
    part.pads[1].shape.width_mm += 0.09;
    const auto result = analysis::tidy(chart_of(part), 0.05);
    REQUIRE(result);
    CHECK(has(result->steps, TidyKind::CommonSize, false) != has(result->steps, TidyKind::CommonSize, true));
    for (const analysis::TidyStep& step : result->steps)
        if (!step.taken) CHECK(step.words.find("beyond the limit") != std::string::npos);
    for (std::size_t i = 0; i < part.pads.size(); ++i)
        CHECK(geometry::outline_deviation(document::outline_in_part(part.pads[i]),
                                          document::outline_in_part(result->chart.parts[0].pads[i])) <= 0.05);
}

TEST_CASE("tidying twice changes nothing more and a regular part has no steps") {
    const auto once = analysis::tidy(chart_of(shaky("qfn-24-4040", 0.012)), 0.05);
    REQUIRE(once);
    const auto twice = analysis::tidy(once->chart, 0.05);
    REQUIRE(twice);
    for (std::size_t i = 0; i < once->chart.parts[0].pads.size(); ++i)
        CHECK(geometry::distance(once->chart.parts[0].pads[i].at, twice->chart.parts[0].pads[i].at) < 1e-6);
    const auto regular = analysis::tidy(chart_of(*patterns::generate("soic-8")), 0.05);
    REQUIRE(regular);
    CHECK(regular->steps.empty());
}

namespace {

Footprint turned(Footprint part, double degrees) {
    for (Pad& pad : part.pads) {
        pad.at = geometry::Affine::rotation(Angle::degrees(degrees))(pad.at);
        pad.turn = (pad.turn + Angle::degrees(degrees)).wrapped();
    }
    return part;
}

} // namespace

TEST_CASE("tidying again and again comes no farther off the drawing than the limit") {
    for (unsigned start = 1; start <= 8; ++start) {
        CAPTURE(start);
        const Footprint drawn = shaky("soic-8", 0.035, start);
        Chart chart = chart_of(drawn);
        for (int round = 0; round < 4; ++round) {
            const auto result = analysis::tidy(chart, 0.05);
            REQUIRE(result);
            chart = result->chart;
            for (std::size_t i = 0; i < drawn.pads.size(); ++i)
                CHECK(geometry::outline_deviation(document::outline_in_part(drawn.pads[i]),
                                                  document::outline_in_part(chart.parts[0].pads[i])) <= 0.05 + 1e-9);
            if (round > 0)
                CHECK(std::none_of(result->steps.begin(), result->steps.end(), [](const auto& s) { return s.taken; }));
        }
        // Drawn anew it is tidied anew.
        Footprint anew = drawn;
        anew.extras = chart.parts[0].extras;
        const auto first = analysis::tidy(chart_of(drawn), 0.05);
        const auto again = analysis::tidy(chart_of(anew), 0.05);
        REQUIRE(first);
        REQUIRE(again);
        CHECK(first->steps.size() == again->steps.size());
    }
}

TEST_CASE("pads of a part that lies askew are made straight along its own direction, all or none") {
    for (const double degrees : {3.0, -12.0, 40.0}) {
        CAPTURE(degrees);
        const Footprint drawn = turned(shaky("soic-8", 0.03), degrees);
        const auto result = analysis::tidy(chart_of(drawn), 0.05);
        REQUIRE(result);
        const std::vector<Pad>& pads = result->chart.parts[0].pads;
        for (std::size_t i = 0; i < pads.size(); ++i) {
            CHECK(std::abs(std::remainder(pads[i].turn.degrees() - degrees, 90.0)) < 0.3);
            CHECK(std::abs(std::remainder(pads[i].turn.degrees() - pads[0].turn.degrees(), 90.0)) < 1e-9);
            CHECK(geometry::outline_deviation(document::outline_in_part(drawn.pads[i]),
                                              document::outline_in_part(pads[i])) <= 0.05);
        }
        CHECK(has(result->steps, TidyKind::Square, true));
    }
    // One pad farther askew than the limit allows keeps the others as drawn.
    Footprint one_off = shaky("soic-8", 0.01);
    one_off.pads[2].turn = Angle::degrees(6.0);
    const auto left = analysis::tidy(chart_of(one_off), 0.05);
    REQUIRE(left);
    for (std::size_t i = 0; i < one_off.pads.size(); ++i)
        CHECK(left->chart.parts[0].pads[i].turn.degrees() == doctest::Approx(one_off.pads[i].turn.degrees()));
    for (const analysis::TidyStep& step : left->steps)
        CHECK(step.words.find("-0.0") == std::string::npos);
}

TEST_CASE("tidying that is told to stop gives no half of a chart") {
    const Chart chart = chart_of(shaky("soic-8", 0.012));
    std::stop_source stop;
    CHECK(analysis::tidy(chart, 0.05, {}, stop.get_token()));
    stop.request_stop();
    CHECK_FALSE(analysis::tidy(chart, 0.05, {}, stop.get_token()));
}

TEST_CASE("locked parts and patterns of a family are left alone and a chart without a scale is refused") {
    Chart chart = chart_of(shaky("soic-8", 0.012));
    const Chart locked = *document::set_locked(chart, std::vector{document::Id{"u1"}}, true);
    CHECK(analysis::tidy(locked, 0.05)->chart == locked);
    CHECK(analysis::tidy(locked, 0.05)->steps.empty());
    const std::vector<document::Id> other{{"u2"}};
    CHECK(analysis::tidy(chart, 0.05, other)->steps.empty());
    CHECK_FALSE(analysis::tidy(chart, 0.0));
    chart.scale.reset();
    CHECK_FALSE(analysis::tidy(chart, 0.05));
}
