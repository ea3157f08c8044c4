// What is made of the turns: near answers, classes of parts, risk and records; rings, outlines, and parts without pads.

#include <doctest/doctest.h>

#include <numbers>

#include "analysis/fit.hpp"
#include "fit_patterns.hpp"
#include "patterns/family.hpp"
#include "patterns/table.hpp"

using namespace padchart;
using analysis::Consequence;
using analysis::exact_turns;
using analysis::fit_of;
using document::Footprint;
using document::PartClass;
using document::ShapeKind;
using test::pattern_named;
using test::written;

namespace {

/// Round lands on a ring, the first straight to the right.
Footprint ring(int lands, double radius, double diameter) {
    std::vector<test::LandSpec> specs;
    for (int i = 0; i < lands; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / lands;
        specs.push_back({radius * std::cos(angle), radius * std::sin(angle), diameter, diameter});
    }
    return test::lands(specs, ShapeKind::Round);
}

std::string risky(const char* pattern, PartClass part_class) {
    Footprint part = pattern_named(pattern);
    part.part_class = part_class;
    return written(fit_of(part, 0.02).risky_turns);
}

} // namespace

// Check values: the trade facts' own arithmetic from the stated coordinates.
TEST_CASE("A crystal of the 3225 size turns over at a tolerance of a quarter millimetre") {
    CHECK(written(exact_turns(pattern_named("23 crystal"), 0.24)) == "0 180");
    CHECK(written(exact_turns(pattern_named("23 crystal"), 0.26)) == "0 90 180 270");
}

TEST_CASE("A nearly square choke turns over at a tolerance of 0.15 mm") {
    CHECK(written(exact_turns(pattern_named("33 common"), 0.14)) == "0 180");
    CHECK(written(exact_turns(pattern_named("33 common"), 0.16)) == "0 90 180 270");
}

TEST_CASE("Turns that hang on the measuring are listed as near and only those") {
    CHECK(written(fit_of(pattern_named("8 SOIC"), 0.05).nearly_turns) == "");
    // At 90 its lands lie 0.15 beside each other in x and in y and share 0.275 x 0.275 of 0.18 mm2, 42 %. Half needs
    // them 0.125 beside each other: each of them 0.0125 off (own arithmetic).
    CHECK(written(fit_of(pattern_named("33 common"), 0.012).nearly_turns) == "");
    CHECK(written(fit_of(pattern_named("33 common"), 0.013).nearly_turns) == "90 270");
    // The exact answer changes within 0.05 +- 0.11 mm, since rows and columns differ by 0.15 mm.
    CHECK(written(exact_turns(pattern_named("33 common"), 0.05 + 0.11)) == "0 90 180 270");
    // One land of four is 0.04 mm off: exact at 0.05, not at 0.02.
    Footprint part = test::lands({{-2, 1, 1, 0.6}, {2, 1.04, 1, 0.6}, {-2, -1, 1, 0.6}, {2, -1, 1, 0.6}});
    CHECK(written(fit_of(part, 0.005).nearly_turns) == "");
    CHECK(written(fit_of(part, 0.03).nearly_turns) == "180");
}

TEST_CASE("A seat that just fails or just holds is near at an uncertainty of that size") {
    // At 180 two pairs of lands 1.0 wide lie 0.48 or 0.52 to either side of their common seat and are covered by 0.52
    // or 0.48. Two lands that are each 0.005 off lie 0.01 worse: 0.51 x 0.99 or 0.49 are still the same answer. Where
    // each is 0.03 off it is another one (own arithmetic).
    const auto column = [](double aside) {
        return test::lands({{0, 0, 1, 1}, {0.6 * aside, 2, 1, 1}, {0.4 * aside, 4, 1, 1}, {0, 6, 1, 1}});
    };
    CHECK(written(fit_of(column(0.96), 0.005).nearly_turns) == "");
    CHECK(written(fit_of(column(0.96), 0.03).nearly_turns) == "180");
    CHECK(written(fit_of(column(1.04), 0.005).nearly_turns) == "");
    CHECK(written(fit_of(column(1.04), 0.03).nearly_turns) == "180");
}

TEST_CASE("Risky turns are those that seat less those harmless for the part") {
    CHECK(risky("1 chip", PartClass::Resistor) == "");
    CHECK(risky("1 chip", PartClass::CeramicCapacitor) == "");
    CHECK(risky("1 chip", PartClass::TantalumCapacitor) == "180");
    CHECK(risky("29 aluminium", PartClass::AluminiumCapacitor) == "180");
    CHECK(risky("1 chip", PartClass::Diode) == "180");
    CHECK(risky("1 chip", PartClass::Led) == "180");
    CHECK(risky("2 SOT-23", PartClass::Transistor) == "");
    CHECK(risky("8 SOIC-8", PartClass::IntegratedCircuit) == "180");
    CHECK(risky("12 QFN-16", PartClass::IntegratedCircuit) == "90 180 270");
    CHECK(risky("16 BGA", PartClass::IntegratedCircuit) == "90 180 270");
    CHECK(risky("23 crystal", PartClass::Crystal) == "90 270");
    CHECK(risky("23 crystal", PartClass::Oscillator) == "90 180 270");
    CHECK(risky("26 board", PartClass::BoardConnector) == "180");
    CHECK(risky("25 isolated", PartClass::ArrayIsolated) == "");
    CHECK(risky("25 isolated", PartClass::ArrayCommon) == "180");
    CHECK(risky("28 card", PartClass::CardSocket) == "");
    // Without a shift 180 only; 0.05 mm to the side the quarter turns seat as well.
    CHECK(risky("5 SOT-143", PartClass::Transistor) == "90 180 270");
}

TEST_CASE("A turn that would seat with the lands where they may be as well is risky and told as unsure") {
    // Half covered at 90 with each land 0.0125 mm off: see the near turns above.
    Footprint part = pattern_named("33 common");
    part.part_class = PartClass::CommonModeChoke;
    CHECK(written(fit_of(part, 0.012).risky_turns) == "");
    const analysis::PartFit fit = fit_of(part, 0.013);
    CHECK(written(fit.seating_turns) == "0 180");
    CHECK(written(fit.risky_turns) == "90 270");
    CHECK(written(fit.unsure_turns) == "90 270");
    CHECK(fit.needs_record);
    CHECK(analysis::risk_in_words(fit) == "may also seat turned by 90 and 270 degrees");
    part.part_class = PartClass::Unknown;
    const analysis::PartFit unknown = fit_of(part, 0.013);
    CHECK(written(unknown.risky_turns) == "90 180 270");
    CHECK(written(analysis::sure_risks(unknown)) == "180");
    CHECK(analysis::risk_in_words(unknown) == "also seats turned by 180 degrees, and may by 90 and 270");
    // Lands that lie well apart stay safe.
    CHECK(risky("2 SOT-23", PartClass::Transistor) == "");
}

TEST_CASE("By the exact test alone the crystal is safe and the oscillator is not") {
    const std::vector<double> exact = exact_turns(pattern_named("23 crystal"));
    Footprint crystal;
    crystal.part_class = PartClass::Crystal;
    CHECK(written(exact) == written(analysis::harmless_turns(crystal)));
    Footprint oscillator;
    oscillator.part_class = PartClass::Oscillator;
    CHECK(written(analysis::harmless_turns(oscillator)) == "0");
}

TEST_CASE("A part's own list of harmless turns wins over its class and always holds 0") {
    Footprint part = pattern_named("1 chip");
    part.part_class = PartClass::Diode;
    part.harmless_turns_deg = {-180.0};
    CHECK(written(analysis::harmless_turns(part)) == "0 180");
    CHECK(written(fit_of(part, 0.02).risky_turns) == "");
    part.part_class = PartClass::Resistor;
    part.harmless_turns_deg = {360.0};
    CHECK(written(fit_of(part, 0.02).risky_turns) == "180");
}

TEST_CASE("Every class of part has a row that says what a wrong turn does") {
    const patterns::Table& table = patterns::table("part_classes");
    CHECK(table.size() == document::words<PartClass>().size());
    for (const auto& word : document::words<PartClass>()) {
        CAPTURE(word.text);
        const auto row = table.find("part_class", word.text);
        REQUIRE(row);
        CHECK(table.text(*row, "standing") != "");
        CHECK(table.text(*row, "source") != "");
        Footprint part;
        part.part_class = word.value;
        CHECK(analysis::harmless_turns(part).front() == 0.0);
    }
}

TEST_CASE("What a wrong turn does is graded by class") {
    // Common practice, no source.
    CHECK(analysis::consequence_of(PartClass::Resistor) == Consequence::NoEffect);
    CHECK(analysis::consequence_of(PartClass::Inductor) == Consequence::WorksLessWell);
    CHECK(analysis::consequence_of(PartClass::Led) == Consequence::DoesNotWork);
    CHECK(analysis::consequence_of(PartClass::Filter) == Consequence::DoesNotWork);
    CHECK(analysis::consequence_of(PartClass::Oscillator) == Consequence::Damage);
    CHECK(analysis::consequence_of(PartClass::EsdArray) == Consequence::Damage);
    CHECK(analysis::consequence_of(PartClass::TantalumCapacitor) == Consequence::Hazard);
    CHECK(analysis::consequence_of(PartClass::CellHolder) == Consequence::Hazard);
    CHECK(analysis::consequence_of(PartClass::Unknown) == Consequence::Damage);
}

TEST_CASE("A part of unknown class has no harmless turn but 0") {
    CHECK(risky("1 chip", PartClass::Unknown) == "180");
}

TEST_CASE("A record counts when a mark is on it and a look without a find is told apart") {
    Footprint part = pattern_named("8 SOIC");
    part.part_class = PartClass::IntegratedCircuit;
    CHECK(fit_of(part, 0.02).needs_record);
    CHECK_FALSE(fit_of(part, 0.02).has_record);
    CHECK_FALSE(fit_of(part, 0.02).looked_no_mark);
    part.orientation.state = document::RecordState::NoMark;
    CHECK_FALSE(fit_of(part, 0.02).has_record);
    CHECK(fit_of(part, 0.02).looked_no_mark);
    part.orientation.state = document::RecordState::Recorded;
    CHECK(fit_of(part, 0.02).has_record);
    CHECK_FALSE(fit_of(part, 0.02).looked_no_mark);
}

TEST_CASE("Without pads nothing is claimed and the report says that it is not complete") {
    Footprint part;
    part.part_class = PartClass::TantalumCapacitor;
    analysis::PartFit fit = fit_of(part, 0.02);
    CHECK(written(fit.exact_turns) == "0");
    CHECK(written(fit.seating_turns) == "0");
    CHECK_FALSE(fit.needs_record);
    CHECK_FALSE(fit.is_complete);

    part = pattern_named("1 chip");
    CHECK(fit_of(part, 0.02).is_complete);
    part.stated_pad_count = 4;
    CHECK_FALSE(fit_of(part, 0.02).is_complete);
}

TEST_CASE("Copper drawn twice or in pieces that lie on each other is one land") {
    Footprint part = pattern_named("12 QFN");
    const analysis::PartFit once = fit_of(part, 0.02);
    part.pads.push_back(part.pads.front());
    part.pads.push_back(part.pads.back());
    const analysis::PartFit twice = fit_of(part, 0.02);
    CHECK(written(twice.seating_turns) == written(once.seating_turns));
    CHECK(written(twice.exact_turns) == written(once.exact_turns));
    CHECK(twice.joined_pads == 2);
    CHECK(once.joined_pads == 0);
    CHECK(twice.is_complete);
    // A land of 2 x 1 mm drawn as two that share two thirds of each.
    const Footprint whole = test::lands({{-1.5, 0, 2, 1}, {1.5, 0, 2, 1}});
    const Footprint pieces = test::lands({{-1.75, 0, 1.5, 1}, {-1.25, 0, 1.5, 1}, {1.5, 0, 2, 1}});
    CHECK(written(fit_of(pieces, 0.02).seating_turns) == "0 180");
    CHECK(written(exact_turns(pieces)) == written(exact_turns(whole)));
}

TEST_CASE("Pads without area or with broken numbers are left out and noticed") {
    Footprint part = pattern_named("1 chip");
    const std::string before = written(fit_of(part, 0.02).seating_turns);
    document::Pad flat;
    flat.at = {7.0, 7.0};
    flat.shape = {ShapeKind::Rectangle, 0.0, 1.0, {}};
    part.pads.push_back(flat);
    flat.shape = {ShapeKind::Polygon, 0.0, 0.0, {{0, 0}, {1, 0}, {2, 0}}};
    part.pads.push_back(flat);
    flat.shape = {ShapeKind::Rectangle, 1.0, 1.0, {}};
    flat.at.x = std::numeric_limits<double>::quiet_NaN();
    part.pads.push_back(flat);
    const analysis::PartFit fit = fit_of(part, 0.02);
    CHECK(written(fit.seating_turns) == before);
    CHECK_FALSE(fit.is_complete);
}

TEST_CASE("Lands on a ring turn by the ring's own steps") {
    // n equal lands evenly on a circle: n turns, a multiple of 360 / n (elementary geometry).
    CHECK(written(exact_turns(ring(3, 2.0, 0.5))) == "0 120 240");
    CHECK(written(exact_turns(ring(5, 2.0, 0.5))) == "0 72 144 216 288");
    CHECK(written(exact_turns(ring(6, 2.0, 0.5))) == "0 60 120 180 240 300");
    CHECK(written(exact_turns(ring(8, 2.0, 0.5))) == "0 45 90 135 180 225 270 315");
    CHECK(written(fit_of(ring(6, 2.0, 0.5), 0.02).seating_turns) == "0 60 120 180 240 300");
    Footprint with_centre = ring(6, 2.0, 0.5);
    with_centre.pads.push_back(with_centre.pads.front());
    with_centre.pads.back().at = {0.0, 0.0};
    CHECK(written(exact_turns(with_centre)) == "0 60 120 180 240 300");
}

TEST_CASE("A ring with one land missing or of another size has no turn but 0") {
    Footprint part = ring(6, 2.0, 0.5);
    part.pads.pop_back();
    CHECK(written(fit_of(part, 0.02).seating_turns) == "0");
    part = ring(6, 2.0, 0.5);
    part.pads.front().shape.width_mm = part.pads.front().shape.height_mm = 0.6;
    CHECK(written(exact_turns(part)) == "0");
    CHECK(written(fit_of(part, 0.02).seating_turns) == "0 60 120 180 240 300");
}

TEST_CASE("A round land is not the match of a square one but may well be soldered to it") {
    Footprint part = pattern_named("21 wafer");
    part.pads.front().shape.kind = ShapeKind::Rectangle;
    const analysis::PartFit fit = fit_of(part, 0.02);
    CHECK(written(fit.exact_turns) == "0");
    CHECK(written(fit.seating_turns) == "0 90 180 270");
}

TEST_CASE("A ring land lies on itself at every turn, wherever its outline goes in to the hole") {
    const Result<Footprint> hole = patterns::generate("mounting-hole-2");
    REQUIRE(hole);
    CHECK(written(exact_turns(*hole)) == "0 90 180 270");
}

TEST_CASE("A chamfered land breaks the exact match and does not stop a wrong turn") {
    Footprint part = pattern_named("12 QFN");
    // The chamfer of 0.3 mm takes 0.045 of 2.56 mm2 (own arithmetic).
    part.pads.back().shape = {
        ShapeKind::Polygon, 0.0, 0.0, {{-0.5, -0.8}, {0.8, -0.8}, {0.8, 0.8}, {-0.8, 0.8}, {-0.8, -0.5}}};
    const analysis::PartFit fit = fit_of(part, 0.02);
    CHECK(written(fit.exact_turns) == "0");
    CHECK(written(fit.seating_turns) == "0 90 180 270");
}

TEST_CASE("A pattern whose mirror image finds no seat is told from one whose does") {
    CHECK(fit_of(pattern_named("8 SOIC"), 0.02).mirrored_seats);
    CHECK(fit_of(pattern_named("2 SOT-23"), 0.02).mirrored_seats);
    const Footprint one_handed = test::lands({{0, 0, 0.5, 0.5}, {3, 0, 0.5, 0.5}, {0, 1.5, 0.5, 0.5}});
    CHECK_FALSE(fit_of(one_handed, 0.02).mirrored_seats);
}

TEST_CASE("The measuring uncertainty follows the scale and never falls below its floor") {
    document::Chart chart;
    CHECK_FALSE(analysis::fit(chart).has_scale);
    CHECK(analysis::measuring_uncertainty(chart) == analysis::kLeastUncertainty_mm);
    chart.parts.add(pattern_named("29 aluminium"));
    chart.scale = document::Scale{};
    CHECK(analysis::measuring_uncertainty(chart) == analysis::kLeastUncertainty_mm);
    // Two pads 3.0 mm long, right within 5 %: 0.15 mm (own arithmetic).
    chart.scale->relative_uncertainty = 0.05;
    CHECK(analysis::measuring_uncertainty(chart) == doctest::Approx(0.15));
    CHECK(analysis::fit(chart).uncertainty_mm == doctest::Approx(0.15));
}
