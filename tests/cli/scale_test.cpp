#include <doctest/doctest.h>

#include <filesystem>
#include <string>

#include "cli/run_support.hpp"
#include "json/chart_file.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::demo_chart_path;
using padchart::tests::TemporaryFolder;

namespace {

/// No physical size: 10 units are a millimetre, which nobody says.
constexpr const char* kUnitTrace =
    R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 100">
<g id="body"><rect id="R1" x="50" y="40" width="32" height="16"/></g>
<g id="pads"><rect x="48" y="40" width="7" height="16"/><rect x="77" y="40" width="7" height="16"/></g>
</svg>
)";

/// The same drawing with a page that claims twice the size.
constexpr const char* kWrongPage =
    R"(<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="20mm" viewBox="0 0 400 100">
<g id="body"><rect id="R1" x="50" y="40" width="32" height="16"/></g>
</svg>
)";

} // namespace

TEST_CASE("import puts a trace to scale by two points") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("t.svg", kUnitTrace);
    const std::string out = folder.file("t.chart.json");
    const Answer answer = call({"import", trace, "-o", out, "--scale-points", "0,0,300,0,30"});
    CHECK(contains(answer.out, "1 unit = 0.1 mm, within 0.5 %"));
    const auto chart = padchart::json::load_chart(out);
    REQUIRE(chart);
    CHECK(chart->scale->source == padchart::document::ScaleSource::TwoPoints);
    CHECK(chart->parts[0].body->shape.width_mm == doctest::Approx(3.2));
}

TEST_CASE("import puts a trace to scale by a part of known size and doubts a page that says otherwise") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("t.svg", kWrongPage);
    const std::string out = folder.file("t.chart.json");
    const Answer answer = call({"import", trace, "-o", out, "--scale-part", "R1=3216M"});
    CHECK(answer.code == 1);
    CHECK(contains(answer.err, "two scales differ by"));
    const auto chart = padchart::json::load_chart(out);
    REQUIRE(chart);
    CHECK(chart->scale->source == padchart::document::ScaleSource::KnownPart);
    // 32 units are the 3.2 mm of a 3216M (EIA and JEITA code).
    CHECK(chart->scale->mm_per_unit == doctest::Approx(0.1));
    CHECK(chart->parts[0].body->shape.width_mm == doctest::Approx(3.2));
}

TEST_CASE("import refuses scales that say nothing") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("t.svg", kUnitTrace);
    const std::string out = folder.file("t.chart.json");
    const auto refused = [&](const std::string& option, const std::string& value, const std::string& why) {
        const Answer answer = call({"import", trace, "-o", out, option, value});
        CHECK(answer.code == 2);
        CHECK(contains(answer.err, why));
    };
    refused("--scale-points", "0,0,300,0", "is not 5 numbers");
    refused("--scale-points", "0,0,300,0,30,1", "is not 5 numbers");
    refused("--scale-points", "0,0,300,zero,30", "is not 5 numbers");
    refused("--scale-points", "5,5,5,5,30", "the two points are the same");
    refused("--scale-part", "R1", "right would be one like R1=1608M");
    refused("--scale-part", "R2=1608M", "no part of the chart is called \"R2\"");
    refused("--scale-part", "R1=0603", "1608M (inch 0603)");
    const Answer both = call({"import", trace, "-o", out, "--mm-per-unit", "1", "--scale-part", "R1=3216M"});
    CHECK(both.code == 2);
}

TEST_CASE("scale puts a chart right and says by how much") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("t.svg", kUnitTrace);
    const std::string raw = folder.file("raw.chart.json");
    const std::string out = folder.file("scaled.chart.json");
    call({"import", trace, "-o", raw});
    const Answer answer = call({"scale", raw, "--part", "R1=3216M", "--points", "0,0,300,0,30", "-o", out});
    CHECK(answer.code == 0);
    CHECK(contains(answer.out, "every length times 0.1; 1 unit = 0.1 mm, within 0.5 %"));
    const auto chart = padchart::json::load_chart(out);
    REQUIRE(chart);
    CHECK(chart->parts[0].pads[0].shape.height_mm == doctest::Approx(1.6));
    CHECK(chart->scale->source == padchart::document::ScaleSource::TwoPoints);

    const Answer doubt = call({"scale", out, "--points", "0,0,30,0,33", "-o", out, "--json"});
    CHECK(doubt.code == 1);
    CHECK(contains(doubt.out, "\"code\": \"scale-disagrees\""));
}

TEST_CASE("a surer scale is not given up unless somebody says so") {
    // The demo's page is sure within 1 %; ten millimetres between two clicks only within 1.5 % (own arithmetic).
    const TemporaryFolder folder;
    const std::string out = folder.file("x.chart.json");
    const Answer refused = call({"scale", demo_chart_path(), "--points", "2,3,12,3,10", "-o", out});
    CHECK(refused.code == 2);
    CHECK(contains(refused.err, "sure within 1 %"));
    CHECK(contains(refused.err, "--less-sure"));
    CHECK_FALSE(std::filesystem::exists(out));
    const Answer taken = call({"scale", demo_chart_path(), "--points", "2,3,12,3,10", "-o", out, "--less-sure"});
    CHECK(taken.code == 1);
    CHECK(contains(taken.err, "keep the scale there is"));
    CHECK(std::filesystem::exists(out));
}

TEST_CASE("scale without a statement is refused") {
    const TemporaryFolder folder;
    const Answer answer = call({"scale", demo_chart_path(), "-o", folder.file("x.chart.json")});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, "--points X1,Y1,X2,Y2,MM"));
}
