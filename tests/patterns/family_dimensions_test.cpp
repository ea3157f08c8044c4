// The lands of the families against published and handbook measures. Z, G, X, Y, C as the handbooks name them.

#include <doctest/doctest.h>

#include <cmath>

#include "geometry/polygon.hpp"
#include "patterns/land_formula.hpp"
#include "support.hpp"

using namespace padchart;
using namespace padchart::patterns;
using document::Footprint;
using document::Pad;
using geometry::Vec2;

namespace {

struct Row {
    const char* family;
    double outer, gap, width;
};

void check_two_lands(const Row& row) {
    CAPTURE(row.family);
    const Footprint part = test::pattern(row.family);
    const Pad& left = test::pad(part, "1");
    const Pad& right = test::pad(part, "2");
    CHECK(right.at.x + right.shape.width_mm / 2 - (left.at.x - left.shape.width_mm / 2) == doctest::Approx(row.outer));
    CHECK(right.at.x - right.shape.width_mm / 2 - (left.at.x + left.shape.width_mm / 2) == doctest::Approx(row.gap));
    CHECK(left.shape.height_mm == doctest::Approx(row.width));
    CHECK(left.shape == right.shape);
}

double pitch(const Footprint& part, const char* a, const char* b) {
    return geometry::distance(test::pad(part, a).at, test::pad(part, b).at);
}

} // namespace

// IPC-SM-782A registered land patterns, from memory.
TEST_CASE("chip lands are the handbook's from 1608M on") {
    for (const Row& row : {Row{"chip-1608M", 2.80, 0.60, 1.00}, Row{"chip-2012M", 3.20, 0.60, 1.50},
                           Row{"chip-3216M", 4.40, 1.20, 1.80}, Row{"chip-3225M", 4.40, 1.20, 2.70},
                           Row{"chip-5025M", 6.20, 2.60, 2.70}, Row{"chip-6332M", 7.40, 3.80, 3.20}})
        check_two_lands(row);
}

// Common practice of dense boards, no source.
TEST_CASE("small chip lands are those of dense boards") {
    check_two_lands({"chip-0402M", 0.58, 0.18, 0.20});
    check_two_lands({"chip-0603M", 0.88, 0.28, 0.30});
    check_two_lands({"chip-1005M", 1.35, 0.45, 0.50});
}

// A published land pattern table.
TEST_CASE("diode lands are the published ones") {
    for (const Row& row :
         {Row{"sod-123", 4.90, 2.50, 0.70}, Row{"sod-323", 3.75, 1.05, 0.65}, Row{"sod-523", 2.30, 1.10, 0.80},
          Row{"do-214ac", 6.5, 1.5, 1.7}, Row{"do-214aa", 6.8, 1.8, 2.3}, Row{"do-214ab", 9.4, 4.4, 3.3},
          Row{"melf", 6.3, 3.3, 2.7}, Row{"mini-melf", 4.7, 2.1, 1.7}, Row{"leadless-2-1006", 1.1, 0.3, 0.7}})
        check_two_lands(row);
}

// IPC-SM-782A, from memory; cases and heights EIA-535BAAC: the number after the dash is the largest height in tenths.
TEST_CASE("tantalum lands and heights are those of their case") {
    for (const Row& row : {Row{"tantalum-3216-18", 4.80, 0.80, 1.20}, Row{"tantalum-3528-21", 5.00, 1.00, 2.20},
                           Row{"tantalum-6032-28", 7.60, 2.40, 2.20}, Row{"tantalum-7343-31", 9.00, 3.80, 2.40}})
        check_two_lands(row);
    for (const Family& family : families()) {
        if (!family.key.starts_with("tantalum-")) continue;
        const double tenths = std::stod(std::string(family.key.substr(family.key.rfind('-') + 1)));
        CHECK(*test::pattern(family.key).body->height_mm == doctest::Approx(tenths / 10.0));
    }
    CHECK(test::pattern("tantalum-7343-31").body->shape.width_mm == doctest::Approx(7.3));
    CHECK(test::pattern("tantalum-7343-31").body->shape.height_mm == doctest::Approx(4.3));
}

// Land length and spacing follow from Z and G: own arithmetic.
TEST_CASE("length and spacing follow from span and gap") {
    CHECK(LandSpan{2.80, 0.60, 1.0}.length() == doctest::Approx(1.10));
    CHECK(LandSpan{2.80, 0.60, 1.0}.spacing() == doctest::Approx(1.70));
    CHECK(LandSpan{3.75, 1.05, 0.65}.length() == doctest::Approx(1.35));
    CHECK(LandSpan{3.75, 1.05, 0.65}.spacing() == doctest::Approx(2.40));
    CHECK(pitch(test::pattern("chip-1608M"), "1", "2") == doctest::Approx(1.70));
    CHECK(pitch(test::pattern("sod-323"), "1", "2") == doctest::Approx(2.40));
}

// Formula of IPC-7351, from memory; the numbers are own arithmetic with it.
TEST_CASE("the land formula gives the worked examples") {
    const LandSpan large = land_span({{1.50, 1.70}, {0.10, 0.50}, {0.70, 0.90}}, {0.35, 0.0, 0.0});
    CHECK(large.outer == doctest::Approx(2.41).epsilon(0.003));
    CHECK(large.gap == doctest::Approx(0.70).epsilon(0.01));
    CHECK(large.width == doctest::Approx(0.91).epsilon(0.01));
    const LandSpan small = land_span({{0.95, 1.05}, {0.15, 0.35}, {0.45, 0.55}}, {0.20, 0.0, 0.0});
    CHECK(std::abs(small.outer - 1.46) < 0.01);
    CHECK(std::abs(small.gap - 0.34) < 0.01);
    CHECK(std::abs(small.width - 0.56) < 0.01);
}

TEST_CASE("chip lands without a handbook row are those of the formula") {
    const auto check = [](const char* family, const TerminalMeasures& part, double toe) {
        const LandSpan span = land_span(part, {toe, 0.0, 0.0});
        CAPTURE(family);
        const std::vector<double> values = test::pattern(family).family_parameters;
        CHECK(std::abs(values[3] - span.outer) < 0.011);
        CHECK(std::abs(values[4] - span.gap) < 0.011);
        CHECK(std::abs(values[5] - span.width) < 0.011);
    };
    check("chip-4532M", {{4.3, 4.7}, {0.3, 0.9}, {3.0, 3.4}}, 0.35);
    check("chip-0816M", {{0.7, 0.9}, {0.1, 0.3}, {1.5, 1.7}}, 0.20);
    check("chip-1632M", {{1.45, 1.75}, {0.15, 0.45}, {3.05, 3.35}}, 0.35);
    check("chip-3264M", {{3.0, 3.4}, {0.3, 0.9}, {6.2, 6.6}}, 0.35);
}

// Outline drawings: TO-236AB, SC-70, MS-012; MO-178 from memory. Own arithmetic for the sums.
TEST_CASE("pitches are the published ones") {
    CHECK(pitch(test::pattern("sot-23"), "1", "2") == doctest::Approx(1.90));
    CHECK(pitch(test::pattern("sot-323"), "1", "2") == doctest::Approx(2 * 0.65));
    CHECK(pitch(test::pattern("sot-363"), "1", "2") == doctest::Approx(0.65));
    CHECK(pitch(test::pattern("sot-23-6"), "1", "2") == doctest::Approx(0.95));
    CHECK(pitch(test::pattern("sot-23-5"), "1", "2") == doctest::Approx(0.95));
    CHECK(pitch(test::pattern("sot-23-5"), "4", "5") == doctest::Approx(1.90));
    CHECK(pitch(test::pattern("soic-8"), "1", "4") == doctest::Approx(3.81)); // 3 x 1.27
    CHECK(pitch(test::pattern("sot-223"), "1", "2") == doctest::Approx(2.3));
    CHECK(pitch(test::pattern("to-252"), "1", "3") == doctest::Approx(4.6));
    CHECK(pitch(test::pattern("board-connector-0.4"), "1", "19") == doctest::Approx(3.6)); // 10 in a row at 0.4
    CHECK(pitch(test::pattern("bga-64-0.8"), "A1", "A8") == doctest::Approx(5.6));
}

// SOT-23 land, IPC-SM-782A from memory.
TEST_CASE("SOT-23 lands are the handbook's") {
    const Footprint part = test::pattern("sot-23");
    const Pad& pad = test::pad(part, "1");
    CHECK(pad.shape.width_mm == doctest::Approx(1.40));
    CHECK(pad.shape.height_mm == doctest::Approx(1.00));
    CHECK(test::pad(part, "3").at.x - pad.at.x == doctest::Approx(2.20));
}

// A maker's suggested land: eight lands 0.67 wide at 1.27.
TEST_CASE("SO-16 lands measure 9.56 over one row") {
    const Footprint part = test::pattern("soic-16");
    CHECK(pitch(part, "1", "8") + test::pad(part, "1").shape.height_mm == doctest::Approx(9.56));
}

// Two outline drawings: gap from contact to centre land.
TEST_CASE("QFN-32 contacts keep their gap to the centre land") {
    const auto gap = [](const char* family) {
        const Footprint part = test::pattern(family);
        const Pad& contact = test::pad(part, "1");
        const Pad& centre = test::pad(part, "33");
        const double half = geometry::bounds(outline_in_part(centre)).width() / 2;
        return -contact.at.x - contact.shape.width_mm / 2 - half;
    };
    CHECK(gap("qfn-32-5050") == doctest::Approx(0.40));
    CHECK(gap("qfn-32-5050-large") == doctest::Approx(0.25));
}

// An outline drawing: 0.25 chamfer at pin 1.
TEST_CASE("the centre land's chamfer is beside pin 1") {
    const Footprint part = test::pattern("qfn-32-5050-large");
    const Pad& centre = test::pad(part, "33");
    REQUIRE(centre.shape.kind == document::ShapeKind::Polygon);
    CHECK(!geometry::contains(outline_in_part(centre), Vec2{-1.80, -1.80}));
    CHECK(geometry::contains(outline_in_part(centre), Vec2{1.80, -1.80}));
    CHECK(std::abs(geometry::signed_area(outline_in_part(centre))) == doctest::Approx(3.7 * 3.7 - 0.25 * 0.25 / 2));
}

// Two small lands 0.25 wide, 0.2 apart, one long land 0.7: a published land pattern table.
TEST_CASE("the three-pad leadless part has two small lands and a long one") {
    const Footprint part = test::pattern("leadless-3-1006");
    CHECK(test::pad(part, "1").shape.height_mm == doctest::Approx(0.25));
    CHECK(pitch(part, "1", "2") - 0.25 == doctest::Approx(0.2));
    CHECK(test::pad(part, "3").shape.height_mm == doctest::Approx(0.7));
}

TEST_CASE("the centre land is called as wished") {
    const auto name = [](double choice) {
        return test::pattern_with("son-8-2020", "centre_name", choice).pads.back().number;
    };
    CHECK(name(0) == "9");
    CHECK(name(1) == "EP");
    CHECK(name(2) == "0");
    CHECK(name(3).empty());
}

TEST_CASE("two rings are numbered A outside and B inside") {
    const Footprint part = test::pattern("qfn-two-ring-132");
    CHECK(test::pad(part, "A1").at.x < test::pad(part, "B1").at.x);
    CHECK(test::pad(part, "A72").at.y < test::pad(part, "B60").at.y);
}

TEST_CASE("grids leave out what they are told to") {
    const Family& family = *find_family("bga-64-0.8");
    const Result<std::vector<double>> values = with_omitted(family, {}, "A1, h8 C3");
    REQUIRE(values);
    const Footprint part = *generate(family, *values);
    CHECK(part.pads.size() == 61);
    for (const Pad& pad : part.pads)
        CHECK((pad.number != "A1" && pad.number != "H8" && pad.number != "C3"));
    CHECK(part.family_parameters == *values); // so that the same pattern can be made again
    CHECK(generate(family, part.family_parameters)->pads == part.pads);
    CHECK(!with_omitted(family, {}, "A9"));
    CHECK(!with_omitted(family, {}, "I1"));
    CHECK(!with_omitted(family, {}, "A1 A1"));
    CHECK(!with_omitted(*find_family("soic-8"), {}, "A1"));
    CHECK(with_omitted(family, *values, "")->size() == family.parameters.size()); // replaces
}

TEST_CASE("the 2-1-2 grid is a square with one in the middle") {
    const Footprint part = test::pattern("wafer-level-2-1-2");
    CHECK(geometry::distance(test::pad(part, "A1").at, {-0.4, -0.4}) < 1e-12);
    CHECK(geometry::distance(test::pad(part, "B2").at, {0.0, 0.0}) < 1e-12);
    CHECK(geometry::distance(test::pad(part, "C3").at, {0.4, 0.4}) < 1e-12);
}

// IPC-7351 clause 14.2.5: 20 rows end at Y.
TEST_CASE("the twentieth row of a grid is Y") {
    CHECK(test::pattern("bga-400-1.27").pads.back().number == "Y20");
}

TEST_CASE("a ring land is open only by a hair and its hole is free") {
    const Footprint part = test::pattern("mounting-hole-3");
    const geometry::Ring ring = outline_in_part(part.pads.front());
    const double full = 3.14159265358979 / 4 * (6.0 * 6.0 - 3.2 * 3.2);
    CHECK(std::abs(geometry::signed_area(ring)) == doctest::Approx(full).epsilon(0.01));
    CHECK(!geometry::contains(ring, Vec2{0.0, 0.0}));
    CHECK(geometry::contains(ring, Vec2{-2.3, 0.0}));
    CHECK(geometry::contains(ring, Vec2{0.0, 2.3}));
}

TEST_CASE("a can's bevelled corners are on its positive side which is land 1") {
    const Footprint part = test::pattern("aluminium-can-6.3");
    const geometry::Ring base = outline_in_part(*part.body);
    CHECK(test::pad(part, "1").at.x < 0.0);
    CHECK(!geometry::contains(base, Vec2{-3.25, -3.25}));
    CHECK(geometry::contains(base, Vec2{3.25, -3.25}));
}
