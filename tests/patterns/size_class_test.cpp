#include "patterns/size_class.hpp"

#include <doctest/doctest.h>

#include <string>

#include "support.hpp"

using namespace padchart;
using namespace padchart::patterns;

namespace {

const SizeClass& only(std::string_view code) {
    const Result<SizeCode> parsed = parse_size_code(code);
    REQUIRE_MESSAGE(parsed.has_value(), code);
    REQUIRE_MESSAGE(parsed->readings.size() == 1, code);
    return *parsed->readings.front();
}

std::vector<std::string> labels(const std::vector<SizeMatch>& matches) {
    std::vector<std::string> all;
    for (const SizeMatch& match : matches)
        all.push_back(label_of(*match.size));
    return all;
}

bool has_finding(const SizeCode& code, std::string_view finding) {
    for (const Diagnostic& each : code.findings)
        if (each.code == finding) return true;
    return false;
}

} // namespace

// Code rule of EIA and JEITA as a maker's size page states it; 0201M from memory.
TEST_CASE("inch and metric codes of one part") {
    CHECK(only("inch 0402").metric == "1005M");
    CHECK(only("0402M").inch == "01005");
    CHECK(only("inch 0603").metric == "1608M");
    CHECK(only("0603M").inch == "0201");
    CHECK(only("0201M").inch == "008004");
}

// Nominal bodies: a maker's size page.
TEST_CASE("nominal bodies come from the table and not from inches") {
    CHECK(only("inch 0805").length_mm == doctest::Approx(2.00));
    CHECK(only("inch 0805").width_mm == doctest::Approx(1.25));
    CHECK(only("inch 1206").length_mm == doctest::Approx(3.20)); // 12 hundredths of an inch would be 3.048
    CHECK(only("inch 1206").width_mm == doctest::Approx(1.60));
    CHECK(only("0402M").length_mm == doctest::Approx(0.40));
    CHECK(only("0402M").width_mm == doctest::Approx(0.20));
}

TEST_CASE("four digits without a system list both parts") {
    for (const auto& [code, first, second] : {std::tuple{"0603", "1608M (inch 0603)", "0603M (inch 0201)"},
                                              {"0402", "1005M (inch 0402)", "0402M (inch 01005)"},
                                              {"0201", "0603M (inch 0201)", "0201M (inch 008004)"}}) {
        CAPTURE(code);
        const Result<SizeCode> parsed = parse_size_code(code);
        REQUIRE(parsed);
        REQUIRE(parsed->readings.size() == 2);
        CHECK(has_finding(*parsed, "size-code-ambiguous"));
        CHECK(parsed->findings.front().message.find(first) != std::string::npos);
        CHECK(parsed->findings.front().message.find(second) != std::string::npos);
    }
}

TEST_CASE("codes are read however they are written") {
    CHECK(only("1608m").metric == "1608M");
    CHECK(only("0603 inch").metric == "1608M");
    CHECK(only("metric 0603").inch == "0201");
    CHECK(only("01005").metric == "0402M");
    CHECK(only("1608").metric == "1608M");
    CHECK(has_finding(*parse_size_code("1608"), "size-code-without-m"));
    CHECK(!has_finding(*parse_size_code("1608M"), "size-code-without-m"));
    CHECK(only("3528-21").kind == "tantalum case");
    CHECK(!parse_size_code("9999"));
    CHECK(!parse_size_code(""));
    CHECK(!parse_size_code("M"));
    CHECK(!parse_size_code("3528M")); // a case code is metric without the M
}

// Printed both ways in makers' tables: 2512 as 6332 and 6432, 1812 as 4532 and, width first, 3246.
TEST_CASE("other prints of a size are understood") {
    CHECK(only("6432").metric == "6332M");
    CHECK(only("6432M").metric == "6332M");
    CHECK(has_finding(*parse_size_code("6432M"), "size-code-other-print"));
    CHECK(only("3246").metric == "4532M");
}

// Common practice, no source: tantalum and LED codes are metric without the M.
TEST_CASE("3528 is a tantalum case and an LED and 3216 a chip and a tantalum case") {
    CHECK(parse_size_code("3528")->readings.size() == 2);
    CHECK(parse_size_code("3216")->readings.size() == 2);
    CHECK(only("3216M").kind == "chip");
    CHECK(label_of(only("3528-21")) == "3528 tantalum case (metric)");
}

TEST_CASE("a measured body is matched nearest first and either way round") {
    const std::vector<SizeMatch> matches = size_matches(1.56, 0.83);
    REQUIRE(!matches.empty());
    CHECK(label_of(*matches.front().size) == "1608M (inch 0603)");
    CHECK(matches.front().deviation_mm == doctest::Approx(0.04));
    CHECK(labels(size_matches(0.83, 1.56)) == labels(matches));
    for (std::size_t i = 1; i < matches.size(); ++i)
        CHECK(matches[i - 1].deviation_mm <= matches[i].deviation_mm);
    CHECK(size_matches(50.0, 20.0).empty());
}

TEST_CASE("long-side terminations have the same body and are listed beside the usual chip") {
    const std::vector<std::string> all = labels(size_matches(3.2, 1.6, 0.05));
    CHECK(std::find(all.begin(), all.end(), "3216M (inch 1206)") != all.end());
    CHECK(std::find(all.begin(), all.end(), "1632M (inch 0612, long-side terminations)") != all.end());
}

// One maker's table gives 1.55 x 0.85 for inch 0603 and 2.0 x 1.2 for inch 0805.
TEST_CASE("ordinary spread of makers stays within the match") {
    CHECK(label_of(*size_matches(1.55, 0.85, 0.0).front().size) == "1608M (inch 0603)");
    CHECK(label_of(*size_matches(2.0, 1.2, 0.0).front().size) == "2012M (inch 0805)");
}

TEST_CASE("every size that names a family finds it with a body of that size") {
    for (const SizeClass& size : size_classes()) {
        CAPTURE(size.metric);
        CHECK(size.tolerance_mm > 0.0);
        CHECK(!size.source.empty());
        if (size.family.empty()) continue;
        const document::Footprint part = test::pattern(size.family);
        CHECK(part.body->shape.width_mm == doctest::Approx(size.length_mm));
        CHECK(part.body->shape.height_mm == doctest::Approx(size.width_mm));
    }
}
