// The pages of a sheet beside its maps and tables: cover, heat plans, parking grid, and rules that hold on all of them.

#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "analysis/check.hpp"
#include "scene/checklist.hpp"
#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"
#include "scene/sheet_parking.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;
using document::Chart;
using geometry::Box;
using geometry::Vec2;

namespace {

/// The sample with a board of 40 x 28 mm: alone on an oblong A4 it fits at 5:1, with a legend below it does not.
Chart wide_chart() {
    Chart chart = test::sample_chart();
    chart.board.outline = test::box_polygon({0, 0}, {40, 28});
    document::Footprint far = test::chip("R77", document::PartClass::Resistor, {38, 26}, {1, 0.5});
    chart.parts.add(far);
    return chart;
}

struct Made {
    analysis::FitReport fit;
    analysis::ClearanceReport clearance;
    Result<analysis::HeatReport> heat;
    Document sheet;
};

Made sheet_of(const Chart& chart, SheetOptions options = {}) {
    Made made{analysis::fit(chart), analysis::clearance(chart), Error{"no plan", {}}, {}};
    if (!chart.heat_plans.empty()) made.heat = analysis::heat(chart, chart.heat_plans[0]);
    if (made.heat) options.heat = {{chart.heat_plans[0].id, &*made.heat}};
    made.sheet = make_sheet(chart, {&made.clearance, &made.fit}, options);
    return made;
}

std::string words_on(const Page& page) {
    std::string words;
    for (const Text& text : page.scenes.back().scene.texts)
        words += text.text + ' ';
    return words;
}

bool says(const std::string& words, std::string_view what) {
    return words.find(what) != std::string::npos;
}

const Page* page_named(const Document& sheet, std::string_view begin) {
    const auto found = std::find_if(sheet.pages.begin(), sheet.pages.end(),
                                    [&](const Page& page) { return page.bookmark.starts_with(begin); });
    return found == sheet.pages.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("no letter of the sheet is lower than two and a half millimetres") {
    // ISO 3098: 2.5 mm is its first size of lettering (from memory); capitals are measured.
    for (const Chart& chart : {test::sample_chart(), wide_chart()})
        for (const Page& page : sheet_of(chart).sheet.pages)
            for (const PlacedScene& placed : page.scenes)
                for (const Text& text : placed.scene.texts) {
                    const double height =
                        text.height_mm > 0 ? text.height_mm * placed.scale : text.height_px * placed.px_mm;
                    CAPTURE(page.bookmark);
                    CAPTURE(text.text);
                    CHECK(height * kCapHeight_em >= 2.5);
                }
}

TEST_CASE("a map that gains by it stands alone on its page and a cover says the rest") {
    const Document sheet = sheet_of(wide_chart()).sheet;
    const Page* top = page_named(sheet, "Map, top side");
    REQUIRE(top != nullptr);
    CHECK(top->scenes.front().scale == 5.0);
    CHECK(top->width_mm == 297.0);
    CHECK(says(words_on(*top), "Enlargement 5:1"));
    CHECK(says(words_on(*top), "seen from the top"));
    const Page& cover = sheet.pages.front();
    CHECK(cover.width_mm == 210.0);
    for (const char* what : {"Cautions", "What is not mapped", "Legend of the maps", "On these sheets", "Map, top side",
                             "Parking grid, top side", "Parts (", "Approved by", "lengths are right within 1 %"})
        CHECK_MESSAGE(says(words_on(cover), what), std::string(what));
    // The whole board is on the paper.
    const PlacedScene& map = top->scenes.front();
    const Box frame = PageFormat{top->width_mm, top->height_mm}.frame();
    for (const Vec2 corner : {Vec2{0, 0}, Vec2{40, 28}})
        CHECK(frame.contains(map.at + corner * map.scale));
    REQUIRE(map.clip.has_value());
    CHECK(map.clip->contains(map.at + Vec2{40, 28} * map.scale));
}

TEST_CASE("the contents of the cover name the sheet where each thing stands") {
    const Document sheet = sheet_of(wide_chart()).sheet;
    const std::vector<Text>& texts = sheet.pages.front().scenes.back().scene.texts;
    std::size_t found = 0;
    for (std::size_t i = 1; i < sheet.pages.size(); ++i) {
        const std::string& name = sheet.pages[i].bookmark;
        const auto at = std::find_if(texts.begin(), texts.end(), [&](const Text& text) { return text.text == name; });
        if (at == texts.end()) continue;
        ++found;
        const auto number = std::find_if(texts.begin(), texts.end(), [&](const Text& text) {
            return std::abs(text.at.y - at->at.y) < 0.01 && text.at.x > at->at.x + 50.0;
        });
        REQUIRE(number != texts.end());
        CHECK(number->text == std::to_string(i + 1));
    }
    CHECK(found >= 4);
}

TEST_CASE("an enlargement that was asked for is kept and tiled over pages") {
    SheetOptions options;
    options.enlargement = 20.0;
    const Document sheet = sheet_of(test::sample_chart(), options).sheet;
    std::size_t tiles = 0;
    for (const Page& page : sheet.pages)
        if (page.bookmark.starts_with("Map, top side, tile")) {
            ++tiles;
            CHECK(page.scenes.front().scale == 20.0);
            CHECK(says(words_on(page), "tile"));
        }
    CHECK(tiles >= 2);
}

TEST_CASE("a heat plan can be followed from its page") {
    const Chart chart = test::sample_chart();
    const Made made = sheet_of(chart);
    REQUIRE(made.heat.has_value());
    const Page* page = page_named(made.sheet, "Heat plan: ");
    REQUIRE(page != nullptr);
    const std::string words = words_on(*page);
    for (const char* what : {"Air", "Nozzle", "Dwell", "Shields in place", "Initials", "Most urgent first"})
        CHECK_MESSAGE(says(words, what), std::string(what));
    CHECK(says(words, made.heat->sentences.front().substr(0, 30)));
    // The picture holds the estimate, the aim lies on it.
    const PlacedScene& picture = page->scenes.front();
    const auto has = [&](Role role) {
        return std::any_of(picture.scene.items.begin(), picture.scene.items.end(),
                           [&](const Item& item) { return item.role == role; });
    };
    CHECK(has(Role::Isotherm));
    CHECK(has(Role::NozzleRing));
    REQUIRE(picture.clip.has_value());
    CHECK(picture.clip->contains(picture.at + chart.heat_plans[0].aim * picture.scale));
    std::string all;
    for (const Page& one : made.sheet.pages)
        all += words_on(one);
    CHECK(says(all, "An estimate, not a measurement"));
    CHECK(says(all, "Estimated peaks, low to high"));
}

TEST_CASE("each part that the air could lift has one place in the parking grid") {
    const Chart chart = test::sample_chart();
    std::size_t wanted = 0;
    std::size_t found = 0;
    for (const document::Side side : {document::Side::Top, document::Side::Bottom}) {
        const std::vector<const document::Footprint*> parts = parts_to_park(chart, side, 4);
        found += parts.size();
        for (const document::Footprint& part : chart.parts) {
            const bool is_there = part.condition.presence == document::Presence::Present ||
                                  part.condition.presence == document::Presence::NotChecked;
            const bool is_copper = part.pads.empty() || part.part_class == document::PartClass::TestPoint ||
                                   part.part_class == document::PartClass::MountingHole;
            const bool parks =
                part.placement.side == side && is_there && !is_copper && analysis::in_heat_area(chart, part);
            wanted += parks;
            if (parks) CHECK(std::count(parts.begin(), parts.end(), &part) == 1);
        }
        // Rows from the up edge down, and in each row from left to right as the side is seen.
        for (std::size_t i = 1; i < parts.size(); ++i) {
            const Vec2 a = scene_from_board(parts[i - 1]->placement.at, side);
            const Vec2 b = scene_from_board(parts[i]->placement.at, side);
            if (i % 4 != 0) CHECK(a.x <= b.x);
        }
    }
    CHECK(wanted == found);
    REQUIRE(found > 3);
    const Document sheet = sheet_of(chart).sheet;
    const Page* page = page_named(sheet, "Parking grid");
    REQUIRE(page != nullptr);
    const std::string words = words_on(*page);
    CHECK(says(words, "off"));
    CHECK(says(words, "back"));
    SheetOptions without;
    without.with_parking = false;
    CHECK(page_named(sheet_of(chart, without).sheet, "Parking grid") == nullptr);
}

TEST_CASE("revision notes of the chart are printed newest first") {
    Chart chart = test::sample_chart();
    for (const char* revision : {"1", "2"}) {
        document::RevisionNote note;
        note.id = {std::string("rev-") + revision};
        note.revision = revision;
        note.date = "2031-04-0" + std::string(revision);
        note.author = "bench 2";
        note.text = std::string("change number ") + revision;
        chart.revisions.add(note);
    }
    std::string words;
    for (const Page& page : sheet_of(chart).sheet.pages)
        words += words_on(page);
    REQUIRE(says(words, "change number 2"));
    CHECK(words.find("change number 2") < words.find("change number 1"));
    CHECK_FALSE(says(words, "what changed was not stated"));
}

TEST_CASE("the list after rework is printed with room for initials and with what is done already") {
    Chart chart = test::sample_chart();
    const std::vector<ChecklistEntry> entries = checklist_of(chart);
    REQUIRE(entries.size() > 1);
    document::Tick tick;
    tick.id = {"tick-1"};
    tick.task = entries[0].task;
    tick.target = entries[0].target;
    tick.done = true;
    tick.by = "R. Avel";
    tick.date = "2031-04-03";
    chart.ticks.add(tick);
    std::string words;
    for (const Page& page : sheet_of(chart).sheet.pages)
        words += words_on(page);
    CHECK(says(words, "After rework, before the power"));
    CHECK(says(words, "Initials"));
    CHECK(says(words, entries[1].text.substr(0, 20)));
    CHECK(says(words, "R. Avel"));
}

TEST_CASE("a column is as wide as its widest word and no word is broken") {
    PageWriter writer(PageFormat{}, 20.0);
    writer.table({{"A", 1.0}, {"B", 1.0}, {"C", 1.0}, {"D", 5.0}},
                 {{"microphone amplifier", "board-to-board connector", "electroencephalography", "x y z"}});
    const std::vector<Page> pages = writer.finish();
    const std::string words = words_on(pages.front());
    for (const char* word : {"microphone", "amplifier", "connector", "electroencephalography"})
        CHECK_MESSAGE(says(words, word), std::string(word));
    CHECK(widest_word_em("a-b cd/ef", false) == doctest::Approx(text_width_em("cd/", false)));
    const std::vector<std::string> lines = wrapped("board-to-board", text_width_em("board-to-", false), false);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0] == "board-to-");
}

TEST_CASE("words wider than the table leave room for its other columns") {
    const std::string wide(400, 'N');
    for (const Row& row : {Row{wide, "x y z", "top"}, Row{"R1", wide, wide}, Row{wide, wide, wide}}) {
        PageWriter writer(PageFormat{}, 20.0);
        writer.table({{"Name", 1.0, true}, {"Role", 1.0}, {"Side", 0.2}}, {row});
        const std::vector<Page> pages = writer.finish();
        REQUIRE(pages.size() == 1);
        for (const Text& text : pages.front().scenes.back().scene.texts)
            CHECK(text.at.x + text_width_em(text.text, text.strong) * text.height_mm <= PageFormat{}.frame().max.x);
        std::size_t letters = 0;
        for (const Text& text : pages.front().scenes.back().scene.texts)
            if (text.text.find_first_not_of('N') == std::string::npos) letters += text.text.size();
        const auto wide_cells = static_cast<std::size_t>(std::count(row.begin(), row.end(), wide));
        CHECK(letters == 400 * wide_cells);
    }
}
