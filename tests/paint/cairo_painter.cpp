#include "paint/cairo_painter.hpp"

#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "paint/font.hpp"
#include "poppler.hpp"
#include "scene/sheet.hpp"
#include "scene/text_width.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::paint;
using geometry::Box;
using geometry::Vec2;
using scene::Page;
using scene::PlacedScene;
using scene::Role;
using scene::Scene;
using test::GreyPicture;
using test::TempFolder;

namespace {

scene::Document sample_sheet() {
    const document::Chart chart = test::sample_chart();
    const analysis::FitReport fit = analysis::fit(chart);
    const analysis::ClearanceReport clearance = analysis::clearance(chart);
    return scene::make_sheet(chart, {&clearance, &fit}, {});
}

bool says(const std::string& text, const std::string& what) {
    return text.find(what) != std::string::npos;
}

/// A page of 100 x 50 mm with one scene on it as it is.
Page page_with(Scene scene) {
    Page page{.width_mm = 100, .height_mm = 50, .bookmark = "one"};
    page.scenes.push_back(PlacedScene{.scene = std::move(scene)});
    return page;
}

scene::Document document_with(Scene scene) {
    return {"t", "a", "s", "2031-04-02", {page_with(std::move(scene))}};
}

scene::Fill box_fill(Box box) {
    return {{{box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}}, {}}};
}

struct Extent {
    int first = -1;
    int last = -1;
};

/// First and last pixel of the row that is darker than half, within [from, to].
Extent dark_in_row(const GreyPicture& picture, int y, int from, int to) {
    Extent extent;
    for (int x = from; x <= to; ++x)
        if (picture.at(x, y) < 128) {
            if (extent.first < 0) extent.first = x;
            extent.last = x;
        }
    return extent;
}

/// Share of dark pixels in a box given in mm.
double darkness(const GreyPicture& picture, Box mm, double dpi) {
    int dark = 0;
    int all = 0;
    for (int y = static_cast<int>(mm.min.y * dpi / 25.4); y < static_cast<int>(mm.max.y * dpi / 25.4); ++y)
        for (int x = static_cast<int>(mm.min.x * dpi / 25.4); x < static_cast<int>(mm.max.x * dpi / 25.4); ++x) {
            dark += picture.at(x, y) < 170;
            ++all;
        }
    return static_cast<double>(dark) / all;
}

} // namespace

TEST_CASE("a text is as wide when drawn as it was when laid out") {
    const std::string samples[] = {
        "U4", "River-level logger, revision C", "limit 260 °C", "≤ 160 °C", "10 µF ± 5 % · 2 × 3", "J-2031-118"};
    const bool is_inter = find_font(FontWeight::Regular)->family == "Inter";
    for (const std::string& text : samples)
        for (const bool strong : {false, true}) {
            const double laid_out = scene::text_width_em(text, strong);
            const double drawn = *drawn_width_em(text, strong ? FontWeight::SemiBold : FontWeight::Regular);
            CAPTURE(text);
            // A stand-in font is narrowed to keep within the layout, no more.
            CHECK(drawn <= laid_out * (is_inter ? 1.005 : 1.08));
            CHECK(drawn >= laid_out * (is_inter ? 0.97 : 0.85));
        }
}

TEST_CASE("the words of a sheet can be found in its PDF") {
    const TempFolder folder;
    const scene::Document sheet = sample_sheet();
    REQUIRE(write_pdf(sheet, paper_theme(), folder.file("s.pdf")).has_value());
    const std::string text = test::output_of("pdftotext -layout '" + folder.file("s.pdf") + "' -");
    for (const char* what : {"U1", "TV2", "J2", "MK1", "C14", "D9", "cell contact", "limit 260 °C", "≤ 160 °C", "22 µF",
                             "River-level logger", "Region chart for rework", "Enlargement 10:1", "upper left: dot",
                             "What is not mapped", "Parking grid, top side"})
        CHECK_MESSAGE(says(text, what), std::string(what));
    CHECK(says(text, "1 of " + std::to_string(sheet.pages.size())));
}

TEST_CASE("a PDF has the size of its paper and the day of its chart and one bookmark a page") {
    const TempFolder folder;
    const scene::Document sheet = sample_sheet();
    REQUIRE(write_pdf(sheet, grey_print_theme(), folder.file("s.pdf")).has_value());
    const std::string info = test::output_of("TZ=UTC pdfinfo '" + folder.file("s.pdf") + "'");
    CHECK(says(info, "A4"));
    CHECK(says(info, "595.276 x 841.89")); // 210 x 297 mm in points of 1/72 in
    CHECK(says(info, "Pages:           " + std::to_string(sheet.pages.size())));
    CHECK(says(info, "Power corner"));
    CHECK(says(info, "Apr  2"));
    CHECK(says(info, "2031"));
    const std::string fonts = test::output_of("pdffonts '" + folder.file("s.pdf") + "'");
    CHECK(says(fonts, find_font(FontWeight::Regular)->family == "Inter" ? "Inter" : "DejaVu"));
    CHECK_FALSE(says(fonts, " no  ")); // every font is embedded, as a subset, with its characters named
    const std::string raw = test::bytes_of(folder.file("s.pdf"));
    for (const char* bookmark : {"(Map, top side)", "(Map, bottom side)", "(Cautions)", "(Heat plans)"})
        CHECK_MESSAGE(says(raw, bookmark), std::string(bookmark));
}

TEST_CASE("the same sheet gives the same bytes") {
    const TempFolder folder;
    const scene::Document sheet = sample_sheet();
    const auto same = [&](const std::string& a, const std::string& b) {
        return test::bytes_of(folder.file(a)) == test::bytes_of(folder.file(b));
    };
    for (const char* name : {"1", "2"}) {
        REQUIRE(write_pdf(sheet, paper_theme(), folder.file(std::string(name) + ".pdf")).has_value());
        REQUIRE(write_svg(sheet.pages[0], paper_theme(), folder.file(std::string(name) + ".svg")).has_value());
        REQUIRE(write_png(sheet.pages[0], paper_theme(), 60, folder.file(std::string(name) + ".png")).has_value());
    }
    CHECK(same("1.pdf", "2.pdf"));
    CHECK(same("1.svg", "2.svg"));
    CHECK(same("1.png", "2.png"));
    scene::Document undated = sheet;
    undated.day = "yesterday"; // not a day: the clock must not step in
    REQUIRE(write_pdf(undated, paper_theme(), folder.file("3.pdf")).has_value());
    CHECK(says(test::output_of("TZ=UTC pdfinfo '" + folder.file("3.pdf") + "'"), "2000"));
}

TEST_CASE("the board on paper is true to scale within a thousandth") {
    const TempFolder folder;
    const scene::Document sheet = sample_sheet();
    REQUIRE(write_pdf(sheet, grey_print_theme(), folder.file("s.pdf")).has_value());
    constexpr int kDpi = 600;
    const GreyPicture picture = test::rendered(folder.file("s.pdf"), 1, kDpi);
    const double mm = kDpi / 25.4;
    const PlacedScene& map = sheet.pages[0].scenes.front();
    // The sample board is 15.4 mm wide where its lower half is cut, at y = 11; edges are 0.4 and 15.8.
    const int row = static_cast<int>((map.at.y + 11.0 * map.scale) * mm);
    const Extent dark = dark_in_row(picture, row, static_cast<int>(22 * mm), static_cast<int>(198 * mm));
    const double edge_mm = grey_print_theme().width_px(Role::BoardEdge, scene::Weight::Bold) * map.px_mm;
    const double measured = (dark.last - dark.first + 1) / mm - edge_mm;
    CHECK(measured == doctest::Approx(15.4 * 10.0).epsilon(0.001));
}

TEST_CASE("a map alone on its page is true to scale within a thousandth and so is its bar") {
    document::Chart chart = test::sample_chart();
    chart.board.outline = test::box_polygon({0, 0}, {40, 28});
    chart.parts.add(test::chip("R77", document::PartClass::Resistor, {38, 26}, {1, 0.5}));
    const analysis::FitReport fit = analysis::fit(chart);
    const scene::Document sheet = scene::make_sheet(chart, {nullptr, &fit}, {});
    REQUIRE(sheet.pages[1].bookmark == "Map, top side");
    const TempFolder folder;
    REQUIRE(write_pdf(sheet, grey_print_theme(), folder.file("s.pdf")).has_value());
    const std::string text = test::output_of("pdftotext -layout '" + folder.file("s.pdf") + "' -");
    for (const char* what : {"Enlargement 5:1", "25 mm long on paper", "Legend of the maps", "On these sheets"})
        CHECK_MESSAGE(says(text, what), std::string(what));
    constexpr int kDpi = 600;
    const GreyPicture picture = test::rendered(folder.file("s.pdf"), 2, kDpi);
    const double mm = kDpi / 25.4;
    const PlacedScene& map = sheet.pages[1].scenes.front();
    const double left = map.at.x; // the board begins at x = 0 and is 40 mm wide; at y = 20 nothing stands beside it
    const int row = static_cast<int>((map.at.y + 20.0 * map.scale) * mm);
    const Extent dark =
        dark_in_row(picture, row, static_cast<int>((left - 3) * mm), static_cast<int>((left + 203) * mm));
    const double edge_mm = grey_print_theme().width_px(Role::BoardEdge, scene::Weight::Bold) * map.px_mm;
    CHECK((dark.last - dark.first + 1) / mm - edge_mm == doctest::Approx(200.0).epsilon(0.001));
    Box bar;
    const Scene& page = sheet.pages[1].scenes.back().scene;
    for (const scene::Item& item : page.items)
        if (item.role == Role::ScaleBar && item.kind == scene::Item::Kind::Line)
            bar.add(geometry::bounds(page.lines[item.index].points));
    CHECK(bar.width() == doctest::Approx(25.0)); // 5 mm of the board at 5:1
}

TEST_CASE("the scale bar on paper is as long as it says within a thousandth") {
    const TempFolder folder;
    const scene::Document sheet = sample_sheet();
    REQUIRE(write_pdf(sheet, grey_print_theme(), folder.file("s.pdf")).has_value());
    constexpr int kDpi = 600;
    const GreyPicture picture = test::rendered(folder.file("s.pdf"), 1, kDpi);
    const double mm = kDpi / 25.4;
    const Scene& page = sheet.pages[0].scenes.back().scene;
    Box bar;
    for (const scene::Item& item : page.items)
        if (item.role == Role::ScaleBar && item.kind == scene::Item::Kind::Line)
            bar.add(geometry::bounds(page.lines[item.index].points));
    REQUIRE_FALSE(bar.is_empty());
    const int row = static_cast<int>(std::round(bar.centre().y * mm));
    const Extent dark =
        dark_in_row(picture, row, static_cast<int>((bar.min.x - 2) * mm), static_cast<int>((bar.max.x + 2) * mm));
    const double edge_mm = grey_print_theme().width_px(Role::ScaleBar, scene::Weight::Hair) * scene::kPaperPx_mm;
    const double measured = (dark.last - dark.first + 1) / mm - edge_mm;
    CHECK(measured == doctest::Approx(50.0).epsilon(0.001)); // the sheet says: 50 mm long on paper
}

TEST_CASE("pictures have the size asked for") {
    const TempFolder folder;
    const Page page = page_with({});
    REQUIRE(write_png(page, paper_theme(), 254, folder.file("p.png")).has_value());
    const std::string png = test::bytes_of(folder.file("p.png"));
    const auto number = [&](std::size_t at) { // big-endian, in the first chunk of the file (PNG specification, IHDR)
        unsigned value = 0;
        for (std::size_t i = 0; i < 4; ++i)
            value = value << 8 | static_cast<unsigned char>(png[at + i]);
        return value;
    };
    CHECK(png.substr(1, 3) == "PNG");
    CHECK(number(16) == 1000); // 100 mm at 254 dpi: 10 px a mm
    CHECK(number(20) == 500);
    REQUIRE(write_svg(page, paper_theme(), folder.file("p.svg")).has_value());
    const std::string svg = test::bytes_of(folder.file("p.svg"));
    CHECK(says(svg, "width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\""));
}

TEST_CASE("an area is filled and hatched within its outline and not in its holes") {
    const TempFolder folder;
    Scene scene;
    scene::Fill ring = box_fill({{10, 10}, {40, 40}});
    ring.area.holes.push_back({{20, 20}, {30, 20}, {30, 30}, {20, 30}});
    scene.add(Role::Mark, ring);
    scene.add(Role::NoAim, box_fill({{60, 10}, {90, 40}}));
    REQUIRE(write_pdf(document_with(scene), grey_print_theme(), folder.file("h.pdf")).has_value());
    const GreyPicture picture = test::rendered(folder.file("h.pdf"), 1, 200);
    CHECK(darkness(picture, {{11, 11}, {19, 39}}, 200) == 1.0);
    CHECK(darkness(picture, {{21, 21}, {29, 29}}, 200) == 0.0);
    CHECK(darkness(picture, {{45, 5}, {59, 45}}, 200) == 0.0);
    // Lines of 1.1 px every 8 px: about a seventh of the ground.
    const double hatched = darkness(picture, {{62, 12}, {88, 38}}, 200);
    CHECK(hatched > 0.08);
    CHECK(hatched < 0.25);
    CHECK(darkness(picture, {{91, 5}, {99, 45}}, 200) == 0.0);
    // Rising to the right: where the line x + y = c is dark, moving along (1, -1) stays dark.
    int steps = 0;
    int dark = 0;
    for (int x = 520; x < 600; ++x)
        if (picture.at(x, 220) < 100) {
            ++steps;
            dark += picture.at(x + 30, 190) < 170;
        }
    REQUIRE(steps > 3);
    CHECK(dark == steps);
}

TEST_CASE("a text too wide for its room is left out") {
    const TempFolder folder;
    Scene scene;
    scene.add(Role::PageText, scene::Text{.at = {20, 10}, .text = "kept", .height_mm = 4, .fit_width_mm = 30});
    scene.add(Role::PageText, scene::Text{.at = {20, 30}, .text = "dropped", .height_mm = 4, .fit_width_mm = 3});
    REQUIRE(write_pdf(document_with(scene), paper_theme(), folder.file("t.pdf")).has_value());
    const std::string text = test::output_of("pdftotext '" + folder.file("t.pdf") + "' -");
    CHECK(says(text, "kept"));
    CHECK_FALSE(says(text, "dropped"));
}

TEST_CASE("text stands where its alignment says") {
    const TempFolder folder;
    Scene scene;
    scene.add(Role::PageText, scene::Text{.at = {50, 10}, .text = "HHHH", .align = scene::Align::Left, .height_mm = 5});
    scene.add(Role::PageText,
              scene::Text{.at = {50, 25}, .text = "HHHH", .align = scene::Align::Centre, .height_mm = 5});
    scene.add(Role::PageText,
              scene::Text{.at = {50, 40}, .text = "HHHH", .align = scene::Align::Right, .height_mm = 5});
    REQUIRE(write_pdf(document_with(scene), grey_print_theme(), folder.file("a.pdf")).has_value());
    const GreyPicture picture = test::rendered(folder.file("a.pdf"), 1, 254);
    const Extent left = dark_in_row(picture, 100, 0, 999);
    const Extent centre = dark_in_row(picture, 250, 0, 999);
    const Extent right = dark_in_row(picture, 400, 0, 999);
    CHECK(left.first >= 500);
    CHECK(left.first < 510);
    CHECK((centre.first + centre.last) / 2.0 == doctest::Approx(500).epsilon(0.005));
    CHECK(right.last <= 500);
    CHECK(right.last > 490);
}

TEST_CASE("names in other scripts and broken bytes are drawn and not fatal") {
    const TempFolder folder;
    Scene scene;
    scene.add(Role::PageText, scene::Text{.at = {50, 10}, .text = "Плата Ω", .height_mm = 5});
    scene.add(Role::PageText, scene::Text{.at = {50, 25}, .text = "bad \xC3\x28 bytes", .height_mm = 5});
    scene.add(Role::PageText, scene::Text{.at = {50, 40}, .text = "after", .height_mm = 5});
    REQUIRE(write_pdf(document_with(scene), paper_theme(), folder.file("u.pdf")).has_value());
    const std::string text = test::output_of("pdftotext '" + folder.file("u.pdf") + "' -");
    CHECK(says(text, "Плата Ω"));
    CHECK(says(text, "bytes"));
    CHECK(says(text, "after"));
}

TEST_CASE("every role and sign can be drawn in every theme") {
    const TempFolder folder;
    for (const Theme* theme : {&paper_theme(), &dark_room_theme(), &grey_print_theme()}) {
        Scene scene;
        for (std::size_t i = 0; i < scene::kRoleCount; ++i) {
            const Role role = static_cast<Role>(i);
            const double x = 4.0 * static_cast<double>(i % 20);
            const double y = 8.0 * static_cast<double>(i / 20);
            scene.add(role, box_fill({{x, y}, {x + 3, y + 3}}));
            scene.add(role, scene::Line{{{x, y + 4}, {x + 3, y + 4}}, false, scene::Weight::Bold});
            scene.add(role, scene::Text{.at = {x, y + 6}, .text = "a", .halo = true});
            scene.add(role, scene::Symbol{{x + 1, y + 1}, static_cast<scene::Sign>(i % 6), 5.0});
        }
        CHECK(write_picture(scene, fit_camera(scene.bounds, 300, 200, 10), 300, 200, *theme, folder.file("all.png"))
                  .has_value());
        CHECK(write_pdf(document_with(scene), *theme, folder.file("all.pdf")).has_value());
    }
}

TEST_CASE("a file that cannot be written is an error that names it") {
    const Page page = page_with({});
    const std::string nowhere = "/no-such-folder/sheet";
    for (const Result<void>& result :
         {write_pdf(document_with({}), paper_theme(), nowhere), write_svg(page, paper_theme(), nowhere),
          write_png(page, paper_theme(), 100, nowhere)}) {
        REQUIRE_FALSE(result.has_value());
        CHECK(result.error().where == nowhere);
        CHECK(says(result.error().message, "could not be written"));
    }
    const TempFolder folder;
    CHECK_FALSE(write_pdf({}, paper_theme(), folder.file("empty.pdf")).has_value());
    CHECK_FALSE(write_png(page, paper_theme(), 1e6, folder.file("large.png")).has_value());
}

TEST_CASE("a fitted camera shows the whole box in the middle") {
    const Box box{{-3, 2}, {7, 4}};
    const Camera camera = fit_camera(box, 800, 600, 50);
    CHECK(camera.scale == doctest::Approx(70.0)); // 700 px for 10 mm
    const Vec2 middle = camera.offset + box.centre() * camera.scale;
    CHECK(middle.x == doctest::Approx(400));
    CHECK(middle.y == doctest::Approx(300));
}
