#include <doctest/doctest.h>

#include <algorithm>

#include "document/footprint.hpp"
#include "patterns/naming.hpp"

using namespace padchart;
using namespace padchart::patterns;
using document::Footprint;
using document::PartClass;

namespace {

Footprint part(const char* name, PartClass part_class, const char* value = "") {
    Footprint made;
    made.id = document::Id{"p"};
    made.name = name;
    made.part_class = part_class;
    made.value = value;
    return made;
}

bool has(const Diagnostics& findings, const char* code) {
    return std::any_of(findings.begin(), findings.end(), [&](const Diagnostic& d) { return d.code == code; });
}

double value_of(const char* text, PartClass part_class) {
    const Result<CodedValue> value = read_value(text, part_class);
    CAPTURE(text);
    REQUIRE(value);
    return value->value;
}

} // namespace

TEST_CASE("values are read as a hand writes them") {
    // IEC 60062: 4R7, R47, 4K7, 103; the rest is the same number written with its unit.
    CHECK(value_of("4K7", PartClass::Resistor) == doctest::Approx(4700));
    CHECK(value_of("R47", PartClass::Resistor) == doctest::Approx(0.47));
    CHECK(value_of("103", PartClass::Resistor) == doctest::Approx(10e3));
    CHECK(value_of("103", PartClass::CeramicCapacitor) == doctest::Approx(10e-9));
    CHECK(value_of("10k", PartClass::Resistor) == doctest::Approx(10e3));
    CHECK(value_of("10 k", PartClass::Resistor) == doctest::Approx(10e3));
    CHECK(value_of("10 kohm 1%", PartClass::Resistor) == doctest::Approx(10e3));
    CHECK(value_of("22 ohm", PartClass::Resistor) == doctest::Approx(22));
    CHECK(value_of("22 \u03a9", PartClass::Resistor) == doctest::Approx(22));
    CHECK(value_of("220u 6V3", PartClass::TantalumCapacitor) == doctest::Approx(220e-6));
    CHECK(value_of("4.7 uF", PartClass::CeramicCapacitor) == doctest::Approx(4.7e-6));
    CHECK(value_of("4,7uF X7R", PartClass::CeramicCapacitor) == doctest::Approx(4.7e-6));
    CHECK(value_of("100nF", PartClass::CeramicCapacitor) == doctest::Approx(100e-9));
    CHECK(value_of("2.2uH", PartClass::Inductor) == doctest::Approx(2.2e-6));
    CHECK(value_of("4x 10k", PartClass::ArrayIsolated) == doctest::Approx(10e3));
    CHECK(value_of("1F", PartClass::Supercapacitor) == doctest::Approx(1.0));
}

TEST_CASE("a value that is none is a finding for parts that have one") {
    CHECK(has(naming_findings(part("R1", PartClass::Resistor, "10kk")), "value-not-read"));
    CHECK(has(naming_findings(part("R1", PartClass::Resistor, "4n7")), "value-not-read"));
    CHECK(has(naming_findings(part("C1", PartClass::CeramicCapacitor, "big")), "value-not-read"));
    CHECK(naming_findings(part("R1", PartClass::Resistor, "4K7")).empty());
    CHECK(naming_findings(part("X1", PartClass::Oscillator, "26 MHz")).empty());
    CHECK(naming_findings(part("R1", PartClass::Resistor)).empty());
}

TEST_CASE("letters are held against the class and against what is known") {
    // IEEE 315 clause 22.4: C capacitor, R resistor; FB is seen on boards only.
    CHECK(naming_findings(part("C14", PartClass::CeramicCapacitor)).empty());
    CHECK(naming_findings(part("FB2", PartClass::FerriteBead)).empty());
    CHECK(has(naming_findings(part("C14", PartClass::Resistor)), "name-against-class"));
    CHECK(naming_findings(part("C14", PartClass::Unknown)).empty());
    CHECK(has(naming_findings(part("WQX3", PartClass::Resistor)), "name-letters"));
    CHECK(has(naming_findings(part("14", PartClass::Resistor)), "name-form"));
    CHECK(has(naming_findings(part("R", PartClass::Resistor)), "name-form"));
    CHECK(has(naming_findings(part("R 14", PartClass::Resistor)), "name-form"));
    CHECK(naming_findings(part("", PartClass::Resistor)).empty());
}

TEST_CASE("what a name hints at is never more than a note") {
    for (const char* name : {"14", "WQX3", "C14"})
        for (const Diagnostic& finding : naming_findings(part(name, PartClass::Resistor, "big")))
            CHECK(finding.severity == Severity::Note);
}
