#include "patterns/fit_pattern.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <string>

#include "patterns/least_squares.hpp"
#include "support.hpp"

using namespace padchart;
using namespace padchart::patterns;
using document::Footprint;
using document::Pad;
using geometry::Affine;
using geometry::Vec2;

namespace {

/// The lands as a hand would have traced them elsewhere on the page: moved, turned, in another order.
std::vector<Pad> traced(const Footprint& part, Vec2 at, Angle turn, unsigned seed = 1, double jitter_mm = 0.0) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> off(-jitter_mm, jitter_mm);
    const Affine map = Affine::translation(at) * Affine::rotation(turn);
    std::vector<Pad> pads = part.pads;
    for (Pad& pad : pads) {
        pad.at = map(pad.at);
        if (jitter_mm > 0.0) pad.at += Vec2{off(random), off(random)};
        pad.turn = pad.turn + turn;
    }
    std::shuffle(pads.begin(), pads.end(), random);
    return pads;
}

std::vector<Pad> without_numbers(std::vector<Pad> pads) {
    for (Pad& pad : pads)
        pad.number.clear();
    return pads;
}

PatternFit fitted(std::string_view key, const std::vector<Pad>& pads) {
    const Result<PatternFit> fit = fit_family(*find_family(key), pads);
    if (!fit) FAIL(std::string(key) << ": " << describe(fit.error()));
    return *fit;
}

/// Every traced land is covered by the placed pattern's partner, corner by corner of their boxes.
void check_covers(const PatternFit& fit, const std::vector<Pad>& pads, double within_mm) {
    const Result<Footprint> pattern = pattern_of(fit);
    REQUIRE(pattern.has_value());
    const Affine map = Affine::translation(fit.at) * Affine::rotation(fit.turn);
    REQUIRE(fit.pattern_pad.size() == pads.size());
    for (std::size_t i = 0; i < pads.size(); ++i) {
        const Pad& partner = pattern->pads[fit.pattern_pad[i]];
        const geometry::Box there = geometry::bounds(geometry::transformed(outline_in_part(partner), map));
        const geometry::Box here = geometry::bounds(outline_in_part(pads[i]));
        CHECK(geometry::distance(there.min, here.min) < within_mm);
        CHECK(geometry::distance(there.max, here.max) < within_mm);
    }
}

double parameter(const PatternFit& fit, std::string_view key) {
    const Family& family = *find_family(fit.family);
    for (std::size_t i = 0; i < family.parameters.size(); ++i)
        if (family.parameters[i].key == key) return fit.parameters[i];
    FAIL("no such parameter");
    return 0.0;
}

bool suggests(const std::vector<Pad>& pads, std::string_view key, std::size_t within) {
    const std::vector<PatternFit> fits = suggest_families(pads, within);
    return std::any_of(fits.begin(), fits.end(), [&](const PatternFit& fit) { return fit.family == key; });
}

} // namespace

TEST_CASE("a few unknowns are found from many equations") {
    LeastSquares equations(2); // y = 2 x + 1
    for (int x = 0; x < 5; ++x)
        equations.add(std::vector<double>{static_cast<double>(x), 1.0}, 2.0 * x + 1.0, 1.0 + x);
    const std::vector<double> answer = equations.solve();
    CHECK(answer[0] == doctest::Approx(2.0));
    CHECK(answer[1] == doctest::Approx(1.0));
}

TEST_CASE("every family fits its own lands wherever they lie") {
    for (const Family& family : families()) {
        const Footprint part = test::pattern(family.key);
        if (part.pads.size() > 100) continue; // the same layouts with more lands
        CAPTURE(family.key);
        const std::vector<Pad> pads = traced(part, {12.3, -4.5}, Angle::degrees(27));
        const PatternFit fit = fitted(family.key, pads);
        CHECK(fit.rms_mm < 1e-4);
        CHECK(fit.max_mm < 1e-4);
        CHECK(fit.as_is_rms_mm < 0.01);
        CHECK(geometry::distance(fit.at, {12.3, -4.5}) < 0.001);
        const auto numbered =
            std::count_if(pads.begin(), pads.end(), [](const Pad& pad) { return !pad.number.empty(); });
        CHECK(fit.numbers_agreeing == numbered);
        if (numbered > 1) CHECK(std::abs((fit.turn - Angle::degrees(27)).signed_turn().degrees()) < 0.01);
        check_covers(fit, pads, 0.01);
    }
}

TEST_CASE("lands without numbers are fitted as well and turned least") {
    for (const std::string key : {"soic-8", "qfn-16-3030", "chip-1608M", "bga-64-0.8", "crystal-4-3225"}) {
        CAPTURE(key);
        const std::vector<Pad> pads = without_numbers(traced(test::pattern(key), {3, 3}, Angle::degrees(12)));
        const PatternFit fit = fitted(key, pads);
        CHECK(fit.rms_mm < 1e-4);
        CHECK(fit.turn.degrees() == doctest::Approx(12.0));
        check_covers(fit, pads, 0.01);
    }
}

TEST_CASE("other measures of the same family are found") {
    const Family& family = *find_family("soic-8");
    std::vector<double> values = test::with(family, "pitch_mm", 1.0);
    values[5] = 4.4; // row spacing
    values[6] = 1.2; // land length
    const Footprint part = *generate(family, values);
    const PatternFit fit = fitted("soic-8", traced(part, {1, 2}, Angle::degrees(90)));
    CHECK(parameter(fit, "pitch_mm") == doctest::Approx(1.0).epsilon(1e-4));
    CHECK(parameter(fit, "row_spacing_mm") == doctest::Approx(4.4).epsilon(1e-4));
    CHECK(parameter(fit, "land_length_mm") == doctest::Approx(1.2).epsilon(1e-4));
    CHECK(fit.rms_mm < 1e-4);
    CHECK(fit.as_is_rms_mm > 0.3);
}

TEST_CASE("counts follow the lands and the body grows with them") {
    const Footprint part = test::pattern("soic-14");
    const PatternFit fit = fitted("soic-8", traced(part, {0, 0}, Angle::degrees(0)));
    CHECK(parameter(fit, "pins") == 14.0);
    CHECK(fit.rms_mm < 1e-4);
    CHECK(parameter(fit, "body_length_mm") == doctest::Approx(4.9 + 3 * 1.27));
    const PatternFit quad = fitted("qfn-16-3030", traced(test::pattern("qfn-24-4040"), {0, 0}, Angle::degrees(0)));
    CHECK(parameter(quad, "side_pins") == 6.0);
    CHECK(parameter(quad, "spacing_x_mm") == doctest::Approx(3.9).epsilon(1e-4));
}

TEST_CASE("a quad without its centre land is fitted without one") {
    std::vector<Pad> pads = traced(test::pattern("qfn-16-3030"), {0, 0}, Angle::degrees(0));
    pads.erase(std::find_if(pads.begin(), pads.end(), [](const Pad& pad) { return pad.number == "17"; }));
    const PatternFit fit = fitted("qfn-16-3030", pads);
    CHECK(parameter(fit, "centre_width_mm") == 0.0);
    CHECK(fit.rms_mm < 1e-4);
}

TEST_CASE("missing balls become omitted places") {
    const Family& family = *find_family("bga-64-0.8");
    const Footprint part = *generate(family, *with_omitted(family, {}, "A1 C3 H7"));
    const std::vector<Pad> pads = traced(part, {5, 5}, Angle::degrees(-20));
    const PatternFit fit = fitted("bga-64-0.8", pads);
    CHECK(fit.rms_mm < 1e-4);
    CHECK(fit.numbers_agreeing == 61);
    const Footprint made = *pattern_of(fit);
    CHECK(made.pads.size() == 61);
    CHECK(std::none_of(made.pads.begin(), made.pads.end(), [](const Pad& pad) { return pad.number == "C3"; }));
    check_covers(fit, pads, 0.01);
}

TEST_CASE("what a hand traces badly is left over as residual") {
    // Own arithmetic: offsets even in +-0.05 mm have a root mean square of 0.05 sqrt(2/3) = 0.041 mm in the plane.
    const std::vector<Pad> pads = traced(test::pattern("qfp-48"), {7, 7}, Angle::degrees(33), 5, 0.05);
    const PatternFit fit = fitted("qfp-48", pads);
    CHECK(fit.rms_mm > 0.03);
    CHECK(fit.rms_mm < 0.05);
    CHECK(fit.max_mm < 0.09);
    CHECK(std::abs(parameter(fit, "pitch_mm") - 0.5) < 0.005);
    CHECK(std::abs(fit.turn.degrees() - 33.0) < 0.3);
    CHECK(geometry::distance(fit.at, {7, 7}) < 0.02);
}

TEST_CASE("a fit is no worse than keeping the true measures") {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        const Footprint part = test::pattern("soic-8");
        const std::vector<Pad> pads = traced(part, {0, 0}, Angle::degrees(0), seed, 0.08);
        double sum = 0.0;
        for (const Pad& pad : pads) {
            const Vec2 off = pad.at - test::pad(part, pad.number).at;
            sum += dot(off, off);
        }
        CHECK(fitted("soic-8", pads).rms_mm <= std::sqrt(sum / 8.0) + 1e-3);
    }
}

TEST_CASE("lands that cannot be of the family are refused") {
    const std::vector<Pad> three = traced(test::pattern("sot-23"), {0, 0}, Angle::degrees(0));
    CHECK(!fit_family(*find_family("soic-8"), three));
    CHECK(!fit_family(*find_family("chip-1608M"), three));
    CHECK(!fit_family(*find_family("soic-8"), std::vector<Pad>{}));
    std::vector<Pad> bad = three;
    bad[0].at.x = std::numeric_limits<double>::quiet_NaN();
    CHECK(!fit_family(*find_family("sot-23"), bad));
    CHECK(suggest_families(bad).empty());
}

TEST_CASE("suggestions begin with the family the lands came from") {
    for (const std::string key :
         {"chip-1608M", "chip-0402M", "sot-23", "sot-23-5", "soic-8", "tssop-14", "qfn-32-5050", "qfp-48", "bga-64-0.8",
          "tantalum-7343-31", "to-252", "leadless-3-1006", "card-socket-8", "microphone-3526", "wafer-level-2-1-2"}) {
        CAPTURE(key);
        const std::vector<Pad> pads = without_numbers(traced(test::pattern(key), {2, 1}, Angle::degrees(64), 3, 0.01));
        CHECK(suggests(pads, key, 3));
    }
}

TEST_CASE("suggestions are ordered and limited") {
    const std::vector<Pad> pads = traced(test::pattern("chip-2012M"), {0, 0}, Angle::degrees(0));
    const std::vector<PatternFit> fits = suggest_families(pads, 4);
    REQUIRE(fits.size() == 4);
    CHECK(fits.front().family == "chip-2012M");
    CHECK(fits[1].as_is_rms_mm <= fits[3].as_is_rms_mm);
}

TEST_CASE("the pattern goes where the traced part lay") {
    const Footprint pattern = test::pattern("soic-8");
    for (const document::Side side : {document::Side::Top, document::Side::Bottom}) {
        Footprint part;
        part.pads = traced(pattern, {1.5, 0.5}, Angle::degrees(40));
        part.placement = {{20, 10}, Angle::degrees(15), side};
        const PatternFit fit = fitted("soic-8", part.pads);
        Footprint placed = *pattern_of(fit);
        placed.placement = placement_of(part, fit);
        CHECK(placed.placement.side == side);
        for (std::size_t i = 0; i < part.pads.size(); ++i) {
            const geometry::Box a = geometry::bounds(outline_on_board(part, part.pads[i]));
            const geometry::Box b = geometry::bounds(outline_on_board(placed, placed.pads[fit.pattern_pad[i]]));
            CHECK(geometry::distance(a.min, b.min) < 0.01);
            CHECK(geometry::distance(a.max, b.max) < 0.01);
        }
    }
}

TEST_CASE("lands traced twice in one place or scattered by chance break nothing") {
    std::vector<Pad> twice = traced(test::pattern("bga-36-0.5"), {0, 0}, Angle::degrees(0));
    twice.push_back(twice.front());
    twice.back().at.x += 1e-13;
    for (const PatternFit& fit : suggest_families(twice))
        CHECK(fit.pattern_pad.size() == twice.size());
    std::mt19937 random(11);
    std::uniform_real_distribution<double> place(-5.0, 5.0);
    for (int round = 0; round < 30; ++round) {
        std::vector<Pad> pads(static_cast<std::size_t>(1 + round % 12));
        for (Pad& pad : pads) {
            pad.at = {place(random), place(random)};
            pad.shape = {document::ShapeKind::Rectangle, 0.3, 0.2, {}};
        }
        for (const PatternFit& fit : suggest_families(pads)) {
            CHECK(fit.rms_mm <= 0.15);
            CHECK(std::isfinite(fit.turn.degrees()));
            CHECK(pattern_of(fit).has_value());
        }
    }
}
