#include "patterns/value_code.hpp"

#include <doctest/doctest.h>

using namespace padchart;
using namespace padchart::patterns;
using document::PartClass;

namespace {

double value(std::string_view code, PartClass part_class) {
    const Result<CodedValue> read = read_value_code(code, part_class);
    REQUIRE_MESSAGE(read.has_value(), code);
    return read->value;
}

std::string words(std::string_view code, PartClass part_class) {
    const Result<CodedValue> read = read_value_code(code, part_class);
    return read ? in_words(*read) : "error: " + read.error().message;
}

} // namespace

// IEC 60062.
TEST_CASE("a letter takes the place of the point") {
    CHECK(value("4R7", PartClass::Resistor) == doctest::Approx(4.7));
    CHECK(value("R47", PartClass::Resistor) == doctest::Approx(0.47));
    CHECK(value("4K7", PartClass::Resistor) == doctest::Approx(4700.0));
    CHECK(value("470R", PartClass::Resistor) == doctest::Approx(470.0));
    CHECK(value("47K", PartClass::Unknown) == doctest::Approx(47e3));
    CHECK(value("4M7", PartClass::Resistor) == doctest::Approx(4.7e6));
    CHECK(value("R005", PartClass::SenseResistor) == doctest::Approx(0.005));
    CHECK(value("4n7", PartClass::CeramicCapacitor) == doctest::Approx(4.7e-9));
    CHECK(value("4p7", PartClass::Unknown) == doctest::Approx(4.7e-12));
    CHECK(value("220u", PartClass::AluminiumCapacitor) == doctest::Approx(220e-6));
    CHECK(value("4.7k", PartClass::Resistor) == doctest::Approx(4700.0));
}

// From memory: two figures and the count of noughts.
TEST_CASE("three digits depend on what the part is") {
    CHECK(words("103", PartClass::Resistor) == "10 kohm");
    CHECK(words("103", PartClass::CeramicCapacitor) == "10 nF");
    CHECK(words("107", PartClass::TantalumCapacitor) == "100 uF");
    CHECK(words("100", PartClass::Inductor) == "10 uH");
    CHECK(words("4R7", PartClass::Inductor) == "4.7 uH");
    CHECK(words("1002", PartClass::Resistor) == "10 kohm");
    CHECK(words("220", PartClass::AluminiumCapacitor) == "220 uF"); // cans: plain microfarad, common practice
    CHECK(words("229", PartClass::CeramicCapacitor) == "2.2 pF");
    CHECK(!read_value_code("103", PartClass::Unknown));
    CHECK(!read_value_code("103", PartClass::Diode));
}

TEST_CASE("nought is a jumper") {
    for (const char* code : {"0", "000", "0000", "0R", "0R0"})
        CHECK_MESSAGE(read_value_code(code, PartClass::Resistor)->is_jumper, code);
    CHECK(words("0", PartClass::Unknown) == "jumper");
    CHECK(!read_value_code("000", PartClass::CeramicCapacitor));
}

// From memory: the n-th of 96 values of a decade, 1.00, 1.02, 1.05 ... 9.76.
TEST_CASE("two digits and a letter name one of ninety-six values") {
    CHECK(words("01C", PartClass::Resistor) == "10 kohm");
    CHECK(words("68X", PartClass::Resistor) == "49.9 ohm");
    CHECK(words("96A", PartClass::Resistor) == "976 ohm");
    CHECK(!read_value_code("97A", PartClass::Resistor));
    CHECK(!read_value_code("00A", PartClass::Resistor));
    CHECK(value("68R", PartClass::Resistor) == doctest::Approx(68.0));
}

TEST_CASE("what is no code is refused") {
    for (const char* code :
         {"", "R", "K", "4R7R", "4RR7", "4.7", "4.7k2", ".7k", "4..7k", "hello", "47", "1", "12345", "4-7", "10k 5%"})
        CHECK_MESSAGE(!read_value_code(code, PartClass::Resistor), code);
    CHECK(!read_value_code("4n7", PartClass::Resistor));
    CHECK(!read_value_code("4p7", PartClass::Resistor));
    CHECK(!read_value_code("4K7", PartClass::CeramicCapacitor));
    CHECK(read_value_code("4K7", PartClass::CeramicCapacitor).error().message.find("another kind") !=
          std::string::npos);
}

TEST_CASE("values are written with the prefix people use") {
    CHECK(in_words({0.47, ValueUnit::Ohm, false}) == "0.47 ohm");
    CHECK(in_words({0.005, ValueUnit::Ohm, false}) == "5 mohm");
    CHECK(in_words({4700.0, ValueUnit::Ohm, false}) == "4.7 kohm");
    CHECK(in_words({1e6, ValueUnit::Ohm, false}) == "1 Mohm");
    CHECK(in_words({1e-7, ValueUnit::Farad, false}) == "100 nF");
    CHECK(in_words({2.2e-13, ValueUnit::Farad, false}) == "0.22 pF");
}
