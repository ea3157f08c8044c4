// Pieces of photos that go with a sheet or a page, held against a photograph made through a camera that is known.

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

#include "cli/page_pictures.hpp"
#include "cli/photo_pictures.hpp"
#include "cli/run_support.hpp"
#include "paint/photo_pixels.hpp"
#include "scene/chart_scene.hpp"
#include "support/photo_maker.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using padchart::tests::call;
using padchart::tests::demo_chart_path;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;

namespace {

struct Photographed {
    document::Chart chart;
    std::string path;
    geometry::Homography pixel_from_board;
};

/// The demo's board with one photo of its top beside it, and U4's record seen on a piece of that photo.
Photographed photographed(const TemporaryFolder& folder) {
    Photographed out{json::load_chart(demo_chart_path()).value(), folder.file("board.chart.json"), {}};
    scene::ViewOptions options;
    options.show_zones = false;
    const geometry::Box board = scene::chart_scene(out.chart, {}, options).bounds;
    tests::Shot shot;
    shot.noise = 0.0;
    shot.pixel_from_board = tests::camera_over(board, shot.width, shot.height, 15, 8, false);
    out.pixel_from_board = shot.pixel_from_board;
    REQUIRE(!folder.write("top.jpg", tests::jpeg_of(tests::photograph(out.chart, shot))).empty());
    document::Photo photo;
    photo.id = {"photo-top"};
    photo.path = "top.jpg";
    const geometry::Homography back = shot.pixel_from_board.inverse();
    photo.board_from_pixel.assign(back.h.begin(), back.h.end());
    out.chart.photos.add(photo);
    const std::size_t at = *document::find_part_named(out.chart, "U4");
    document::Footprint part = out.chart.parts[at];
    part.orientation.evidence.photo = photo.id;
    part.orientation.evidence.crop_px = {400, 300, 500, 250};
    out.chart.parts.replace(at, part);
    REQUIRE(json::save_chart(out.chart, out.path));
    return out;
}

} // namespace

TEST_CASE("the piece of a photo that is evidence is cut, reduced and left out where the file is gone") {
    const TemporaryFolder folder;
    Photographed board = photographed(folder);
    const auto pieces = cli::evidence_pictures(board.chart, board.path);
    REQUIRE(pieces.size() == 1);
    CHECK(pieces[0].part == board.chart.parts[*document::find_part_named(board.chart, "U4")].id);
    CHECK(pieces[0].picture.width == 125); // 500 px, halved twice to come under 240
    CHECK(pieces[0].picture.height == 63);
    CHECK(pieces[0].picture.rgb.size() == 3U * 125U * 63U);
    const auto jpegs = cli::evidence_for_page(board.chart, board.path);
    REQUIRE(jpegs.size() == 1);
    const auto decoded = paint::decode_photo(jpegs[0].jpeg, 1U << 20U);
    REQUIRE(decoded);
    CHECK(decoded->full.width == 125);
    for (int y = 0; y < 63; y += 7) // JPEG at quality 80 keeps a picture within a few levels
        for (int x = 0; x < 125; x += 7)
            CHECK(std::abs(
                      decoded->pixels.at(x, y)[1] -
                      pieces[0].picture.rgb[3U * (125U * static_cast<unsigned>(y) + static_cast<unsigned>(x)) + 1U]) <
                  60);
    std::filesystem::remove(folder.file("top.jpg"));
    CHECK(cli::evidence_pictures(board.chart, board.path).empty());
}

TEST_CASE("a photo laid flat shows each land where the map of its side has it") {
    const TemporaryFolder folder;
    const Photographed board = photographed(folder);
    const auto photos = cli::board_photos(board.chart, board.path);
    REQUIRE(photos.size() == 1);
    const scene::Picture& flat = photos[0].picture;
    CHECK(std::max(flat.width, flat.height) <= 1400);
    const auto bytes = read_text(folder.file("top.jpg"));
    const paint::Pixels photo = paint::decode_photo(bytes, 1U << 28U)->pixels;
    const geometry::Box& box = photos[0].box;
    int compared = 0;
    for (const document::Footprint& part : board.chart.parts) {
        if (part.placement.side != document::Side::Top) continue;
        const geometry::Vec2 at = part.placement.at;
        const geometry::Vec2 seen = board.pixel_from_board(at);
        const int x = static_cast<int>((at.x - box.min.x) / box.width() * flat.width);
        const int y = static_cast<int>((at.y - box.min.y) / box.height() * flat.height);
        const std::uint8_t* there = photo.at(static_cast<int>(seen.x), static_cast<int>(seen.y));
        const std::size_t here =
            3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(flat.width) + static_cast<std::size_t>(x));
        int near = 255; // within a pixel, for parts end sharply
        for (int channel = 0; channel < 3; ++channel)
            near = std::min(near, std::abs(there[channel] - flat.rgb[here + static_cast<std::size_t>(channel)]));
        CHECK(near < 40);
        ++compared;
    }
    CHECK(compared > 10);
}

TEST_CASE("sheet and card print the piece and the page takes photos only where it is asked to") {
    const TemporaryFolder folder;
    const Photographed board = photographed(folder);
    const std::string page = folder.file("board.html");
    CHECK(call({"sheet", board.path, "-o", page}).code == 0);
    const std::string without = read_text(page);
    CHECK(without.find("<image") == std::string::npos);
    CHECK(without.find("<img class=\"seen\"") != std::string::npos);
    CHECK(without.find("img-src data:;") != std::string::npos);
    CHECK(call({"sheet", board.path, "-o", page, "--with-photos"}).code == 0);
    const std::string with = read_text(page);
    CHECK(with.find("<image class=\"photo\"") != std::string::npos);
    CHECK(with.size() > without.size() + 20'000);
    CHECK(with.size() < without.size() + 1'500'000);
    const std::string plain = folder.file("plain.html");
    CHECK(call({"sheet", demo_chart_path(), "-o", plain, "--with-photos"}).code == 0);
    CHECK(read_text(plain).find("img-src") == std::string::npos);

    const std::string svg = folder.file("card.svg");
    CHECK(call({"card", board.path, "--part", "U4", "-o", svg}).code <= 1);
    CHECK(read_text(svg).find("<image") != std::string::npos);
    const std::string pdf = folder.file("card.pdf");
    call({"card", board.path, "--part", "U4", "-o", pdf});
    const std::string once = read_text(pdf);
    CHECK(once.find("/Subtype /Image") != std::string::npos);
    call({"card", board.path, "--part", "U4", "-o", pdf});
    CHECK(read_text(pdf) == once);
}
