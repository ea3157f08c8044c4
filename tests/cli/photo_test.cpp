#include <doctest/doctest.h>

#include <filesystem>
#include <string>

#include "cli/run_support.hpp"
#include "document/edits.hpp"
#include "paint/photo_pixels.hpp"
#include "scene/chart_scene.hpp"
#include "support/photo_maker.hpp"
#include "json/chart_file.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::demo_chart_path;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;
using namespace std::string_literals;

namespace {

/// 640 x 480 pixels, grey that runs: no row is like the next.
padchart::paint::Pixels grey_wedge() {
    padchart::paint::Pixels pixels{640, 480, {}};
    for (int i = 0; i < 640 * 480; ++i)
        pixels.rgb.insert(pixels.rgb.end(), 3, static_cast<std::uint8_t>(i * 7 / 640 + i % 13));
    return pixels;
}

const std::string kPng = padchart::tests::png_of(grey_wedge());

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
    CHECK(contains(added.out, "; taken about 0 degrees off straight\n"));
    const auto told = [&](const std::string& points) {
        const std::string other = folder.file("other.chart.json");
        return call({"photo", demo_chart_path(), "--add", photo, "--points", points, "-o", other, "--force"}).out;
    };
    CHECK(contains(told("0,0=0,0; 600,0=60,0; 600,400=60,40; 0,400=0,40"), "off straight if the points are right\n"));
    CHECK(contains(told("0,0=0,0; 600,0=60,0; 600,400=60,40; 0,400=0,40; 300,200=36,20"),
                   "cannot be told: the points do not fit\n"));
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

TEST_CASE("points of a mirrored picture tell that it is one and how to say so") {
    const TemporaryFolder folder;
    const std::string photo = folder.write("top.png", kPng), out = folder.file("with.chart.json");
    const std::string mirrored = "600,0=0,0; 0,0=60,0; 0,400=60,40; 600,400=0,40; 300,200=30,20";
    const Answer plain = call({"photo", demo_chart_path(), "--add", photo, "--points", mirrored, "-o", out});
    CHECK(contains(plain.out, "the points lie as in a mirror image: say so with --mirrored"));
    CHECK_FALSE(contains(plain.out, "do not fit"));
    const Answer said =
        call({"photo", demo_chart_path(), "--add", photo, "--points", mirrored, "--mirrored", "-o", out, "--force"});
    CHECK_FALSE(contains(said.out, "mirror image"));
    const Answer wrong = call({"photo", demo_chart_path(), "--add", photo, "--points",
                               "0,0=0,0;600,0=60,0;600,400=60,40;0,400=0,40", "--mirrored", "-o", out, "--force"});
    CHECK(contains(wrong.out, "do not lie as in a mirror image: leave --mirrored out"));
}

TEST_CASE("a check of the chart tells of photos that are missing or not the ones it was made over") {
    const TemporaryFolder folder;
    const std::string photo = folder.write("top.png", kPng);
    const std::string out = folder.file("with.chart.json");
    CHECK(call({"photo", demo_chart_path(), "--add", photo, "--points", "0,0=0,0;600,0=30,0", "-o", out}).code == 0);
    CHECK_FALSE(contains(call({"check", out, "--json"}).out, "\"photo-"));
    const auto with_record = [](padchart::document::Chart chart) {
        const auto id = chart.parts[0].id;
        return padchart::document::change_part(chart, id, [&](padchart::document::Footprint& part) {
            part.name = "U77";
            part.orientation.state = padchart::document::RecordState::Recorded;
            part.orientation.evidence.photo = chart.photos[0].id;
        });
    };
    REQUIRE(padchart::json::save_chart(with_record(padchart::json::load_chart(out).value()).value(), out));
    CHECK_FALSE(contains(call({"check", out, "--json"}).out, "record-on-lost-photo"));
    CHECK(folder.write("top.png", kPng + "x") == photo);
    CHECK(contains(call({"check", out, "--json"}).out, "\"photo-changed\""));
    std::filesystem::remove(photo);
    const Answer gone = call({"check", out});
    CHECK(gone.code == 1);
    CHECK(contains(gone.err, "top.png is not there"));
    CHECK(contains(gone.err, "The record of which way U77 sits rests on top.png, which is not there."));
}

TEST_CASE("a picture that is cut off is told as cut off wherever its rows are missing") {
    const TemporaryFolder folder;
    const std::string out = folder.file("with.chart.json");
    const std::string jpeg = padchart::tests::jpeg_of(grey_wedge());
    for (const auto& [name, whole] : {std::pair{"top.jpg"s, jpeg}, std::pair{"top.png"s, kPng}}) {
        CAPTURE(name);
        const std::string photo = folder.write(name, whole.substr(0, whole.size() / 2));
        const Answer added =
            call({"photo", demo_chart_path(), "--add", photo, "--points", "0,0=0,0;600,0=30,0", "-o", out, "--force"});
        CHECK(added.code == 1);
        CHECK(contains(added.err, name + " is damaged or ends before its picture does"));
        const Answer looked = call({"photo", out, "--check"});
        CHECK(looked.code == 1);
        CHECK(contains(looked.out, name + ": "));
        CHECK(contains(looked.err, name + " is damaged or ends before its picture does"));
        CHECK(contains(call({"check", out, "--json"}).out, "\"photo-unreadable\""));
    }
}

TEST_CASE("a donor's photo keeps the points it was placed by and says what it shows") {
    const TemporaryFolder folder;
    const std::string photo = folder.write("donor.png", kPng);
    const std::string out = folder.file("with.chart.json");
    CHECK(call({"photo", demo_chart_path(), "--add", photo, "--donor", "--mirrored", "--points",
                "0,0=30,0; 600,0=0,0; 600,400=0,20; 0,400=30,20", "-o", out})
              .code == 0);
    const auto chart = padchart::json::load_chart(out);
    REQUIRE(chart);
    REQUIRE(chart->photos.size() == 1);
    CHECK(chart->photos[0].board == padchart::document::WhichBoard::Donor);
    CHECK(chart->photos[0].mirrored);
    REQUIRE(chart->photos[0].points.size() == 4);
    CHECK(chart->photos[0].points[1].pixel == padchart::geometry::Vec2{600, 0});
    CHECK(chart->photos[0].points[1].at == padchart::geometry::Vec2{0, 0});
}

TEST_CASE("the chart is laid over a donor's photo as it was taken and frames the part to lift") {
    const TemporaryFolder folder;
    const auto chart = padchart::json::load_chart(demo_chart_path());
    REQUIRE(chart);
    padchart::tests::Shot shot;
    shot.width = 800;
    shot.height = 600;
    const padchart::geometry::Box board = padchart::scene::chart_scene(*chart, {}, {}).bounds;
    shot.pixel_from_board = padchart::tests::camera_over(board, 800, 600, 15.0, 188.0, true);
    const auto photo_pixels = padchart::tests::photograph(*chart, shot);
    const std::string photo = folder.write("donor.jpg", padchart::tests::jpeg_of(photo_pixels));
    std::string points;
    for (const padchart::geometry::Vec2 at : {padchart::geometry::Vec2{4, 4}, {40, 11}, {40, 28}, {4, 28}}) {
        const auto pixel = shot.pixel_from_board(at);
        points += std::to_string(pixel.x) + "," + std::to_string(pixel.y) + "=" + std::to_string(at.x) + "," +
                  std::to_string(at.y) + ";";
    }
    const std::string out = folder.file("with.chart.json"), picture = folder.file("over.png");
    CHECK(call({"photo", demo_chart_path(), "--add", photo, "--donor", "--mirrored", "--points", points, "-o", out})
              .code == 0);
    const Answer over = call({"photo", out, "--over", "donor.jpg", "--select", "U4", "-o", picture});
    CHECK(over.code == 0);
    CHECK(contains(over.out, "800 x 600 pixels"));
    const auto drawn = padchart::paint::decode_photo(read_text(picture), std::size_t{64} << 20U);
    REQUIRE(drawn);
    // The frame of the selection (0072B2) lies round U4 in the photo's own turn and mirroring, and nowhere else.
    const auto part = padchart::document::find_part_named(*chart, "U4");
    REQUIRE(part);
    const auto middle = shot.pixel_from_board(chart->parts[*part].placement.at);
    int blue = 0, astray = 0;
    for (int y = 0; y < 600; ++y)
        for (int x = 0; x < 800; ++x) {
            const std::uint8_t* p = drawn->pixels.at(x, y);
            if (p[0] > 40 || p[1] < 90 || p[1] > 135 || p[2] < 150) continue;
            ++blue;
            if (padchart::geometry::distance({1.0 * x, 1.0 * y}, middle) > 90) ++astray;
        }
    CHECK(blue > 60);
    CHECK(astray == 0);
    CHECK(call({"photo", out, "--over", "donor.jpg", "-o", picture}).code == 2); // it exists
    CHECK(contains(call({"photo", out, "--over", "other.jpg", "-o", folder.file("b.png")}).err,
                   "the chart has donor.jpg"));
}
