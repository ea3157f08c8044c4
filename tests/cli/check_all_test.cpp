#include <doctest/doctest.h>

#include <string>

#include "cli/run_support.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;

namespace {

/// Nothing but notes can be said of it.
std::string quiet_chart(const std::string& more = {}) {
    return R"({"format": "padchart", "version": 1, "scale": {"mm_per_unit": 1, "source": "two-points"},
"parts": [{"id": "h1", "name": "H1", "class": "mounting-hole", "at_mm": [1, 2]})" +
           more + "]}";
}

} // namespace

TEST_CASE("check of a folder lists every chart below it in one table") {
    const TemporaryFolder folder;
    std::filesystem::create_directories(folder.path() / "shelf" / ".hidden");
    (void)folder.write("b.chart.json", quiet_chart());
    (void)folder.write("shelf/a.chart.json",
                       quiet_chart(R"(, {"id": "bt1", "name": "BT<1>", "class": "cell", "at_mm": [5, 5]})"));
    (void)folder.write("shelf/.hidden/c.chart.json", "no chart");
    (void)folder.write("notes.json", "no chart");
    const Answer answer = call({"check", "--all", folder.path().string(), "--junit", folder.file("report.xml")});
    CHECK(answer.code == 1);
    CHECK(contains(answer.out, "2 charts checked"));
    CHECK(contains(answer.out, "b.chart.json"));
    CHECK(answer.out.find("b.chart.json") < answer.out.find("shelf/a.chart.json"));
    CHECK(!contains(answer.out, ".hidden"));
    const std::string report = read_text(folder.file("report.xml"));
    CHECK(contains(report, "tests=\"2\" failures=\"1\" errors=\"0\""));
    CHECK(contains(report, "<testcase classname=\"check\" name=\"b.chart.json\">\n    </testcase>"));
    CHECK(contains(report, "<failure type=\"cell-on-board\" message=\"BT&lt;1&gt; "));
}

TEST_CASE("a file that is no chart is told and the others are checked all the same") {
    const TemporaryFolder folder;
    (void)folder.write("a.chart.json", quiet_chart());
    (void)folder.write("b.chart.json", "no chart");
    const Answer answer = call({"check", "--all", folder.path().string(), "--json"});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, "b.chart.json"));
    CHECK(contains(answer.out, "\"file\": \"a.chart.json\""));
    CHECK(contains(answer.out, "not JSON"));
}

TEST_CASE("check wants one chart or one folder") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", quiet_chart());
    CHECK(call({"check"}).code == 2);
    CHECK(contains(call({"check"}).err, "CHART"));
    CHECK(call({"check", chart, "--all", folder.path().string()}).code == 2);
    CHECK(call({"check", chart, "--junit", folder.file("x")}).code == 2);
    CHECK(call({"check", "--all", folder.file("none")}).code == 2);
    std::filesystem::create_directories(folder.path() / "empty");
    CHECK(contains(call({"check", "--all", folder.file("empty")}).err, "no file below it ends with .chart.json"));
}

TEST_CASE("many charts give the same table every time") {
    const TemporaryFolder folder;
    for (int i = 0; i < 40; ++i)
        (void)folder.write(std::to_string(100 + i) + ".chart.json", quiet_chart());
    const Answer first = call({"check", "--all", folder.path().string()});
    CHECK(first.code == 0);
    for (int i = 0; i < 5; ++i)
        CHECK(call({"check", "--all", folder.path().string()}).out == first.out);
}
