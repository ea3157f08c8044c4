// Every chart that ships is opened, checked and rendered, and the demo is what its trace says.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "cli/run_support.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using namespace padchart::tests;

namespace {

std::vector<std::filesystem::path> shipped_charts() {
    std::vector<std::filesystem::path> charts;
    for (const char* folder : {"layouts", "demo"})
        for (const auto& entry : std::filesystem::directory_iterator(source_folder() / folder))
            if (entry.path().string().ends_with(".chart.json")) charts.push_back(entry.path());
    std::sort(charts.begin(), charts.end());
    return charts;
}

double largest_offset(const geometry::Ring& a, const geometry::Ring& b) {
    REQUIRE(a.size() == b.size());
    double largest = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i)
        largest = std::max(largest, geometry::distance(a[i], b[i]));
    return largest;
}

} // namespace

TEST_CASE("every shipped chart is read and saved again byte for byte and can be checked") {
    const auto charts = shipped_charts();
    REQUIRE(charts.size() >= 4);
    for (const std::filesystem::path& path : charts) {
        CAPTURE(path.string());
        const Result<document::Chart> chart = json::load_chart(path);
        REQUIRE(chart);
        CHECK(json::write_chart(*chart) == read_text(path));
        CHECK(call({"check", path.string()}).code < 2);
        CHECK(call({"parts", path.string()}).code == 0);
    }
}

TEST_CASE("every shipped chart gives a sheet as PDF and picture") {
    const TemporaryFolder folder;
    for (const std::filesystem::path& path : shipped_charts()) {
        CAPTURE(path.string());
        for (const char* ending : {"pdf", "svg", "png"}) {
            const std::string out = folder.file(path.stem().string() + "." + ending);
            CHECK(call({"sheet", path.string(), "-o", out}).code == 0);
        }
    }
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path()), {}) >= 12);
}

TEST_CASE("import of the demo trace gives the demo chart's geometry within a hundredth of a millimetre") {
    const TemporaryFolder folder;
    const std::string path = folder.file("again.chart.json");
    REQUIRE(call({"import", demo_trace_path(), "-o", path}).code < 2);
    const Result<document::Chart> traced = json::load_chart(path);
    const Result<document::Chart> demo = json::load_chart(demo_chart_path());
    REQUIRE(traced);
    REQUIRE(demo);
    REQUIRE(traced->parts.size() == demo->parts.size());
    double largest = 0.0;
    for (const document::Footprint& part : traced->parts) {
        const auto at = document::find_part(*demo, part.id);
        REQUIRE(at);
        const document::Footprint& same = demo->parts[*at];
        REQUIRE(part.pads.size() == same.pads.size());
        for (std::size_t i = 0; i < part.pads.size(); ++i)
            largest = std::max(largest, largest_offset(document::outline_on_board(part, part.pads[i]),
                                                       document::outline_on_board(same, same.pads[i])));
        largest = std::max(largest, largest_offset(document::body_on_board(part), document::body_on_board(same)));
    }
    largest = std::max(largest, largest_offset(traced->board.outline->outer, demo->board.outline->outer));
    CHECK(largest < 0.01);
}

TEST_CASE("the demo shows what the tool is for") {
    const Result<document::Chart> demo = json::load_chart(demo_chart_path());
    REQUIRE(demo);
    std::map<document::Side, int> parts;
    int sensitive = 0;
    int recorded = 0;
    for (const document::Footprint& part : demo->parts) {
        ++parts[part.placement.side];
        sensitive += part.heat ? 1 : 0;
        recorded += part.orientation.state == document::RecordState::Recorded ? 1 : 0;
    }
    CHECK(parts[document::Side::Top] >= 40);
    CHECK(parts[document::Side::Bottom] >= 5);
    CHECK(sensitive >= 5);
    CHECK(recorded >= 6);
    CHECK(demo->scale.has_value());
    CHECK(demo->heat_plans.size() == 1);
}
