// Orientation cards: what they say, that it fits, and that pictures show the part as it lies.

#include "scene/card.hpp"

#include <algorithm>
#include <map>
#include <string>

#include <doctest/doctest.h>

#include "patterns/labels.hpp"
#include "patterns/table.hpp"
#include "scene/card_picture.hpp"
#include "scene/card_words.hpp"
#include "scene/page_writer.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;
using namespace padchart::document;
using geometry::Box;
using geometry::Vec2;

namespace {

const Footprint& part_of(const Chart& chart, const std::string& name) {
    return chart.parts[*find_part_named(chart, name)];
}

analysis::PartFit fit_of(const Footprint& part) {
    return analysis::fit_of(part, 0.02);
}

CardWords words_for(const Footprint& part) {
    return card_words(test::sample_chart(), part, fit_of(part));
}

std::string line_of(const CardWords& words, const std::string& label) {
    for (const CardLine& line : words.lines)
        if (line.label == label) return line.text;
    if (label == "Evidence" && words.evidence) return words.evidence->text;
    return "no such line";
}

bool says(const std::vector<std::string>& texts, std::string_view what) {
    return std::any_of(texts.begin(), texts.end(),
                       [&](const std::string& text) { return text.find(what) != std::string::npos; });
}

Box box_of(const Text& text) {
    const double width = text_width_em(text.text, text.strong) * text.height_mm;
    const double left = text.align == Align::Left ? 0.0 : text.align == Align::Centre ? -width / 2 : -width;
    const double half = text.height_mm * kCapHeight_em / 2;
    return {text.at + Vec2{left, -half}, text.at + Vec2{left + width, half}};
}

Box box_of(const PlacedScene& placed) {
    const Box& box = placed.scene.bounds;
    if (box.is_empty()) return box;
    return {placed.at + box.min * placed.scale, placed.at + box.max * placed.scale};
}

/// Words over words, words over a picture, anything beyond the card, letters too small, words cut off.
std::string faults_of(const Page& page, const Box& card) {
    std::string faults;
    const std::vector<Text>& texts = page.scenes.back().scene.texts;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const Box box = box_of(texts[i]);
        if (!card.contains(box.min) || !card.contains(box.max)) faults += texts[i].text + " runs over the edge\n";
        if (texts[i].height_mm * kCapHeight_em < 2.5) faults += texts[i].text + " is too small\n";
        if (texts[i].text.find("…") != std::string::npos) faults += texts[i].text + " is cut\n";
        for (std::size_t k = i + 1; k < texts.size(); ++k)
            if (box.overlaps(box_of(texts[k]))) faults += texts[i].text + " lies over " + texts[k].text + "\n";
        for (std::size_t k = 0; k + 1 < page.scenes.size(); ++k)
            if (box.overlaps(box_of(page.scenes[k]))) faults += texts[i].text + " lies on a picture\n";
    }
    for (std::size_t k = 0; k + 1 < page.scenes.size(); ++k) {
        const Box box = box_of(page.scenes[k]);
        if (box.is_empty()) continue; // a sign alone
        if (!card.contains(box.min) || !card.contains(box.max)) faults += "a picture runs over the edge\n";
        for (std::size_t j = k + 1; j + 1 < page.scenes.size(); ++j)
            if (box.overlaps(box_of(page.scenes[j]))) faults += "two pictures overlap\n";
    }
    return faults;
}

/// A part of each class with a mark of each of some kinds: the words differ in length, the pictures in shape.
std::vector<Footprint> many_parts() {
    std::vector<Footprint> parts;
    const Chart chart = test::sample_chart();
    for (const Footprint& part : chart.parts)
        parts.push_back(part);
    for (const Word<PartClass>& part_class : words<PartClass>())
        for (const MarkKind mark : {MarkKind::Dot, MarkKind::Bar, MarkKind::Arrow, MarkKind::Plus}) {
            Footprint part = test::two_rows("U23", part_class.value, {5, 5}, {2.0, 1.6}, 2, 0.8);
            part.value = "100u 6V3";
            test::record(part, mark, Angle::degrees(135), Meaning::Unknown);
            part.orientation.evidence = {
                EvidenceKind::Photo, "photo 2, seen from the battery edge", "bench 2", "2031-04-02", {}};
            parts.push_back(part);
        }
    return parts;
}

} // namespace

TEST_CASE("a card on A6 holds all it says without a collision whatever the part") {
    const Chart chart = test::sample_chart();
    for (const Footprint& part : many_parts()) {
        CAPTURE(part.name);
        CAPTURE(to_text(part.part_class));
        CAPTURE(to_text(part.orientation.mark));
        const Page page = orientation_card(chart, part, fit_of(part));
        // ISO 216: A6 is 105 by 148 mm.
        CHECK(page.width_mm == 148.0);
        CHECK(page.height_mm == 105.0);
        CHECK(faults_of(page, {{3, 3}, {145, 102}}) == "");
    }
}

TEST_CASE("a card in the smallest box holds all it says without a collision whatever the part") {
    const Chart chart = test::sample_chart();
    const Box box{{20, 10}, {20 + kLeastCardWidth_mm, 10 + kLeastCardHeight_mm}};
    for (const Footprint& part : many_parts()) {
        CAPTURE(part.name);
        CAPTURE(to_text(part.part_class));
        CAPTURE(to_text(part.orientation.mark));
        Page page;
        add_card(page, box, chart, part, fit_of(part));
        CHECK(faults_of(page, box) == "");
    }
}

TEST_CASE("an unrecorded part asks to be looked at and offers eight places to fill in") {
    const Chart chart = test::sample_chart();
    const Footprint& part = part_of(chart, "TV2");
    const CardWords words = words_for(part);
    CHECK(words.status == "NOT RECORDED");
    CHECK(words.is_open);
    CHECK(line_of(words, "Mark").find("look before the heat") == 0);
    CHECK(line_of(words, "Evidence") == "none yet");
    const PlacedScene picture = part_picture(part, fit_of(part), {{0, 0}, {60, 40}});
    const auto circles = std::count_if(picture.scene.lines.begin(), picture.scene.lines.end(),
                                       [](const Line& line) { return line.points.size() > 8; });
    CHECK(circles == 8);
    REQUIRE(picture.scene.symbols.size() == 1);
    CHECK(picture.scene.symbols[0].sign == Sign::Query);
}

TEST_CASE("a recorded part says where the mark is and what it means in words") {
    const Chart chart = test::sample_chart();
    const CardWords diode = words_for(part_of(chart, "D3"));
    CHECK(diode.status == "recorded");
    CHECK(line_of(diode, "Mark") == "band, left, at pad 1");
    CHECK(line_of(diode, "Means") == "the cathode is on the mark's side");
    CHECK(line_of(diode, "Evidence") == "seen on this board");
    const CardWords tantalum = words_for(part_of(chart, "C7"));
    CHECK(line_of(tantalum, "Means") == "plus (the anode) is on the mark's side");
    CHECK(line_of(tantalum, "If wrong") == "hazard to people: fire or venting. It sits turned by 180° too");
    CHECK(tantalum.kind == "tantalum capacitor 22 µF 6.3 V, 2 pads");
    const CardWords led = words_for(part_of(chart, "D9"));
    CHECK(led.seen == "seen from the bottom");
    CHECK(line_of(led, "Means") == "not known: find out first");
}

TEST_CASE("a middle land is not the land a mark lies at") {
    const Chart chart = test::sample_chart();
    CHECK(line_of(words_for(part_of(chart, "U1")), "Mark").find("EP") == std::string::npos);
}

TEST_CASE("looked for and not found is neither recorded nor forgotten") {
    Footprint part = part_of(test::sample_chart(), "TV2");
    part.orientation.state = RecordState::NoMark;
    const CardWords words = words_for(part);
    CHECK(words.status == "NO MARK");
    CHECK(words.is_open);
    CHECK(line_of(words, "Mark") == "none to be seen; put one on the part before it is lifted");
}

TEST_CASE("a part that sits one way only gets a card that says so") {
    const CardWords words = words_for(part_of(test::sample_chart(), "R7"));
    CHECK(words.status == "none needed");
    CHECK(line_of(words, "If wrong") == "the turns it sits in change nothing");
    Footprint angle = test::part_named("Q1", PartClass::Transistor, {0, 0}, test::box_shape(2, 3));
    for (const Vec2 at : {Vec2{-1, -1}, Vec2{-1, 1}, Vec2{1, 0}})
        angle.pads.push_back(test::pad_at("", at, test::box_shape(0.9, 0.6)));
    CHECK(line_of(words_for(angle), "If wrong") == "its pads allow one way only");
}

TEST_CASE("the traps of the trade stand on the cards they belong to") {
    CHECK(says(confusions_of(PartClass::TantalumCapacitor, MarkKind::Bar), "bar of a tantalum is plus"));
    CHECK(says(confusions_of(PartClass::Diode, MarkKind::Band), "band is the cathode"));
    CHECK(says(confusions_of(PartClass::Zener, MarkKind::Band), "toward the plus rail"));
    CHECK(says(confusions_of(PartClass::AluminiumCapacitor, MarkKind::DarkSector), "dark sector is minus"));
    CHECK(says(confusions_of(PartClass::Led, MarkKind::Dot), "until it is metered or lit"));
    CHECK(says(confusions_of(PartClass::IntegratedCircuit, MarkKind::Dot), "ejector dimple"));
    CHECK(says(confusions_of(PartClass::Oscillator, MarkKind::Dot), "crystal of the same body"));
    CHECK(says(confusions_of(PartClass::Crystal, MarkKind::Dot), "oscillator of the same body"));
    CHECK(says(confusions_of(PartClass::IntegratedCircuit, MarkKind::Text), "no direction mark"));
    CHECK(says(confusions_of(PartClass::Diode, MarkKind::LetterK), "collector or capacitor"));
    CHECK_FALSE(says(confusions_of(PartClass::Diode, MarkKind::Band), "collector or capacitor"));
    CHECK(confusions_of(PartClass::Resistor, MarkKind::Unknown).empty());
}

TEST_CASE("a record against custom is warned of before anything else") {
    Footprint part = part_of(test::sample_chart(), "C7");
    part.orientation.meaning = Meaning::Negative;
    const CardWords words = words_for(part);
    REQUIRE(words.confusions.size() >= 2);
    CHECK(words.confusions[0].find("bar of a tantalum") == std::string::npos);
    CHECK(says(words.confusions, "bar of a tantalum"));
}

TEST_CASE("the table of confusions names known classes and marks and a source in every row") {
    const patterns::Table& rows = patterns::table("confusions");
    REQUIRE(rows.size() > 30);
    const auto check_words = [](std::string_view cell, auto known) {
        while (!cell.empty()) {
            const std::string_view word = cell.substr(0, cell.find(' '));
            CAPTURE(word);
            CHECK((word == "any" || known(word)));
            cell.remove_prefix(std::min(cell.size(), word.size() + 1));
        }
    };
    for (std::size_t row = 0; row < rows.size(); ++row) {
        CAPTURE(rows.text(row, "text"));
        check_words(rows.text(row, "classes"), [](std::string_view w) { return from_text<PartClass>(w).has_value(); });
        check_words(rows.text(row, "marks"), [](std::string_view w) { return from_text<MarkKind>(w).has_value(); });
        CHECK(rows.text(row, "text").ends_with('.'));
        const std::string_view standing = rows.text(row, "standing");
        CHECK((standing == "published" || standing == "from memory" || standing == "common practice"));
        CHECK_FALSE(rows.text(row, "source").empty());
    }
}

TEST_CASE("every class that a wrong turn can harm has something it must not be confused with") {
    for (const Word<PartClass>& word : words<PartClass>()) {
        CAPTURE(word.text);
        if (analysis::consequence_of(word.value) >= analysis::Consequence::DoesNotWork)
            CHECK_FALSE(confusions_of(word.value, MarkKind::Unknown).empty());
    }
}

TEST_CASE("a picture shows the part as seen from its own side with the up edge up") {
    // A bar at the part's own left end; placed a quarter turn counter-clockwise it lies at the bottom of the picture,
    // on either side of the board.
    for (const Side side : {Side::Top, Side::Bottom}) {
        Footprint part = test::chip("C1", PartClass::TantalumCapacitor, {3, 4}, {2.0, 1.0});
        test::record(part, MarkKind::Bar, Angle::degrees(180), Meaning::Positive);
        part.placement.turn = Angle::degrees(90);
        part.placement.side = side;
        const PlacedScene picture = part_picture(part, fit_of(part), {{0, 0}, {60, 40}});
        Box bar;
        for (const Item& item : picture.scene.items)
            if (item.role == Role::Mark && item.kind == Item::Kind::Fill)
                bar.add(geometry::bounds(picture.scene.fills[item.index].area));
        REQUIRE_FALSE(bar.is_empty());
        const Vec2 on_page = picture.at + bar.centre() * picture.scale;
        CHECK(on_page.x == doctest::Approx(30.0));
        CHECK(on_page.y > 24.0);
    }
}

TEST_CASE("a wrong turn shows the mark turned on copper that stays") {
    Footprint part = test::chip("C1", PartClass::TantalumCapacitor, {3, 4}, {2.0, 1.0});
    test::record(part, MarkKind::Bar, Angle::degrees(180), Meaning::Positive);
    const PlacedScene right = turned_picture(part, 0.0, {0, 0}, 1.0);
    const PlacedScene wrong = turned_picture(part, 180.0, {0, 0}, 1.0);
    const auto mark_x = [](const PlacedScene& placed) {
        for (const Item& item : placed.scene.items)
            if (item.role == Role::Mark)
                return placed.at.x + geometry::bounds(placed.scene.fills[item.index].area).centre().x;
        return 0.0;
    };
    CHECK(mark_x(right) < -0.5);
    CHECK(mark_x(wrong) == doctest::Approx(-mark_x(right)));
    CHECK(wrong.scene.lines[0].points == right.scene.lines[0].points);
}

TEST_CASE("cards are made for the parts that need one in chart order") {
    Chart chart = test::sample_chart();
    const analysis::FitReport fit = analysis::fit(chart);
    const std::vector<Id> ids = parts_that_need_a_card(chart, fit);
    std::string names;
    for (const Id& id : ids)
        names += chart.parts[*find_part(chart, id)].name + " ";
    // Resistors, ceramic capacitors and the inductor bear a half turn; the sample's microphone has no pads.
    CHECK(names == "U1 U4 D3 TV2 C7 J2 D9 ");
    const Document cards = orientation_cards(chart, fit, ids);
    REQUIRE(cards.pages.size() == ids.size());
    CHECK(cards.pages[3].bookmark == "TV2");
    CHECK(cards.day == "2031-04-02");
    Footprint never = part_of(chart, "D3");
    never.condition.presence = Presence::NotFitted;
    chart.parts.replace(*find_part_named(chart, "D3"), never);
    CHECK(parts_that_need_a_card(chart, fit).size() == ids.size() - 1);
}

TEST_CASE("a part without copper or body still gets a card") {
    Footprint part;
    part.id = Id{"bare"};
    const Page page = orientation_card(test::sample_chart(), part, fit_of(part));
    CHECK(faults_of(page, {{3, 3}, {145, 102}}) == "");
    CHECK(page.scenes.size() == 2);
}
