#include <doctest/doctest.h>

#include <filesystem>
#include <string>

#include "cli/run_support.hpp"
#include "json/chart_file.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::demo_chart_path;
using padchart::tests::TemporaryFolder;
using namespace std::string_literals;

namespace {

bool contains(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

/// The head of a PNG of 640 x 480 pixels; nothing here looks further.
const std::string kPng = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x02\x80\0\0\x01\xe0\x08\x02\0\0\0"s;

} // namespace

TEST_CASE("a photo is added with its place and its checksum and is looked after") {
    const TemporaryFolder folder;
    const std::string photo = folder.write("top.png", kPng);
    const std::string out = folder.file("with.chart.json");
    const Answer added = call({"photo", demo_chart_path(), "--add", photo, "--points",
                               "0,0=0,0; 600,0=60,0; 600,400=60,40; 0,400=0,40; 300,200=30.1,20", "-o", out});
    CHECK(added.code == 0);
    CHECK(contains(added.out, "point 5: 300, 200 -> 30.1, 20 mm, off by"));
    CHECK(contains(added.out, "rms 0."));
    const auto chart = padchart::json::load_chart(out);
    REQUIRE(chart);
    REQUIRE(chart->photos.size() == 1);
    CHECK(chart->photos[0].path == "top.png");
    CHECK(chart->photos[0].board_from_pixel.size() == 9);
    CHECK(call({"photo", out, "--check"}).code == 0);

    CHECK(folder.write("top.png", kPng + "x") == photo);
    const Answer changed = call({"photo", out, "--check", "--json"});
    CHECK(changed.code == 1);
    CHECK(contains(changed.out, "\"photo-changed\""));
    std::filesystem::remove(photo);
    CHECK(contains(call({"photo", out, "--check"}).err, "top.png is not there"));
}

TEST_CASE("a photo that is placed anew takes the place of itself") {
    const TemporaryFolder folder;
    const std::string photo = folder.write("top.png", kPng);
    const std::string out = folder.file("with.chart.json");
    call({"photo", demo_chart_path(), "--add", photo, "-o", out});
    const Answer again = call({"photo", out, "--add", photo, "--points", "0,0=0,0;600,0=30,0", "-o", out});
    CHECK(again.code == 0);
    const auto chart = padchart::json::load_chart(out);
    REQUIRE(chart);
    REQUIRE(chart->photos.size() == 1);
    CHECK(chart->photos[0].board_from_pixel[0] == doctest::Approx(0.05));
}

TEST_CASE("points outside of the picture and pictures that are none are told") {
    const TemporaryFolder folder;
    const std::string photo = folder.write("top.png", kPng);
    const std::string out = folder.file("with.chart.json");
    const Answer outside =
        call({"photo", demo_chart_path(), "--add", photo, "--points", "0,0=0,0;700,0=30,0", "-o", out});
    CHECK(outside.code == 1);
    CHECK(contains(outside.err, "point 2 at 700, 0 lies outside of the picture, which has 640 x 480 pixels"));
    const auto refused = [&](const std::string& file, const std::string& points, const std::string& why) {
        const Answer answer = call({"photo", demo_chart_path(), "--add", file, "--points", points, "-o", out});
        CHECK(answer.code == 2);
        CHECK(contains(answer.err, why));
    };
    refused(photo, "0,0;1,1=2,2", "is not PX,PY=X,Y");
    refused(photo, "0,0=0;1,1=2,2", "is not 2 numbers");
    refused(photo, "0,0=0,0", "two points or more");
    refused(folder.write("note.txt", "text"), "0,0=0,0;1,1=2,2", "neither a JPEG nor a PNG");
    refused(folder.file("none.png"), "0,0=0,0;1,1=2,2", "No such file or directory");
    CHECK(call({"photo", demo_chart_path()}).code == 2);
    CHECK(call({"photo", demo_chart_path(), "--add", photo}).code == 2);
}

TEST_CASE("a photo whose path names a device or a folder is told and not read") {
    const TemporaryFolder folder;
    for (const char* path : {"/dev/zero", ".", "gone.png"}) {
        const std::string chart = folder.write(
            "odd.chart.json", R"({"format": "padchart", "version": 1, "photos": [{"id": "ph-1", "path": ")" +
                                  std::string(path) + R"("}]})");
        const Answer answer = call({"photo", chart, "--check"});
        CHECK(answer.code == 1);
        CHECK(contains(answer.err, path));
    }
}
