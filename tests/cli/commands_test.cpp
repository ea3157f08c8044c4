#include <doctest/doctest.h>

#include <string>

#include "cli/run_support.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::demo_chart_path;
using padchart::tests::source_folder;
using padchart::tests::TemporaryFolder;

namespace {

constexpr const char* kTrace =
    R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 200 100">
<g id="body"><rect id="R1" x="50" y="40" width="16" height="8"/></g>
<g id="pads"><rect x="48" y="40" width="7" height="8"/><rect x="61" y="40" width="7" height="8"/></g>
</svg>
)";

} // namespace

TEST_CASE("the help lists every command and each command shows an example") {
    const Answer help = call({"--help"});
    CHECK(help.code == 0);
    for (const padchart::cli::Command& command : padchart::cli::commands()) {
        CHECK(contains(help.out, command.name));
        const Answer one = call({std::string(command.name), "--help"});
        CHECK(one.code == 0);
        CHECK(contains(one.out, "Example: padchart " + std::string(command.name)));
        CHECK(contains(one.out, "Exit code"));
    }
}

TEST_CASE("help is a word as well as an option") {
    CHECK(call({"help"}).out == call({"--help"}).out);
    CHECK(call({"help", "fit"}).out == call({"fit", "--help"}).out);
    CHECK(call({"help"}).code == 0);
}

TEST_CASE("a drawing in place of a chart is named as one") {
    const Answer answer = call({"fit", (source_folder() / "demo" / "power-corner.svg").string()});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, "this is a drawing; right would be a chart made of it by `padchart import`"));
}

TEST_CASE("a word that is no command is refused with the way to the list") {
    const Answer answer = call({"chek"});
    CHECK(answer.code == 2);
    CHECK(answer.err ==
          "padchart: there is no command \"chek\" and no such chart. `padchart --help` lists the commands.\n");
}

TEST_CASE("a chart alone or nothing at all opens the window") {
    CHECK(call({demo_chart_path()}).code == 42);
    CHECK(call({}).code == 42);
    CHECK(call({"view", demo_chart_path(), "--stage", "survey"}).code == 42);
}

TEST_CASE("a missing argument and an option of the wrong kind are refused by name") {
    const Answer missing = call({"check"});
    CHECK(missing.code == 2);
    CHECK(contains(missing.err, "CHART"));
    const Answer wrong = call({"clearance", demo_chart_path(), "--nozzle", "wide"});
    CHECK(wrong.code == 2);
    CHECK(contains(wrong.err, "\"wide\" is not a number"));
}

TEST_CASE("a chart that is not there is named with the reason") {
    for (const char* command : {"check", "fit", "clearance", "parts"}) {
        const Answer answer = call({command, "/nowhere/none.chart.json"});
        CHECK(answer.code == 2);
        CHECK(contains(answer.err, "/nowhere/none.chart.json"));
        CHECK(contains(answer.err, "No such file or directory"));
    }
}

TEST_CASE("shapes prints millimetres where the trace has a size") {
    const TemporaryFolder folder;
    const Answer answer = call({"shapes", folder.write("t.svg", kTrace), "--json"});
    CHECK(answer.code == 0);
    CHECK(contains(answer.out, "\"mm_per_unit\": 0.1"));
    CHECK(contains(answer.out, "\"bbox_mm\": [5, 4, 6.6, 4.8]"));
    // Rectangle of 1.6 mm by 0.8 mm: length 4.8 mm, own arithmetic.
    CHECK(contains(answer.out, "\"length_mm\": 4.8"));
}

TEST_CASE("shapes claims no millimetres where the trace has no size") {
    const TemporaryFolder folder;
    const std::string path =
        folder.write("t.svg", R"(<svg xmlns="http://www.w3.org/2000/svg"><rect id="a" width="3" height="2"/></svg>)");
    const Answer answer = call({"shapes", path, "--json"});
    CHECK(contains(answer.out, "\"mm_per_unit\": null"));
    CHECK(contains(answer.out, "\"bbox_user\": [0, 0, 3, 2]"));
    CHECK_FALSE(contains(answer.out, "_mm\""));
}

TEST_CASE("import makes a part of a body and its pads and does not overwrite a chart") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("t.svg", kTrace);
    const std::string chart = folder.file("t.chart.json");
    const Answer answer = call({"import", trace, "-o", chart});
    CHECK(answer.code < 2);
    CHECK(contains(answer.out, "1 part, 2 pads"));
    const Answer again = call({"import", trace, "-o", chart});
    CHECK(again.code == 2);
    CHECK(contains(again.err, "exists"));
    CHECK(call({"import", trace, "-o", chart, "--force"}).code < 2);
    CHECK(contains(call({"parts", chart}).out, "R1"));
}

TEST_CASE("import of something that is not SVG says where it goes wrong and writes nothing") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("t.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\">\n  <g>\n</svg>");
    const Answer answer = call({"import", trace, "-o", folder.file("t.chart.json")});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, trace + ":"));
    CHECK_FALSE(std::filesystem::exists(folder.file("t.chart.json")));
}

TEST_CASE("a broken chart is refused with pointer and line") {
    const TemporaryFolder folder;
    const std::string path = folder.write("t.chart.json", "{\"format\": \"padchart\",\n\"version\": 1,\n\"parts\": 7}");
    const Answer answer = call({"check", path});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, "/parts"));
    CHECK(contains(answer.err, "line 3"));
}

TEST_CASE("clearance of the demo finds the socket 2 mm from the load switch") {
    // The trace draws U4's right edge at x = 22.0 mm and J2's left edge at 24.0 mm; the hand is off by hundredths.
    const Answer answer = call({"clearance", demo_chart_path(), "--target", "U4"});
    CHECK(answer.code < 2);
    CHECK(contains(answer.out, "U4 to J2: "));
    const std::size_t at = answer.out.find("U4 to J2: ") + 10;
    CHECK(std::stod(answer.out.substr(at)) == doctest::Approx(2.0).epsilon(0.02));
}

TEST_CASE("clearance towards a part nobody knows names those that come near") {
    const Answer answer = call({"clearance", demo_chart_path(), "--target", "U44"});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, "no part of the chart is called \"U44\""));
    CHECK(contains(answer.err, "U4"));
}

TEST_CASE("check puts a cell on the board before everything else") {
    const Answer answer = call({"check", (padchart::tests::source_folder() / "layouts/cell-bay.chart.json").string()});
    CHECK(answer.code == 1);
    CHECK(answer.err.rfind("fault: BT40 holds a cell", 0) == 0);
}

TEST_CASE("check of the demo names the array without a mark and the part that is gone") {
    const Answer answer = call({"check", demo_chart_path()});
    CHECK(answer.code == 1);
    CHECK(contains(answer.err, "TV2 also seats turned by 180 degrees"));
    CHECK(contains(answer.err, "C14 is missing."));
    CHECK_FALSE(contains(answer.err, "D1 also seats"));
}

TEST_CASE("fit of the demo tells the array that could go back wrong from the resistors that could not") {
    const Answer answer = call({"fit", demo_chart_path(), "--json"});
    CHECK(answer.code == 1);
    CHECK(contains(answer.out, "\"part\": \"TV2\""));
    CHECK(contains(answer.out, "\"seating_turns_unshifted\""));
}

TEST_CASE("the part table as CSV keeps to RFC 4180") {
    const TemporaryFolder folder;
    const std::string path = folder.write("t.chart.json", R"({"format": "padchart", "version": 1, "parts": [
        {"id": "a", "name": "U1, left", "at_mm": [1, 2], "role": "says \"hi\""}]})");
    const Answer answer = call({"parts", path, "--csv"});
    REQUIRE(answer.code == 0);
    // RFC 4180: CRLF line ends, fields with commas or quotes in quotes, quotes doubled.
    CHECK(contains(answer.out, "id,name,side"));
    CHECK(contains(answer.out, "\r\na,\"U1, left\",top"));
    CHECK(contains(answer.out, "\"says \"\"hi\"\"\""));
}

TEST_CASE("a page in px gives a scale that every check doubts") {
    const TemporaryFolder folder;
    std::string px = kTrace;
    px.replace(px.find("20mm"), 4, "200");
    px.replace(px.find("10mm"), 4, "100");
    const std::string chart = folder.file("t.chart.json");
    REQUIRE(call({"import", folder.write("t.svg", px), "-o", chart}).code < 2);
    const Answer answer = call({"check", chart});
    CHECK(answer.code == 1);
    CHECK(contains(answer.err, "The scale is only sure within 50 %"));
}

TEST_CASE("a body that crosses itself is kept with what the hand went round") {
    const TemporaryFolder folder;
    const std::string trace =
        folder.write("t.svg", R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm"
        viewBox="0 0 20 10"><g id="body"><path id="U1" d="M2,2 L6,6 L6,2 L2,6 Z"/></g></svg>)");
    const Answer answer = call({"import", trace, "-o", folder.file("t.chart.json")});
    CHECK(contains(answer.out, "1 part"));
    CHECK_FALSE(contains(answer.err, "goes round no area"));
}

TEST_CASE("findings are told even when nothing is left to import") {
    const TemporaryFolder folder;
    const std::string trace =
        folder.write("t.svg", R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm">
        <g id="body" style="display:none"><rect width="3" height="2"/></g></svg>)");
    const Answer answer = call({"import", trace, "-o", folder.file("t.chart.json")});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, "display:none"));
    CHECK(contains(answer.err, "the trace holds no shape"));
}

TEST_CASE("no command writes over another chart unasked") {
    const TemporaryFolder folder;
    const std::string other = folder.write("other.chart.json", R"({"format": "padchart", "version": 1})");
    const std::string before = padchart::tests::read_text(other);
    const Answer answer = call({"scale", demo_chart_path(), "--points", "2,3,12,3,10", "-o", other});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, "exists; it may hold somebody's work"));
    CHECK(padchart::tests::read_text(other) == before);
}

TEST_CASE("clearance reports a sensitive part inside the nozzle's reach by its exit code") {
    // J2 stands 2 mm from U4, the reach is 2.5 + 1 mm, measured from the aim.
    CHECK(call({"clearance", demo_chart_path(), "--target", "U4"}).code == 1);
}

TEST_CASE("a shape kilometres off the page is left out with a finding and the rest is imported") {
    const TemporaryFolder folder;
    const std::string trace =
        folder.write("t.svg", R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm"
        viewBox="0 0 20 10"><g id="pads"><rect x="20000" y="1" width="1" height="1"/><rect x="2" y="1" width="1"
        height="1"/></g></svg>)");
    const Answer answer = call({"import", trace, "-o", folder.file("t.chart.json")});
    CHECK(answer.code == 1);
    CHECK(contains(answer.err, "reaches beyond 4,000 mm and is left out"));
    CHECK(contains(answer.out, "1 part, 1 pad"));
}
