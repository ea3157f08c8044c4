#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string>

#include "base/counted.hpp"
#include "cli/run_support.hpp"
#include "json/chart_file.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::TemporaryFolder;

namespace {

/// Two chips and a lone test land, without bodies, groups or names.
std::string loose_trace(const std::string& more = {}) {
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\" viewBox=\"0 0 20 10\">"
           "<g id=\"pads\">" +
           more +
           "<rect x=\"2\" y=\"2\" width=\".5\" height=\".5\"/><rect x=\"2.9\" y=\"2\" width=\".5\" height=\".5\"/>"
           "<rect x=\"8\" y=\"2\" width=\".8\" height=\"1\"/><rect x=\"9.7\" y=\"2\" width=\".8\" height=\"1\"/>"
           "<circle cx=\"15\" cy=\"7\" r=\".75\"/></g></svg>";
}

} // namespace

TEST_CASE("import proposes in words which loose pads are one part and groups them when told to") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("loose.svg", loose_trace());
    const std::string plain = folder.file("plain.chart.json");
    const Answer proposed = call({"import", trace, "-o", plain, "--propose"});
    CHECK(contains(proposed.out, "two pads 0.5 x 0.5 mm, 0.90 mm from middle to middle"));
    CHECK(contains(proposed.out, "proposal at x 2.70, y 2.25: ")); // of both pads' middles, 2.25 and 3.15
    CHECK(contains(proposed.out, "1005M (inch 0402)"));
    CHECK(padchart::json::load_chart(plain)->parts.size() == 1);

    const std::string grouped = folder.file("grouped.chart.json");
    call({"import", trace, "-o", grouped, "--group"});
    const auto chart = padchart::json::load_chart(grouped);
    REQUIRE(chart);
    REQUIRE(chart->parts.size() == 3);
    CHECK(chart->parts[0].pads.size() == 2);
    CHECK(chart->parts[2].pads.size() == 1);
}

TEST_CASE("pads that were put together once are not proposed again when their trace comes into the chart") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("loose.svg", loose_trace());
    const std::string grouped = folder.file("grouped.chart.json"), plain = folder.file("plain.chart.json");
    call({"import", trace, "-o", grouped, "--group"});
    call({"import", trace, "-o", plain});
    const std::string out = folder.file("next.chart.json");
    CHECK_FALSE(contains(call({"import", trace, "--into", grouped, "-o", out, "--propose"}).out, "proposal at"));
    CHECK(contains(call({"import", trace, "--into", plain, "-o", out, "--propose", "--force"}).out, "proposal at"));
}

TEST_CASE("grouped pads are found again when their trace is corrected") {
    const TemporaryFolder folder;
    const std::string first = folder.file("first.chart.json");
    call({"import", folder.write("a.svg", loose_trace()), "-o", first, "--group"});
    auto chart = padchart::json::load_chart(first);
    REQUIRE(chart);
    const padchart::document::Id small = chart->parts[0].id;
    padchart::document::Footprint named = chart->parts[0];
    named.name = "C7";
    chart->parts.replace(0, named);
    REQUIRE(padchart::json::save_chart(*chart, first));
    const std::string corrected =
        folder.write("b.svg", loose_trace("<rect x=\"2\" y=\"6\" width=\".3\" height=\".3\"/>"
                                          "<rect x=\"2.6\" y=\"6\" width=\".3\" height=\".3\"/>"));
    const std::string second = folder.file("second.chart.json");
    const Answer answer = call({"import", corrected, "--into", first, "-o", second});
    CHECK(contains(answer.out, "3 parts found again"));
    const auto next = padchart::json::load_chart(second);
    REQUIRE(next);
    REQUIRE(next->parts.size() == 4);
    const auto at = padchart::document::find_part_named(*next, "C7");
    REQUIRE(at);
    CHECK(next->parts[*at].id == small);
    CHECK(next->parts[*at].placement.at.y == doctest::Approx(2.25));
}

namespace {

/// A hand-traced part of 16 pads in four rows; one of them may be left out.
std::string four_rows(int without = -1) {
    std::string pads;
    for (int k = 0; k < 16; ++k) {
        if (k == without) continue;
        const double along = 3.0 + 0.65 * (k % 4);
        const bool upright = k / 4 % 2 == 0;
        const double across = k < 8 ? 1.8 : 5.8;
        pads +=
            fmt::format("<rect x=\"{:.3f}\" y=\"{:.3f}\" width=\"{}\" height=\"{}\"/>", upright ? along : across - 0.04,
                        upright ? across : along + 0.0, upright ? 0.35 : 0.8, upright ? 0.8 : 0.35);
    }
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\" viewBox=\"0 0 20 10\">"
           "<g id=\"pads\">" +
           pads + "</g></svg>";
}

} // namespace

TEST_CASE("pads of a part made of loose ones keep their numbers when one is gone from the corrected trace") {
    const TemporaryFolder folder;
    const std::string first = folder.file("first.chart.json");
    call({"import", folder.write("a.svg", four_rows()), "-o", first, "--group"});
    const auto before = padchart::json::load_chart(first);
    REQUIRE(before);
    REQUIRE(before->parts.size() == 1);
    REQUIRE(before->parts[0].pads.size() == 16);
    for (const int without : {5, 0}) {
        CAPTURE(without);
        const std::string second = folder.file("second.chart.json");
        call({"import", folder.write("b.svg", four_rows(without)), "--into", first, "-o", second, "--force"});
        const auto after = padchart::json::load_chart(second);
        REQUIRE(after);
        REQUIRE(after->parts.size() == 1);
        CHECK(after->parts[0].pads.size() == 15);
        for (const auto& pad : after->parts[0].pads) {
            const auto at = padchart::document::board_from_part(after->parts[0].placement)(pad.at);
            for (const auto& old : before->parts[0].pads)
                if (padchart::geometry::distance(
                        at, padchart::document::board_from_part(before->parts[0].placement)(old.at)) < 0.01)
                    CHECK(pad.number == old.number);
        }
    }
}

TEST_CASE("a layer that nobody knows is told by its first shapes and how many more there are") {
    const TemporaryFolder folder;
    std::string text = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\"><g id=\"zeug\">";
    for (int i = 0; i < 100; ++i)
        text += "<rect x=\"" + std::to_string(i % 20) + "\" y=\"" + std::to_string(i / 20) +
                "\" width=\".5\" height=\".5\"/>";
    const Answer answer =
        call({"import", folder.write("many.svg", text + "</g></svg>"), "-o", folder.file("a.chart.json")});
    std::size_t lines = 0;
    for (std::size_t at = answer.err.find("lies in no known layer"); at != std::string::npos;
         at = answer.err.find("lies in no known layer", at + 1))
        ++lines;
    CHECK(lines == 12);
    CHECK(contains(answer.err, "88 more findings like these are not printed (not-understood)"));
}

TEST_CASE("a corrected trace without a page size is grouped in the chart's own scale") {
    const auto without_size = [](std::string text) {
        const std::string size = " width=\"20mm\" height=\"10mm\"";
        return text.erase(text.find(size), size.size());
    };
    const TemporaryFolder folder;
    const std::string first = folder.file("first.chart.json"), second = folder.file("second.chart.json");
    // A pixel drawing: half a pad a unit, far from a millimetre.
    const std::string scale = "0.2";
    call(
        {"import", folder.write("a.svg", without_size(loose_trace())), "--mm-per-unit", scale, "--group", "-o", first});
    const auto chart = padchart::json::load_chart(first);
    REQUIRE(chart);
    const Answer answer =
        call({"import", folder.write("b.svg", without_size(loose_trace())), "--into", first, "-o", second});
    CHECK(contains(answer.out, padchart::counted(chart->parts.size(), "part") + " found again"));
    CHECK(contains(answer.err, "it is read in the chart's own scale, 1 unit = 0.2 mm"));
    CHECK_FALSE(contains(answer.err, "is gone"));
    CHECK_FALSE(contains(answer.err, "states no physical size"));
    const auto next = padchart::json::load_chart(second);
    REQUIRE(next);
    REQUIRE(next->parts.size() == chart->parts.size());
    for (std::size_t i = 0; i < next->parts.size(); ++i)
        CHECK(next->parts[i].pads == chart->parts[i].pads);
    CHECK(next->scale == chart->scale);
}

TEST_CASE("import tidies within a limit that is stated and prints how far each step goes") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("shaky.svg", R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm"
height="10mm" viewBox="0 0 20 10"><g id="body"><rect id="R1" x="2.2" y="2" width="1" height=".5"/></g>
<g id="pads"><rect x="2" y="2" width=".5" height=".5"/><rect x="2.9" y="2.02" width=".51" height=".49"/></g></svg>)");
    const std::string out = folder.file("tidy.chart.json");
    const Answer answer = call({"import", trace, "-o", out, "--tidy"});
    CHECK(contains(answer.out, "tidy: R1: 2 pads to one size 0.505 x 0.495 mm, at most "));
    const auto chart = padchart::json::load_chart(out);
    REQUIRE(chart);
    const auto& pads = chart->parts[0].pads;
    CHECK(pads[0].at.y == doctest::Approx(pads[1].at.y));
    CHECK(pads[0].shape == pads[1].shape);
    const Answer tight = call({"import", trace, "-o", folder.file("tight"), "--tidy", "--tidy-limit", "0.008"});
    CHECK(contains(tight.out, "beyond the limit, left as drawn"));
    CHECK(call({"import", trace, "-o", folder.file("none"), "--tidy", "--tidy-limit", "0"}).code == 2);
}
