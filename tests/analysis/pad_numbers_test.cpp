#include "analysis/pad_numbers.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "patterns/family.hpp"

using namespace padchart;
using document::Chart;
using document::Footprint;

namespace {

/// Drawn by hand: the pattern's pads without their family, under those numbers.
Footprint numbered(std::string_view family, const char* name, const std::vector<std::string>& numbers = {}) {
    Footprint part = *patterns::generate(family);
    part.id = {name};
    part.name = name;
    part.family.clear();
    part.part_class = document::PartClass::Unknown;
    for (std::size_t i = 0; i < numbers.size(); ++i)
        part.pads[i].number = numbers[i];
    return part;
}

Footprint mirrored(Footprint part) {
    for (document::Pad& pad : part.pads)
        pad.at.x = -pad.at.x;
    return part;
}

std::string codes(const Footprint& part) {
    Chart chart;
    chart.parts.add(part);
    std::string all;
    for (const Diagnostic& finding : analysis::numbers_against_rule(chart))
        all += finding.code + " ";
    return all;
}

} // namespace

TEST_CASE("pin numbers that run clockwise tell a mirrored picture") {
    Chart right, mirrored;
    int n = 0;
    for (const char* family : {"soic-8", "qfn-24-4040", "sot-23-5"}) {
        Footprint part = *patterns::generate(family);
        part.id = {"u" + std::to_string(++n)};
        part.name = "U" + std::to_string(n);
        right.parts.add(part);
        for (document::Pad& pad : part.pads)
            pad.at.x = -pad.at.x;
        mirrored.parts.add(part);
    }
    CHECK(analysis::mirrored_numbering(right).empty());
    const Diagnostics findings = analysis::mirrored_numbering(mirrored);
    REQUIRE(findings.size() == 4);
    CHECK(findings[0].code == "pins-clockwise");
    CHECK(findings[3].code == "picture-mirrored");
    CHECK(findings[3].severity == Severity::Fault);
}

TEST_CASE("connectors and shaky single rows tell nothing of a mirror") {
    Chart chart;
    Footprint row;
    row.id = {"u1"};
    row.name = "U1";
    for (int i = 0; i < 6; ++i) {
        document::Pad pad;
        pad.number = std::to_string(i + 1);
        pad.at = {0.5 * i, 0.01 * ((i * i) % 3)};
        pad.shape = {document::ShapeKind::Rectangle, 0.3, 1.0, {}};
        row.pads.push_back(pad);
    }
    chart.parts.add(row);
    Footprint connector = *patterns::generate("soic-8");
    connector.id = {"j1"};
    connector.name = "J1";
    connector.part_class = document::PartClass::Unknown;
    for (document::Pad& pad : connector.pads)
        pad.at.x = -pad.at.x;
    chart.parts.add(connector);
    CHECK(analysis::mirrored_numbering(chart).empty());
}

TEST_CASE("a letter that is a connector's now and then keeps no part from the mirror check") {
    Chart chart;
    chart.parts.add(mirrored(numbered("soic-8", "X2")));
    chart.parts.add(mirrored(numbered("soic-16", "PART1")));
    CHECK(analysis::mirrored_numbering(chart).size() == 3);
    Chart connectors;
    connectors.parts.add(mirrored(numbered("soic-8", "J2")));
    connectors.parts.add(mirrored(numbered("soic-8", "CN2")));
    CHECK(analysis::mirrored_numbering(connectors).empty());
}

TEST_CASE("two pads with one number are found and words that stand on many are not") {
    CHECK(codes(numbered("soic-8", "U1")) == "");
    CHECK(codes(numbered("soic-8", "U1", {"1", "1"})) == "pad-number-twice ");
    CHECK(codes(numbered("soic-8", "J1", {"1", "1"})) == "pad-number-twice ");
    CHECK(codes(numbered("soic-8", "U1", {"SH", "SH"})) == "");
    Footprint whole = numbered("soic-8", "U1", {"1", "1"});
    whole.family = "soic-8";
    CHECK(codes(whole) == "");
}

TEST_CASE("numbers that begin amid a row or jump to and fro are noted, of connectors and grids nothing is said") {
    CHECK(codes(numbered("soic-8", "U1", {"7", "8", "1", "2", "3", "4", "5", "6"})) == "first-pin-in-row ");
    CHECK(codes(numbered("soic-8", "U1", {"5", "6", "7", "8", "1", "2", "3", "4"})) == "");
    CHECK(codes(numbered("soic-8", "U1", {"1", "3", "5", "7", "8", "6", "4", "2"})) == "numbers-not-in-turn ");
    CHECK(codes(numbered("soic-8", "J1", {"1", "3", "5", "7", "8", "6", "4", "2"})) == "");
    for (const char* family : {"qfn-24-4040", "sot-23-5", "sot-223", "lga-4x4-0.8", "tssop-20", "sot-23"}) {
        CAPTURE(std::string(family));
        if (patterns::find_family(family) != nullptr) CHECK(codes(numbered(family, "U1")) == "");
    }
}
