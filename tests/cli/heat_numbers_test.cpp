// Numbers no bench has, and what `heat`, `noaim` and `access` say of them.
#include <doctest/doctest.h>

#include <sstream>

#include "cli/run_support.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::demo_chart_path;
using padchart::tests::TemporaryFolder;

namespace {

Answer ask(const std::vector<std::string>& words) {
    std::ostringstream out, err;
    const int code = cli::run(words, {out, err}, tests::no_window);
    return {code, out.str(), err.str()};
}

/// The demo chart whose own plan has a set point nobody can run.
std::string spoilt(const TemporaryFolder& folder) {
    Result<document::Chart> chart = json::load_chart(demo_chart_path());
    REQUIRE(chart.has_value());
    document::HeatPlan plan = chart->heat_plans[0];
    plan.set_point_c = 900;
    Result<document::Chart> with = document::put(*chart, plan);
    REQUIRE(with.has_value());
    const std::string path = folder.file("board.chart.json");
    REQUIRE(json::save_chart(*with, path).has_value());
    return path;
}

} // namespace

TEST_CASE("a number no bench has is named with its option and with what would do") {
    struct Wrong {
        std::vector<std::string> words;
        std::string_view said, range;
    };
    const Wrong wrong[] = {{{"--dwell", "0"}, "The dwell is 0 s", "from 0.5 to 1800 s"},
                           {{"--dwell", "-5"}, "The dwell is -5 s", "from 0.5 to 1800 s"},
                           {{"--nozzle", "80"}, "The nozzle bore is 80 mm", "from 0.5 to 50 mm"},
                           {{"--flow", "0"}, "The air flow is 0 L/min", "from 0.5 to 300 L/min"},
                           {{"--set-c", "20"}, "The set point is 20 C", "from 35 to 600 C"},
                           {{"--stand-off", "0"}, "The stand-off is 0 mm", "from 0.5 to 200 mm"},
                           {{"--low-melt", "1.5"}, "The share of low-melt alloy is 1.5", "from 0 to 1"},
                           {{"--preheat-c", "700"}, "The preheater is 700 C", "from 25 to 300 C"},
                           {{"--aim", "500,500"}, "off the board", "Aim at the board"},
                           {{"--alloy", "butter"}, "\"butter\"", "SAC305"}};
    for (const Wrong& one : wrong)
        for (const char* command : {"heat", "noaim"}) {
            std::vector<std::string> words = {command, demo_chart_path(), "--target", "U4"};
            words.insert(words.end(), one.words.begin(), one.words.end());
            const Answer answer = ask(words);
            CAPTURE(answer.err);
            CHECK(answer.code == 2);
            CHECK(contains(answer.err, one.said));
            CHECK(contains(answer.err, one.range));
            CHECK(contains(answer.err, one.words[0]));
            CHECK(answer.out.empty());
        }
}

TEST_CASE("a nozzle that goes round heats its middle less") {
    const auto coldest = [](const std::string& radius) {
        const Answer answer =
            call({"heat", demo_chart_path(), "--target", "U4", "--cell", "1.5", "--circle", radius, "--json"});
        CHECK(answer.code == 1);
        const std::size_t at = answer.out.find("\"peak_mean_c\"");
        return std::stod(answer.out.substr(answer.out.find("nominal", at) + 10));
    };
    CHECK(coldest("4") < coldest("0") - 5.0);
    const Answer wild = call({"heat", demo_chart_path(), "--target", "U4", "--circle", "-3"});
    CHECK(wild.code == 2);
    CHECK(contains(wild.err, "--circle"));
}

TEST_CASE("a plan of the chart that cannot be run is named wherever it is used") {
    const TemporaryFolder folder;
    const std::string path = spoilt(folder);
    for (const char* command : {"heat", "noaim", "access"}) {
        const Answer answer = call({command, path, "--target", "U4"});
        CAPTURE(answer.err);
        CHECK(answer.code == 2);
        CHECK(contains(answer.err, "The heat plan \"lift U4\" cannot be run"));
        CHECK(contains(answer.err, "The set point is 900 C: from 35 to 600 C"));
        CHECK(contains(answer.err, path));
        CHECK(contains(answer.err, "set_point_c"));
    }
    CHECK(call({"access", path, "--target", "U4", "--no-heat"}).code != 2);
    // A number from the command line that is right stands in for the chart's own.
    CHECK(call({"heat", path, "--target", "U4", "--cell", "2", "--set-c", "350"}).code != 2);
}
