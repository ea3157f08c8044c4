// Nothing that somebody else made is written over unless that is said.

#include <doctest/doctest.h>

#include <filesystem>

#include "document/edits.hpp"
#include "paint/picture_file.hpp"
#include "run_support.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using namespace padchart::tests;

namespace {

constexpr const char* kTrace = R"(<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10"><rect width="3" height="2"/></svg>
)";

void place_chart(const std::string& path, const document::Chart& chart) {
    std::filesystem::create_directories(std::filesystem::path(path).parent_path());
    REQUIRE(json::save_chart(chart, path));
}

document::Chart demo() {
    return json::load_chart(demo_chart_path()).value();
}

} // namespace

TEST_CASE("a sheet takes the place of a sheet and never that of a trace or a photograph") {
    const TemporaryFolder folder;
    for (const char* ending : {"svg", "png", "pdf"}) {
        CAPTURE(ending);
        const std::string path = folder.file(std::string("card.") + ending);
        const auto card = [&] { return call({"card", demo_chart_path(), "--part", "C9", "-o", path}).code; };
        CHECK(card() <= 1);
        CHECK(paint::is_own_picture(path));
        CHECK(card() <= 1); // last week's card goes
        const std::string trace = folder.write(std::string("mine.") + ending, kTrace);
        const Answer refused = call({"card", demo_chart_path(), "--part", "C9", "-o", trace});
        CHECK(refused.code == 2);
        CHECK(contains(refused.err, "Padchart did not write it"));
        CHECK(read_text(trace) == kTrace);
        CHECK(call({"card", demo_chart_path(), "--part", "C9", "-o", trace, "--force"}).code <= 1);
        CHECK(read_text(trace) != kTrace);
    }
}

TEST_CASE("all pages of a sheet are looked at before the first is written") {
    const TemporaryFolder folder;
    const std::string second = folder.write("s-2.svg", kTrace);
    CHECK(call({"sheet", demo_chart_path(), "-o", folder.file("s.svg")}).code == 2);
    CHECK(read_text(second) == kTrace);
    CHECK_FALSE(std::filesystem::exists(folder.file("s.svg")));
}

TEST_CASE("a page takes the place of a page and of nothing else") {
    const TemporaryFolder folder;
    const std::string page = folder.file("p.html");
    CHECK(call({"sheet", demo_chart_path(), "-o", page}).code == 0);
    CHECK(call({"sheet", demo_chart_path(), "-o", page}).code == 0);
    const std::string other = folder.write("other.html", "<html><p>somebody's words</p></html>");
    CHECK(call({"sheet", demo_chart_path(), "-o", other}).code == 2);
    CHECK(contains(read_text(other), "somebody's words"));
    // Nor does the chart taken out of it take its place.
    CHECK(call({"extract", page, "-o", page}).code == 2);
    CHECK(contains(read_text(page), "<html"));
    CHECK(call({"freeze", page}).code == 2);
    CHECK_FALSE(std::filesystem::exists(folder.file("p.html.before.chart.json")));
}

TEST_CASE("a merge writes over the charts it was given and over no other") {
    const TemporaryFolder folder;
    const std::string ours = folder.file("ours.chart.json"), other = folder.file("other.chart.json");
    place_chart(ours, demo());
    place_chart(other, document::Chart{});
    const std::string before = read_text(other);
    const Answer refused = call({"merge", ours, ours, ours, "-o", other});
    CHECK(refused.code == 129); // git stops
    CHECK(contains(refused.err, "--force"));
    CHECK(read_text(other) == before);
    CHECK(call({"merge", ours, ours, ours, "-o", ours}).code == 0);
    CHECK(call({"merge", ours, ours, ours, "-o", other, "--force"}).code == 0);
}

TEST_CASE("neither a pattern nor a report takes the place of the chart it is of, nor a chart that of its trace") {
    const TemporaryFolder folder;
    const std::string chart = folder.file("shop/one.chart.json");
    place_chart(chart, demo());
    const std::string before = read_text(chart);
    CHECK(call({"pattern", chart, "--part", "U6", "-o", chart}).code == 2);
    CHECK(call({"check", "--all", folder.file("shop"), "--junit", chart}).code == 2);
    CHECK(read_text(chart) == before);
    const std::string trace = folder.write("t.svg", kTrace);
    CHECK(call({"import", trace, "-o", trace, "--force"}).code == 2);
    CHECK(read_text(trace) == kTrace);
}

TEST_CASE("a name that two parts bear is asked about and an id settles it") {
    const TemporaryFolder folder;
    document::Chart chart = demo();
    const auto at = document::find_part_named(chart, "U4");
    REQUIRE(at);
    document::Footprint twin = chart.parts[*at];
    twin.id = document::Id{"second-u4"};
    twin.placement.side = document::Side::Bottom;
    chart = document::add_part(chart, twin).value();
    const std::string path = folder.file("two.chart.json");
    place_chart(path, chart);
    const Answer asked = call({"clearance", path, "--target", "U4"});
    CHECK(asked.code == 2);
    CHECK(contains(asked.err, "2 parts are called \"U4\""));
    CHECK(contains(asked.err, "second-u4 (bottom side)"));
    CHECK(call({"clearance", path, "--target", "second-u4"}).code <= 1);
}

TEST_CASE("a chart saved into another folder goes on naming its photos and its copy from before the heat") {
    const TemporaryFolder folder;
    document::Chart chart = demo();
    document::Photo photo;
    photo.id = document::Id{"photo-1"};
    photo.path = "top.png";
    chart.photos.add(photo);
    const std::string here = folder.file("a/x.chart.json"), there = folder.file("b/y.chart.json");
    place_chart(here, chart);
    std::filesystem::create_directories(folder.file("b"));
    REQUIRE(call({"freeze", here}).code == 0);
    CHECK(call({"scale", here, "--points", "0,0,20,0,20", "--less-sure", "-o", there}).code <= 1);
    const document::Chart moved = json::load_chart(there).value();
    CHECK(moved.photos[0].path == "../a/top.png");
    REQUIRE(moved.frozen_before);
    CHECK(moved.frozen_before->path == "../a/x.before.chart.json");
    CHECK(call({"compare", there}).code <= 1);
}

TEST_CASE("a photo outside the chart's folder is not brought onto a sheet") {
    const TemporaryFolder folder;
    document::Chart chart = demo();
    document::Photo photo;
    photo.id = document::Id{"photo-1"};
    photo.path = "../secret.png";
    chart.photos.add(photo);
    const std::string path = folder.file("shop/x.chart.json");
    place_chart(path, chart);
    CHECK(contains(call({"check", path, "--json"}).out, "no sheet shows it"));
}

TEST_CASE("a stated scale that the page's own size contradicts is told") {
    const TemporaryFolder folder;
    const std::string trace = folder.write("t.svg", kTrace);
    const Answer told = call({"import", trace, "--mm-per-unit", "2", "-o", folder.file("t.chart.json")});
    CHECK(told.code == 1);
    CHECK(contains(told.err, "scale"));
    const Answer agreed = call({"import", trace, "--mm-per-unit", "1", "-o", folder.file("u.chart.json")});
    CHECK_FALSE(contains(agreed.err, "scale"));
}

TEST_CASE("aims too far apart for a zone between them are refused, not answered with no zone") {
    for (const char* step : {"0", "-2", "nan", "inf", "30", "1e-9"}) {
        CAPTURE(step);
        const Answer answer = call({"noaim", demo_chart_path(), "--target", "U4", "--step", step});
        CHECK(answer.code == 2);
        CHECK(contains(answer.err, "--step"));
    }
}

TEST_CASE("without a scale there are no cards and no donor") {
    const TemporaryFolder folder;
    document::Chart chart = demo();
    chart.scale.reset();
    const std::string path = folder.file("x.chart.json");
    place_chart(path, chart);
    const Answer card = call({"card", path, "--all", "-o", folder.file("c.pdf")});
    CHECK(card.code == 2);
    CHECK(contains(card.err, "no scale"));
    CHECK(call({"donor", path, demo_chart_path(), "--part", "U6"}).code == 2);
    CHECK(call({"donor", demo_chart_path(), path, "--part", "U6"}).code == 2);
}

TEST_CASE("a chart comes out of its page whatever its parts and ids are called") {
    const TemporaryFolder folder;
    document::Chart chart = demo();
    document::Note note;
    note.id = document::Id{"padchart-chart"};
    note.text = "<script type=\"application/octet-stream\" id=\"padchart-chart\">";
    chart.notes.add(note);
    const std::string path = folder.file("x.chart.json"), page = folder.file("x.html");
    place_chart(path, chart);
    REQUIRE(call({"sheet", path, "-o", page}).code == 0);
    CHECK(call({"extract", page, "-o", folder.file("back.chart.json")}).code == 0);
    CHECK(read_text(folder.file("back.chart.json")) == read_text(path));
}
