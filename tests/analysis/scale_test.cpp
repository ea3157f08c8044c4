#include "analysis/scale.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <string>

using namespace padchart;
using analysis::ScaleErrors;

namespace {

/// A chip drawn `k` units per mm, turned, with its body where a hand put it.
document::Footprint drawn_chip(double length, double width, double turn = 0.0) {
    document::Footprint part;
    part.id = {"r1"};
    part.name = "R1";
    part.placement = {{3.0, 4.0}, Angle::degrees(turn), document::Side::Top};
    part.body = document::Body{{}, {}, {document::ShapeKind::Rectangle, length, width, {}}, {}};
    return part;
}

bool has(const Diagnostics& findings, std::string_view code) {
    for (const Diagnostic& finding : findings)
        if (finding.code == code) return true;
    return false;
}

} // namespace

TEST_CASE("two points give the scale and say how sure it is") {
    // 3-4-5 triangle, own arithmetic: 50 units are 20 mm, so a unit is 0.4 mm.
    const auto reading = analysis::scale_from_points({10, 10}, {40, 50}, 20.0, ScaleErrors{0.1, 0.05});
    REQUIRE(reading);
    CHECK(reading->scale.mm_per_unit == doctest::Approx(0.4));
    CHECK(reading->scale.source == document::ScaleSource::TwoPoints);
    // GUM 5.1.2: two clicks of 0.1 mm and a calliper of 0.05 mm are sqrt(0.0225) = 0.15 mm on 20 mm; own arithmetic.
    CHECK(reading->scale.relative_uncertainty == doctest::Approx(0.0075));
    CHECK(reading->scale.note == "20 mm between (10, 10) and (40, 50) as it was drawn then");
    // What is left of decimal fractions is no place.
    CHECK(analysis::scale_from_points({8.18e-07, 21.41234}, {-3e-9, 0.006}, 21.4, {})->scale.note ==
          "21.4 mm between (0, 21.41) and (0, 0.01) as it was drawn then");
    CHECK(reading->findings.empty());
}

TEST_CASE("points close together are used and called unsure") {
    const auto reading = analysis::scale_from_points({0, 0}, {2, 0}, 1.0);
    REQUIRE(reading);
    CHECK(has(reading->findings, "scale-unsure"));
}

TEST_CASE("points that coincide and distances that cannot be are refused") {
    CHECK_FALSE(analysis::scale_from_points({1, 1}, {1, 1}, 5.0));
    CHECK_FALSE(analysis::scale_from_points({0, 0}, {1, 1}, 0.0));
    CHECK_FALSE(analysis::scale_from_points({0, 0}, {1, 1}, -3.0));
    CHECK_FALSE(analysis::scale_from_points({0, 0}, {1, 1}, std::nan("")));
    CHECK_FALSE(analysis::scale_from_points({0, 0}, {1, 1}, 5.0, ScaleErrors{-0.1, 0.0}));
}

TEST_CASE("the stated uncertainty covers what clicks and callipers really do") {
    // A slow twin: the errors themselves, thrown as normal deviates; about 68 % must lie within one of them.
    std::mt19937 random(20260314);
    std::normal_distribution<double> click(0.0, 0.1);
    std::normal_distribution<double> calliper(0.0, 0.05);
    constexpr int kThrows = 4000;
    int within = 0;
    for (int i = 0; i < kThrows; ++i) {
        const geometry::Vec2 a{click(random), click(random)};
        const geometry::Vec2 b{20.0 + click(random), click(random)};
        const auto reading = analysis::scale_from_points(a, b, 20.0 + calliper(random), ScaleErrors{0.1, 0.05});
        REQUIRE(reading);
        if (std::abs(reading->scale.mm_per_unit - 1.0) <= reading->scale.relative_uncertainty) ++within;
    }
    // 68.3 % for a normal deviate; five standard errors of 4000 throws are 3.7 %.
    CHECK(within > kThrows * 0.646);
    CHECK(within < kThrows * 0.720);
}

TEST_CASE("a part of known size gives the scale whichever way it lies") {
    // 1608M is 1.6 x 0.8 mm, EIA and JEITA size code.
    const auto size = analysis::single_size("1608M");
    REQUIRE(size);
    for (const double turn : {0.0, 30.0, 90.0}) {
        const auto flat = analysis::scale_from_part(drawn_chip(16.0, 8.0, turn), **size, ScaleErrors{0.0, 0.0});
        const auto tall = analysis::scale_from_part(drawn_chip(8.0, 16.0, turn), **size, ScaleErrors{0.0, 0.0});
        REQUIRE(flat);
        REQUIRE(tall);
        CHECK(flat->scale.mm_per_unit == doctest::Approx(0.1));
        CHECK(tall->scale.mm_per_unit == doctest::Approx(0.1));
        CHECK(flat->findings.size() == 1); // "scale-unsure": a tolerance of 0.1 mm on 1.6 mm is much
    }
    // Tolerances of 0.1 mm on 1.6 and 0.8 mm are 1/16 and 1/8; weights 256 and 64; 1/sqrt(320) = 0.0559; own
    // arithmetic.
    const auto reading = analysis::scale_from_part(drawn_chip(16.0, 8.0), **size, ScaleErrors{0.0, 0.0});
    REQUIRE(reading);
    CHECK(reading->scale.relative_uncertainty == doctest::Approx(0.0559017));
    CHECK(reading->scale.note == "R1 as a 1608M (inch 0603), 1.6 x 0.8 mm ±0.1");
}

TEST_CASE("a body of the wrong shape for the size is a finding") {
    const auto size = analysis::single_size("3216M");
    REQUIRE(size);
    const auto good = analysis::scale_from_part(drawn_chip(3.25, 1.55), **size);
    REQUIRE(good);
    CHECK_FALSE(has(good->findings, "scale-part-shape"));
    const auto wrong = analysis::scale_from_part(drawn_chip(3.2, 2.5), **size);
    REQUIRE(wrong);
    CHECK(has(wrong->findings, "scale-part-shape"));
    // The two sides ask for 1 and 0.64 mm per unit: no less unsure than half of what lies between them.
    CHECK(wrong->scale.relative_uncertainty > 0.15);
}

TEST_CASE("a part without a body cannot give the scale") {
    document::Footprint part = drawn_chip(1, 1);
    part.body.reset();
    const auto size = analysis::single_size("1608M");
    REQUIRE(size);
    const auto reading = analysis::scale_from_part(part, **size);
    REQUIRE_FALSE(reading);
    CHECK(reading.error().message.find("R1 has no body") != std::string::npos);
}

TEST_CASE("a size code that can mean two parts is refused with both spelled out") {
    // Inch 0603 is 1608M; metric 0603M is inch 0201: EIA and JEITA codes.
    const auto size = analysis::single_size("0603");
    REQUIRE_FALSE(size);
    CHECK(size.error().message.find("1608M (inch 0603)") != std::string::npos);
    CHECK(size.error().message.find("0603M (inch 0201)") != std::string::npos);
    CHECK((*analysis::single_size("inch 0603"))->metric == "1608M");
}

TEST_CASE("two scales disagree only beyond what both allow together") {
    using document::Scale;
    using document::ScaleSource;
    const Scale a{1.0, ScaleSource::DocumentUnits, 0.03, "page", {}};
    // Own arithmetic: 3 % and 4 % allow 5 % together.
    CHECK_FALSE(analysis::disagreement(a, Scale{1.0 / 1.0499, ScaleSource::TwoPoints, 0.04, "points", {}}));
    const auto finding = analysis::disagreement(a, Scale{1.0 / 1.0501, ScaleSource::TwoPoints, 0.04, "points", {}});
    REQUIRE(finding);
    CHECK(finding->severity == Severity::Warning);
    CHECK(finding->message.find("page") != std::string::npos);
    CHECK(finding->message.find("points") != std::string::npos);
}

TEST_CASE("of several scales the surest is used and the others are held against it") {
    using document::Scale;
    using document::ScaleSource;
    const Diagnostic unsure{Severity::Warning, "scale-unsure", "6 %", {}, {}};
    const Diagnostic shape{Severity::Warning, "scale-part-shape", "too long", {}, {}};
    const std::array<analysis::ScaleReading, 3> readings{
        analysis::ScaleReading{Scale{1.0, ScaleSource::DocumentUnits, 0.01, "page", {}}, {}},
        analysis::ScaleReading{Scale{1.1, ScaleSource::TwoPoints, 0.005, "points", {}}, {}},
        analysis::ScaleReading{Scale{1.15, ScaleSource::KnownPart, 0.06, "part", {}}, {unsure, shape}}};
    const auto best = analysis::surest(readings);
    CHECK(best.scale.note == "points");
    REQUIRE(best.findings.size() == 2);
    CHECK(best.findings[0].message.find("page") != std::string::npos);
    CHECK(best.findings[1].code == "scale-part-shape");
}

TEST_CASE("a scale that does not agree is kept beside the one taken until another measurement settles it") {
    document::Chart chart;
    chart.scale = document::Scale{0.25, document::ScaleSource::DocumentUnits, 0.01, "page", {}};
    // Lengths in the chart's own millimetres: half of what the page says, so 0.125 mm a unit.
    const auto halved = analysis::put_to_scale(chart, {0.5, document::ScaleSource::TwoPoints, 0.01, "points", {}});
    REQUIRE(halved);
    REQUIRE(halved->chart.scale->overruled.size() == 1);
    CHECK(halved->chart.scale->overruled[0].note == "page");
    CHECK(halved->chart.scale->overruled[0].mm_per_unit == doctest::Approx(0.25));
    // A third that agrees with neither: both stay.
    const auto third = analysis::put_to_scale(halved->chart, {3.0, document::ScaleSource::KnownPart, 0.01, "R1", {}});
    REQUIRE(third);
    CHECK(third->chart.scale->overruled.size() == 2);
    // One that bears the points out settles it.
    const auto settled =
        analysis::put_to_scale(halved->chart, {1.002, document::ScaleSource::KnownPart, 0.01, "R1", {}});
    REQUIRE(settled);
    CHECK(settled->chart.scale->overruled.empty());
    // One that bears the page out leaves the points as the odd one: two against one, said once and settled.
    const auto back = analysis::put_to_scale(halved->chart, {2.0, document::ScaleSource::KnownPart, 0.005, "R1", {}});
    REQUIRE(back);
    CHECK(back->chart.scale->overruled.empty());
    CHECK(has(back->findings, "scale-settled"));
    CHECK_FALSE(has(back->findings, "scale-disagrees"));
    // One that bears the points out, but is rougher, leaves them in place and drops what stood against them.
    const auto borne_out =
        analysis::put_to_scale(halved->chart, {1.01, document::ScaleSource::KnownPart, 0.02, "R1", {}});
    REQUIRE(borne_out);
    CHECK(borne_out->factor == 1.0);
    CHECK(borne_out->chart.scale->note == "points");
    CHECK(borne_out->chart.scale->overruled.empty());
    CHECK(has(borne_out->findings, "scale-settled"));
    CHECK_FALSE(has(borne_out->findings, "scale-less-sure"));
    // Nor is it held back for being less sure than the odd one.
    const auto rough = analysis::put_to_scale(halved->chart, {2.0, document::ScaleSource::KnownPart, 0.03, "R1", {}});
    REQUIRE(rough);
    CHECK_FALSE(has(rough->findings, "scale-less-sure"));
    CHECK(rough->chart.scale->overruled.empty());
    // A page that is a guess, within half of everything, bears nothing out.
    document::Chart guessed = halved->chart;
    document::Scale unsure = *guessed.scale;
    unsure.overruled[0].relative_uncertainty = 0.5;
    guessed.scale = unsure;
    const auto alone = analysis::put_to_scale(guessed, {2.0, document::ScaleSource::KnownPart, 0.005, "R1", {}});
    REQUIRE(alone);
    REQUIRE(alone->chart.scale->overruled.size() == 1);
    CHECK(alone->chart.scale->overruled[0].note == "points");
    const analysis::ScaleReading both[] = {{{1.0, document::ScaleSource::TwoPoints, 0.005, "points", {}}, {}},
                                           {{1.2, document::ScaleSource::KnownPart, 0.01, "part", {}}, {}}};
    REQUIRE(analysis::surest(both).scale.overruled.size() == 1);
    CHECK(analysis::surest(both).scale.overruled[0].note == "part");
}

TEST_CASE("millimetres that a hand drew never speak against measured ones") {
    document::Chart chart;
    chart.scale = document::Scale{1.0, document::ScaleSource::Drawn, 0.0, "drawn by hand in mm", {}};
    const document::Scale measured{1.6, document::ScaleSource::TwoPoints, 0.03, "points", {}};
    const auto result = analysis::put_to_scale(chart, measured);
    REQUIRE(result);
    CHECK(result->findings.empty());
    CHECK(result->chart.scale->source == document::ScaleSource::TwoPoints);
    // The other way round it is held against what was measured.
    CHECK_FALSE(analysis::outranks(*chart.scale, measured));
    CHECK(analysis::disagreement(measured, *chart.scale));
    CHECK(analysis::scale_words(*chart.scale) == "1 unit = 1 mm: drawn by hand in mm");
}

TEST_CASE("a scale that was stated disagrees with a measured one like any other and stays on record") {
    document::Chart chart;
    document::Scale stated{0.05, document::ScaleSource::Drawn, 0.01, "stated on the command line", {}};
    stated.overruled = {{0.25, document::ScaleSource::DocumentUnits, 0.01, "page", {}}};
    chart.scale = stated;
    const auto result = analysis::put_to_scale(chart, {1.6, document::ScaleSource::TwoPoints, 0.03, "points", {}});
    REQUIRE(result);
    CHECK(has(result->findings, "scale-disagrees"));
    CHECK_FALSE(has(result->findings, "scale-less-sure")); // what was measured is never held back by it
    REQUIRE(result->chart.scale->overruled.size() == 2);
    CHECK(result->chart.scale->overruled[0].note == "stated on the command line");
    CHECK(result->chart.scale->overruled[1].note == "page");
    // Millimetres merely drawn in are dropped without a word, what was overruled before them is not.
    stated.relative_uncertainty = 0.0;
    chart.scale = stated;
    const auto over = analysis::put_to_scale(chart, {1.6, document::ScaleSource::TwoPoints, 0.03, "points", {}});
    REQUIRE(over);
    CHECK(over->findings.empty());
    REQUIRE(over->chart.scale->overruled.size() == 1);
    CHECK(over->chart.scale->overruled[0].note == "page");
}

TEST_CASE("a distance typed ten times too long does not make the right one look merely unsure") {
    document::Chart chart;
    chart.scale = document::Scale{1.0, document::ScaleSource::TwoPoints, 0.002, "70 mm between two points", {}};
    const auto right =
        analysis::put_to_scale(chart, {0.1, document::ScaleSource::TwoPoints, 0.02, "7 mm between two points", {}});
    REQUIRE(right);
    const auto less = std::find_if(right->findings.begin(), right->findings.end(),
                                   [](const Diagnostic& d) { return d.code == "scale-less-sure"; });
    REQUIRE(less != right->findings.end());
    CHECK(less->message.find("One of them is wrong") != std::string::npos);
}

TEST_CASE("putting a chart to scale multiplies its lengths and its former scale") {
    document::Chart chart;
    chart.scale = document::Scale{0.25, document::ScaleSource::DocumentUnits, 0.01, "page", {}};
    chart.parts.add(drawn_chip(2.0, 1.0));
    document::Note note;
    note.id = {"n1"};
    note.at = {10.0, 20.0};
    chart.notes.add(note);
    const document::Scale stated{0.5, document::ScaleSource::TwoPoints, 0.01, "points", {}};
    const auto result = analysis::put_to_scale(chart, stated);
    REQUIRE(result);
    CHECK(result->chart.scale->mm_per_unit == doctest::Approx(0.125));
    CHECK(result->chart.parts[0].body->shape.width_mm == doctest::Approx(1.0));
    CHECK(result->chart.parts[0].placement.at.x == doctest::Approx(1.5));
    CHECK(result->chart.notes[0].at.y == doctest::Approx(10.0));
    CHECK(has(result->findings, "scale-disagrees"));

    chart.scale.reset();
    const auto first = analysis::put_to_scale(chart, stated);
    REQUIRE(first);
    CHECK(first->chart.scale->mm_per_unit == doctest::Approx(0.5));
    CHECK(first->findings.empty());
}
