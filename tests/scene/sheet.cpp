#include "scene/sheet.hpp"

#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "scene/cautions.hpp"
#include "scene/page_writer.hpp"
#include "scene/sheet_blocks.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;
using document::Chart;
using geometry::Box;
using geometry::Vec2;

namespace {

Document sheet_of(const Chart& chart, SheetOptions options = {}) {
    const analysis::FitReport fit = analysis::fit(chart);
    const analysis::ClearanceReport clearance = analysis::clearance(chart);
    return make_sheet(chart, {&clearance, &fit}, options);
}

/// All words on a page's own layer, joined by blanks.
std::string words_on(const Page& page) {
    std::string words;
    for (const Text& text : page.scenes.back().scene.texts)
        words += text.text + ' ';
    return words;
}

std::string words_of(const Document& sheet) {
    std::string words;
    for (const Page& page : sheet.pages)
        words += words_on(page);
    return words;
}

bool says(const std::string& words, std::string_view what) {
    return words.find(what) != std::string::npos;
}

Box box_of(const Text& text) {
    const double width = text_width_em(text.text, text.strong) * text.height_mm;
    const double left = text.align == Align::Left ? 0.0 : text.align == Align::Centre ? -width / 2 : -width;
    const double half = text.height_mm * kCapHeight_em / 2;
    return {text.at + Vec2{left, -half}, text.at + Vec2{left + width, half}};
}

/// What is written over the frame or over other writing; empty on a good page.
std::string faults_of(const Page& page) {
    const Box frame = PageFormat{page.width_mm, page.height_mm}.frame();
    const std::vector<Text>& texts = page.scenes.back().scene.texts;
    std::string faults;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const Box box = box_of(texts[i]);
        if (!frame.contains(box.min) || !frame.contains(box.max)) faults += texts[i].text + " runs over the frame\n";
        for (std::size_t k = i + 1; k < texts.size(); ++k)
            if (box.overlaps(box_of(texts[k]))) faults += texts[i].text + " lies over " + texts[k].text + "\n";
    }
    return faults;
}

void check_layout(const Document& sheet) {
    for (const Page& page : sheet.pages) {
        CAPTURE(page.bookmark);
        CHECK(page.scenes.back().scene.texts.size() >= 5);
        CHECK(faults_of(page).empty());
    }
}

Chart chart_with_parts(int count) {
    Chart chart = test::sample_chart();
    for (int i = 0; i < count; ++i) {
        document::Footprint part = test::chip("R" + std::to_string(100 + i), document::PartClass::Resistor,
                                              {1.0 + i % 13, 1.0 + (i / 13) % 10}, {0.4, 0.2});
        part.role = i % 7 == 0 ? "pulls the enable line of the converter up while the board starts" : "";
        chart.parts.add(part);
    }
    return chart;
}

} // namespace

TEST_CASE("the map takes the largest standard enlargement that fits") {
    // ISO 5455 (from memory): 50:1, 20:1, 10:1, 5:1, 2:1 and full size.
    CHECK(standard_enlargement({3, 3}, {160, 150}) == 50.0);
    CHECK(standard_enlargement({3.3, 3}, {160, 150}) == 20.0);
    CHECK(standard_enlargement({16, 12}, {166, 150}) == 10.0);
    CHECK(standard_enlargement({30, 12}, {166, 150}) == 5.0);
    CHECK(standard_enlargement({60, 60}, {166, 150}) == 2.0);
    CHECK(standard_enlargement({160, 60}, {166, 150}) == 1.0);
    CHECK(standard_enlargement({400, 60}, {166, 150}) == 1.0); // then it is tiled
}

TEST_CASE("the sheet of the sample chart is laid out without a collision on both papers") {
    for (const Paper paper : {Paper::A4, Paper::Letter}) {
        SheetOptions options;
        options.paper = paper;
        const Document sheet = sheet_of(test::sample_chart(), options);
        check_layout(sheet);
        // ISO 216 A4 is 210 by 297 mm; Letter is 8.5 by 11 in.
        const double shorter = paper == Paper::A4 ? 210.0 : 215.9;
        for (const Page& page : sheet.pages)
            CHECK(std::min(page.width_mm, page.height_mm) == shorter);
    }
}

TEST_CASE("a long chart flows over pages that are all numbered") {
    const Document sheet = sheet_of(chart_with_parts(120));
    check_layout(sheet);
    REQUIRE(sheet.pages.size() > 6);
    for (std::size_t i = 0; i < sheet.pages.size(); ++i)
        CHECK(says(words_on(sheet.pages[i]), std::to_string(i + 1) + " of " + std::to_string(sheet.pages.size())));
    const std::string words = words_of(sheet);
    for (int i = 0; i < 120; ++i)
        CHECK(says(words, "R" + std::to_string(100 + i) + ' '));
}

TEST_CASE("letters of names and tables have capitals of two and a half millimetres") {
    // ISO 3098: 2.5 mm is its first size of lettering (from memory).
    const Document sheet = sheet_of(test::sample_chart());
    for (const PlacedScene& placed : sheet.pages[0].scenes)
        for (const Item& item : placed.scene.items)
            if (item.kind == Item::Kind::Text && item.role == Role::LabelPart) {
                const Text& text = placed.scene.texts[item.index];
                CHECK(text.height_px * placed.px_mm * kCapHeight_em >= 2.5);
            }
    for (const Page& page : sheet.pages)
        for (const Item& item : page.scenes.back().scene.items)
            if (item.kind == Item::Kind::Text && (item.role == Role::PageText || item.role == Role::PageTextStrong))
                CHECK(page.scenes.back().scene.texts[item.index].height_mm * kCapHeight_em >= 2.5);
}

TEST_CASE("the first page has the fields of the title block and says from where it is seen") {
    const Document sheet = sheet_of(test::sample_chart());
    const std::string words = words_on(sheet.pages[0]);
    // Field names of ISO 7200 (from memory; approval is signed by hand).
    for (const char* field : {"Legal owner", "Identification number", "Revision", "Date of issue", "Sheet", "Title",
                              "Creator", "Approved by", "Document type"})
        CHECK_MESSAGE(says(words, field), std::string(field));
    for (const char* value :
         {"J-2031-118", "2031-04-02", "Power corner", "bench 2", "River-level logger", "Region chart for rework"})
        CHECK_MESSAGE(says(words, value), std::string(value));
    CHECK(says(words, "Top side, seen from the top"));
    CHECK(says(words, "battery edge"));
    CHECK(sheet.pages[0].bookmark == "Map, top side");
    CHECK(sheet.pages[1].bookmark == "Map, bottom side");
    CHECK(says(words_on(sheet.pages[1]), "seen from the bottom"));
    CHECK(says(words_on(sheet.pages[1]), "swapped"));
}

TEST_CASE("the map lies true to its stated scale and the bar with it") {
    const Document sheet = sheet_of(test::sample_chart());
    const PlacedScene& map = sheet.pages[0].scenes.front();
    CHECK(map.scale == 10.0);
    CHECK(says(words_on(sheet.pages[0]), "Enlargement 10:1"));
    CHECK(says(words_on(sheet.pages[0]), "50 mm long on"));
    CHECK(says(words_on(sheet.pages[0]), "lengths are right within 1 %"));
    const Scene& page = sheet.pages[0].scenes.back().scene;
    Box bar;
    for (const Item& item : page.items)
        if (item.role == Role::ScaleBar && item.kind == Item::Kind::Line)
            bar.add(geometry::bounds(page.lines[item.index].points));
    CHECK(bar.width() == doctest::Approx(50.0)); // 5 mm of the board at 10:1
}

TEST_CASE("a chart without a scale says so and has no bar") {
    Chart chart = test::sample_chart();
    chart.scale.reset();
    const Document sheet = sheet_of(chart);
    CHECK(says(words_on(sheet.pages[0]), "Not to scale"));
    CHECK(says(words_of(sheet), "None measured"));
    for (const Item& item : sheet.pages[0].scenes.back().scene.items)
        CHECK(item.role != Role::ScaleBar);
}

TEST_CASE("a side without anything on it gets no map") {
    Chart chart = test::sample_chart();
    Chart top_only = chart;
    top_only.parts = {};
    top_only.keep_outs = {};
    for (const document::Footprint& part : chart.parts)
        if (part.placement.side == document::Side::Top) top_only.parts.add(part);
    const Document sheet = sheet_of(top_only);
    CHECK(std::none_of(sheet.pages.begin(), sheet.pages.end(),
                       [](const Page& page) { return page.bookmark == "Map, bottom side"; }));
    const Document empty = sheet_of(Chart{});
    CHECK(empty.pages.front().bookmark == "Map, top side");
    check_layout(empty);
}

TEST_CASE("a wide board turns the paper") {
    Chart chart;
    chart.scale = document::Scale{};
    chart.board.outline = test::box_polygon({0, 0}, {24, 8});
    chart.parts.add(test::chip("R1", document::PartClass::Resistor, {2, 4}, {1, 0.5}));
    chart.parts.add(test::chip("R2", document::PartClass::Resistor, {22, 4}, {1, 0.5}));
    const Document sheet = sheet_of(chart);
    CHECK(sheet.pages[0].width_mm == 297.0);
    CHECK(sheet.pages[0].scenes.front().scale == 10.0);
    check_layout(sheet);
}

TEST_CASE("a board too large for the paper is tiled and the tiles cover it") {
    Chart chart;
    chart.scale = document::Scale{};
    chart.board.outline = test::box_polygon({0, 0}, {430, 250});
    for (const Vec2 at : {Vec2{5, 5}, Vec2{425, 245}, Vec2{210, 120}})
        chart.parts.add(
            test::chip("R" + std::to_string(static_cast<int>(at.x)), document::PartClass::Resistor, at, {3, 1.5}));
    const Document sheet = sheet_of(chart);
    std::vector<const Page*> tiles;
    for (const Page& page : sheet.pages)
        if (says(page.bookmark, "tile")) tiles.push_back(&page);
    REQUIRE(tiles.size() >= 4);
    CHECK(says(words_on(*tiles[0]), "Tile 1 of " + std::to_string(tiles.size())));
    // Every point of the board is on some tile.
    for (double x = 0; x <= 430; x += 10)
        for (double y = 0; y <= 250; y += 10) {
            const bool shown = std::any_of(tiles.begin(), tiles.end(), [&](const Page* page) {
                const PlacedScene& map = page->scenes.front();
                return map.clip->contains(map.at + Vec2{x, y} * map.scale);
            });
            CHECK(shown);
        }
    check_layout(sheet);
}

TEST_CASE("a charted corner of a large board is shown larger and the sheet says that the board goes on") {
    Chart chart = test::sample_chart();
    chart.board.outline = test::box_polygon({-60, -80}, {90, 100});
    const Document sheet = sheet_of(chart);
    CHECK(sheet.pages[0].scenes.front().scale >= 5.0);
    CHECK(says(words_on(sheet.pages[0]), "goes on beyond"));
}

TEST_CASE("the tables say what is known and what is not") {
    const std::string words = words_of(sheet_of(test::sample_chart()));
    for (const char* what :
         {"upper left: dot = pin 1", "UNKNOWN", "meaning unknown", "missing", "not checked", "260 °C !", "0.482 V",
          "bench meter 3", "C14 came off", "removed", "none yet", "through the board", "foil over J2",
          "What is not mapped", "Everything below the antenna feed", "Lift U4", "Revisions"})
        CHECK_MESSAGE(says(words, what), std::string(what));
    CHECK(says(words, kAidNotApproval));
}

TEST_CASE("what others computed is printed as its own section") {
    SheetOptions options;
    options.sections.push_back({"Heat estimate", {"U4 joints reach 231 to 268 °C."}});
    options.revision_notes = {"4: J2 limit corrected, bench 2."};
    const std::string words = words_of(sheet_of(test::sample_chart(), options));
    CHECK(says(words, "Heat estimate"));
    CHECK(says(words, "231 to 268"));
    CHECK(says(words, "J2 limit corrected"));
}

TEST_CASE("every part that could go back wrong has a card and no other part has one") {
    const Chart chart = test::sample_chart();
    const analysis::FitReport fit = analysis::fit(chart);
    std::size_t pictures = 0; // the part as it sits, and the turns it must not be fitted in
    for (const analysis::PartFit& part : fit.parts)
        if (part.needs_record) pictures += 1 + part.risky_turns.size();
    REQUIRE(pictures > 4);
    const Document sheet = make_sheet(chart, {nullptr, &fit}, {});
    std::size_t sketches = 0;
    std::string words;
    for (const Page& page : sheet.pages) {
        if (!says(page.bookmark, "Which way round")) continue;
        sketches += page.scenes.size() - 1;
        words += words_on(page);
    }
    CHECK(sketches == pictures);
    CHECK(says(words, "NOT RECORDED"));
    CHECK(says(words, "sits too, wrong:"));
    CHECK(says(words, "Second person"));
    check_layout(sheet);
    SheetOptions without;
    without.with_cards = false;
    CHECK(make_sheet(chart, {nullptr, &fit}, without).pages.size() < sheet.pages.size());
    // Nobody has computed which parts need one.
    const Document unknown = make_sheet(chart, {}, {});
    CHECK(std::none_of(unknown.pages.begin(), unknown.pages.end(),
                       [](const Page& page) { return says(page.bookmark, "Which way round"); }));
}

TEST_CASE("only the cautions that apply are given") {
    Chart chart;
    chart.parts.add(test::chip("R1", document::PartClass::Resistor, {0, 0}, {1, 0.5}));
    const auto list = [&] {
        std::string all;
        for (const std::string& caution : cautions_for(chart))
            all += caution + '\n';
        return all;
    };
    CHECK(cautions_for(chart).size() == 1); // fumes and burns always
    CHECK(says(list(), "Fumes and burns"));
    chart.parts.add(test::chip("BT1", document::PartClass::Cell, {5, 0}, {4, 4}));
    CHECK(says(list(), "Lithium cell"));
    CHECK_FALSE(says(list(), "Leaded"));
    document::HeatPlan plan;
    plan.id = document::Id{"plan"};
    plan.alloy = "Sn63Pb37";
    chart.heat_plans.add(plan);
    CHECK(says(list(), "Leaded solder"));
    CHECK_FALSE(says(list(), "Low-melt"));
    plan.low_melt_fraction = 0.3;
    chart.heat_plans.replace(0, plan);
    CHECK(says(list(), "Low-melt"));
    chart.parts.add(test::chip("K1", document::PartClass::Relay, {9, 0}, {4, 4}));
    CHECK(says(list(), "licensed person"));
}

TEST_CASE("the same chart gives the same sheet") {
    const Document first = sheet_of(test::sample_chart());
    const Document second = sheet_of(test::sample_chart());
    REQUIRE(first.pages.size() == second.pages.size());
    for (std::size_t i = 0; i < first.pages.size(); ++i)
        for (std::size_t k = 0; k < first.pages[i].scenes.size(); ++k)
            CHECK(to_text(first.pages[i].scenes[k].scene) == to_text(second.pages[i].scenes[k].scene));
}

TEST_CASE("a heat plan on a board too large for its map gets a page of its own that shows its surroundings larger") {
    Chart chart = padchart::test::sample_chart();
    REQUIRE_FALSE(chart.heat_plans.empty());
    // 120 x 90 mm: the map shows that at 1:1, the few millimetres round the aim fit at 5:1 and more.
    chart.board.outline = geometry::Polygon{{{0, 0}, {120, 0}, {120, 90}, {0, 90}}, {}};
    document::Footprint far = chart.parts[0];
    far.id = {"far-away"};
    far.placement.at = {110, 80};
    chart.parts.add(far);
    const Document sheet = sheet_of(chart);
    const auto page = std::find_if(sheet.pages.begin(), sheet.pages.end(),
                                   [](const Page& one) { return one.bookmark.starts_with("Heat area of "); });
    REQUIRE(page != sheet.pages.end());
    CHECK(says(words_on(*page), "Heat area of "));
    CHECK(page->scenes.front().scale > sheet.pages.front().scenes.front().scale);
    const Vec2 aim = page->scenes.front().at + chart.heat_plans[0].aim * page->scenes.front().scale;
    REQUIRE(page->scenes.front().clip.has_value());
    CHECK(page->scenes.front().clip->contains(aim));
}

TEST_CASE("a heat plan that the map already shows as large gets no page of its own") {
    const Document sheet = sheet_of(padchart::test::sample_chart());
    for (const Page& page : sheet.pages)
        CHECK_FALSE(page.bookmark.starts_with("Heat area of "));
}

TEST_CASE("a row taller than a page goes on over the next ones and no word of it is lost") {
    PageWriter writer(PageFormat{}, 14.0);
    std::string words;
    for (int i = 0; i < 1500; ++i)
        words += "w" + std::to_string(i) + ' ';
    writer.table({{"No.", 0.3, true}, {"What", 2.0}}, {{"1", "short"}, {"2", words}, {"3", "the last"}});
    const std::vector<Page> pages = writer.finish();
    CHECK(pages.size() > 2);
    std::string written;
    for (const Page& page : pages) {
        CHECK(faults_of(page).empty());
        CHECK(says(words_on(page), "What"));
        written += words_on(page);
    }
    for (int i = 0; i < 1500; ++i)
        CHECK(says(written, " w" + std::to_string(i) + ' '));
    CHECK(says(written, "the last"));
}

TEST_CASE("a long serial number stands whole in the title block, which grows by its lines") {
    Chart chart = test::sample_chart();
    chart.title.serial = "RL-2031-000417-PILOT-SERIES-B, second board of the panel, bench copy";
    chart.title.title = "Power corner with the charger, the fuel gauge and the card socket beside it";
    const Document sheet = sheet_of(chart);
    check_layout(sheet);
    const SheetOptions options;
    const PageFormat format;
    CHECK(title_block_mm(format, chart.title, options) > title_block_mm(format, {}, options) + 4.0);
    CHECK(says(words_on(sheet.pages.front()), "RL-2031-000417-"));
    CHECK(says(words_on(sheet.pages.front()), "bench copy"));
    CHECK(!says(words_on(sheet.pages.front()), "…"));
}
