#include "patterns/designation.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "patterns/table.hpp"

using namespace padchart::patterns;
using padchart::document::PartClass;

namespace {

PartClass first(std::string_view name) {
    const std::vector<ClassHint> hints = class_hints(name);
    return hints.empty() ? PartClass::Unknown : hints.front().part_class;
}

bool hints_at(std::string_view name, PartClass part_class) {
    const std::vector<ClassHint> hints = class_hints(name);
    return std::any_of(hints.begin(), hints.end(),
                       [&](const ClassHint& hint) { return hint.part_class == part_class; });
}

} // namespace

// IEEE 315 clause 22.4 with ASME Y14.44, as quoted; the rest is seen on boards, no source.
TEST_CASE("letters hint at a class") {
    CHECK(first("C14") == PartClass::CeramicCapacitor);
    CHECK(hints_at("C14", PartClass::TantalumCapacitor));
    CHECK(first("R1") == PartClass::Resistor);
    CHECK(first("RT2") == PartClass::Thermistor);
    CHECK(first("u4") == PartClass::IntegratedCircuit);
    CHECK(first("Q3") == PartClass::Transistor);
    CHECK(first("DS1") == PartClass::Led);
    CHECK(first("Y1") == PartClass::Crystal);
    CHECK(first("BT1") == PartClass::Cell);
    CHECK(first("TP") == PartClass::TestPoint);
    CHECK(first("FB12") == PartClass::FerriteBead);
    CHECK(hints_at("D3", PartClass::Led));
    CHECK(hints_at("L1", PartClass::FerriteBead));
}

TEST_CASE("a hint says whether the standard has it") {
    CHECK(class_hints("R1").front().in_standard);
    CHECK(!class_hints("FB1").front().in_standard);
    CHECK(!class_hints("JP1").front().in_standard); // the standard says J, P or W, not JP
}

TEST_CASE("names that are none give no hint") {
    for (const char* name : {"", "14", "QQ7", "C-4", "reset", "?", "C_1"})
        CHECK_MESSAGE(class_hints(name).empty(), name);
    CHECK(class_letters("C14") == "C");
    CHECK(class_letters("14").empty());
}

TEST_CASE("the caution goes with every hint") {
    CHECK(std::string(kLetterCaution).find("not evidence") != std::string::npos);
}

TEST_CASE("every class of the table exists") {
    const Table& rows = table("designations");
    for (std::size_t row = 0; row < rows.size(); ++row) {
        std::string words(rows.text(row, "classes"));
        REQUIRE(!words.empty());
        words += ' ';
        while (!words.empty()) {
            const std::string word = words.substr(0, words.find(' '));
            words.erase(0, word.size() + 1);
            CHECK_MESSAGE(padchart::document::from_text<PartClass>(word).has_value(), word);
        }
    }
}
