// Pages in the window: written from what is on the screen, and opened without ever being saved over.

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "app/documents.hpp"
#include "app/session.hpp"
#include "support.hpp"
#include "support/photo_maker.hpp"
#include "support/places.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using namespace padchart::app;
namespace fs = std::filesystem;

TEST_CASE("a page written from the window holds the chart of the window and is never saved over") {
    const ScratchFolder scratch;
    const fs::path& folder = scratch.path();
    const std::string page = (folder / "logger.HTML").string();
    Session s;
    REQUIRE(open_chart(s, (tests::source_folder() / "demo/river-logger.chart.json").string()).has_value());
    const document::Chart chart = s.editor.chart();
    REQUIRE(write_sheet(s, page).has_value());
    const Result<std::string> inside = json::load_chart_text(page);
    REQUIRE(inside.has_value());
    CHECK(*inside == json::write_chart(chart));

    Session other;
    REQUIRE(open_chart(other, page).has_value());
    CHECK(other.editor.chart() == chart);
    CHECK(other.editor.path().empty()); // saving asks for a name
    CHECK_FALSE(other.editor.save_as(page).has_value());
    CHECK(json::load_chart_text(page).has_value());
    for (const char* ending : {"PDF", "svg", "png"}) {
        const std::string path = (folder / ("sheet." + std::string(ending))).string();
        CHECK(write_sheet(s, path).has_value());
        CHECK(fs::file_size(path) > 1000);
    }
    CHECK_FALSE(write_sheet(s, (folder / "sheet.txt").string()).has_value());
}

TEST_CASE("whole photos go into a page only where they are asked for") {
    const ScratchFolder folder;
    std::ofstream(folder.path() / "top.png", std::ios::binary)
        << tests::png_of({320, 240, std::vector<std::uint8_t>(std::size_t{320} * 240 * 3, 0xa0)});
    Session s;
    REQUIRE(open_chart(s, (tests::source_folder() / "demo/river-logger.chart.json").string()));
    document::Chart chart = s.editor.chart();
    document::Photo photo;
    photo.id = document::Id{"top"};
    photo.path = "top.png";
    photo.board_from_pixel = {0.1, 0, 0, 0, 0.1, 0, 0, 0, 1};
    chart.photos.add(photo);
    s.editor.start_new(chart);
    REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));

    const auto page = [&](bool with_photos) {
        const std::string path = (folder.path() / "board.html").string();
        s.page_has_photos = with_photos;
        REQUIRE(write_sheet(s, path));
        std::ifstream file(path, std::ios::binary);
        return std::string(std::istreambuf_iterator<char>(file), {});
    };
    CHECK(page(false).find("<image class=\"photo\"") == std::string::npos);
    CHECK(page(true).find("<image class=\"photo\"") != std::string::npos);
}
