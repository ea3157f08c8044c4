// `heat` and `noaim` with a calibrated station of the chart.
#include <doctest/doctest.h>

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

/// The demo chart with one station for the settings of its plan, or without a scale.
std::string changed(const TemporaryFolder& folder, bool with_scale) {
    Result<document::Chart> chart = json::load_chart(demo_chart_path());
    REQUIRE(chart.has_value());
    const document::HeatPlan& plan = chart->heat_plans[0];
    document::Station station;
    station.id.text = "station-bench";
    station.name = "bench 2";
    station.nozzle_bore_mm = plan.nozzle_bore_mm;
    station.flow_l_per_min = plan.flow_l_per_min;
    station.stand_off_mm = plan.stand_off_mm;
    station.exit_factor = 0.87;
    Result<document::Chart> with = document::put(*chart, station);
    REQUIRE(with.has_value());
    if (!with_scale) with->scale.reset();
    const std::string path = folder.file("board.chart.json");
    REQUIRE(json::save_chart(*with, path).has_value());
    return path;
}

} // namespace

TEST_CASE("a station by name narrows the answer and is named in it") {
    const TemporaryFolder folder;
    const std::string path = changed(folder, true);
    const Answer wide = call({"heat", path, "--target", "U4", "--cell", "1.5", "--json"});
    const Answer narrow = call({"heat", path, "--target", "U4", "--cell", "1.5", "--station", "bench 2", "--json"});
    CHECK(narrow.code != 2);
    CHECK(contains(wide.out, "\"calibrated\": false"));
    CHECK(contains(narrow.out, "\"calibrated\": true"));
    CHECK(contains(narrow.out, "\"station\": \"bench 2\""));
    CHECK(contains(narrow.out, "\"largest_step_residual_w\""));
    const Answer unused =
        call({"heat", path, "--target", "U4", "--cell", "1.5", "--station", "bench 2", "--nozzle", "9"});
    CHECK(contains(unused.err, "nozzle 9 mm instead of"));
    const Answer unknown = call({"heat", path, "--target", "U4", "--station", "bench 9"});
    CHECK(unknown.code == 2);
    CHECK(contains(unknown.err, "it has \"bench 2\""));
    const Answer none = call({"heat", demo_chart_path(), "--target", "U4", "--station", "bench 9"});
    CHECK(none.code == 2);
}

TEST_CASE("a chart without a scale is named by its file") {
    const TemporaryFolder folder;
    const std::string path = changed(folder, false);
    for (const char* command : {"heat", "noaim"}) {
        const Answer answer = call({command, path, "--target", "U4"});
        CHECK(answer.code == 2);
        CHECK(contains(answer.err, path));
        CHECK(contains(answer.err, "has no scale"));
    }
}
