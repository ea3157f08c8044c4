#include "patterns/numbering.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <string>

#include "geometry/affine.hpp"
#include "support.hpp"

using namespace padchart;
using namespace padchart::patterns;
using geometry::Vec2;

namespace {

std::vector<Vec2> centres(const document::Footprint& part) {
    std::vector<Vec2> all;
    for (const document::Pad& pad : part.pads)
        all.push_back(pad.at);
    return all;
}

std::vector<Vec2> mirrored(std::vector<Vec2> all) {
    for (Vec2& at : all)
        at.x = -at.x;
    return all;
}

} // namespace

// Row letters: IPC-7351 clause 14.2.5; rows 20 and 26 also seen in two outline drawings; 29, 40, 41 own arithmetic.
TEST_CASE("row letters leave out I O Q S X Z") {
    CHECK(row_name(8) == "H");
    CHECK(row_name(9) == "J");
    CHECK(row_name(13) == "N");
    CHECK(row_name(14) == "P");
    CHECK(row_name(15) == "R");
    CHECK(row_name(16) == "T");
    CHECK(row_name(20) == "Y");
    CHECK(row_name(21) == "AA");
    CHECK(row_name(26) == "AF");
    CHECK(row_name(29) == "AJ");
    CHECK(row_name(40) == "AY");
    CHECK(row_name(41) == "BA");
    int single = 0;
    for (int row = 1; row <= 400; ++row) {
        CHECK(row_name(row).find_first_of("IOQSXZ") == std::string::npos);
        single += row_name(row).size() == 1 ? 1 : 0;
    }
    CHECK(single == 20);
}

TEST_CASE("a maker who leaves no letter out is followed on request") {
    CHECK(row_name(9, RowLetters::Unbroken) == "I");
    CHECK(row_name(17, RowLetters::Unbroken) == "Q"); // A to Q unbroken is reported of one maker
    CHECK(row_name(26, RowLetters::Unbroken) == "Z");
    CHECK(row_name(27, RowLetters::Unbroken) == "AA");
}

TEST_CASE("row names and rows are each other's inverse") {
    for (const RowLetters letters : {RowLetters::Standard, RowLetters::Unbroken})
        for (int row = 1; row <= 400; ++row)
            CHECK(row_of(row_name(row, letters), letters) == row);
    CHECK(row_of("h") == 8);
    CHECK(!row_of("I"));
    CHECK(!row_of(""));
    CHECK(!row_of("AAA"));
    CHECK(!row_of("A1"));
}

TEST_CASE("ball names are read and written") {
    CHECK(ball_name({21, 7}) == "AA7");
    CHECK(ball_place("AA7") == GridPlace{21, 7});
    CHECK(ball_place("b12") == GridPlace{2, 12});
    for (const char* bad : {"", "A", "7", "A0", "A01", "I3", "A1x", "A1000", "-1"})
        CHECK_MESSAGE(!ball_place(bad), bad);
}

// Own arithmetic: quarter turns of a square of 8 x 8.
TEST_CASE("a turned array puts its corner on the next corners") {
    CHECK(ball_name(turned_place({1, 1}, 8, 8, 1)) == "H1");
    CHECK(ball_name(turned_place({1, 1}, 8, 8, 2)) == "H8");
    CHECK(ball_name(turned_place({1, 1}, 8, 8, 3)) == "A8");
    CHECK(ball_name(turned_place({1, 1}, 8, 8, 4)) == "A1");
    CHECK(ball_name(turned_place({1, 1}, 8, 8, -1)) == "A8");
    CHECK(turned_place({2, 3}, 9, 13, 2) == GridPlace{8, 11});
}

TEST_CASE("turned places agree with turning the drawing") {
    const int rows = 5;
    const int columns = 3;
    const auto at = [](GridPlace place, int r, int c) {
        return Vec2{place.column - (c + 1) / 2.0, place.row - (r + 1) / 2.0};
    };
    for (int turns = 0; turns < 4; ++turns)
        for (int row = 1; row <= rows; ++row)
            for (int column = 1; column <= columns; ++column) {
                const Vec2 turned =
                    geometry::Affine::rotation(Angle::degrees(90.0 * turns))(at({row, column}, rows, columns));
                const bool odd = turns % 2 == 1;
                const GridPlace place = turned_place({row, column}, rows, columns, turns);
                CHECK(geometry::distance(at(place, odd ? columns : rows, odd ? rows : columns), turned) < 1e-12);
            }
}

// Own arithmetic after the counter-clockwise rule.
TEST_CASE("the pin across and the pin after a turn") {
    CHECK(opposite_pin(1, 8) == 8);
    CHECK(opposite_pin(3, 8) == 6);
    CHECK(*turned_pin(1, 8, 2) == 5);
    CHECK(*turned_pin(1, 16, 1) == 5);
    CHECK(*turned_pin(16, 16, 1) == 4);
    CHECK(*turned_pin(1, 16, -1) == 13);
    CHECK(!turned_pin(1, 6, 1));
    CHECK(!turned_pin(1, 5, 2));
}

TEST_CASE("the turned pin lies where the turned land lies") {
    const document::Footprint part = test::pattern("qfp-32");
    for (int turns = 1; turns < 4; ++turns)
        for (int pin = 1; pin <= 32; ++pin) {
            const Vec2 from = test::pad(part, std::to_string(pin)).at;
            const Vec2 to = test::pad(part, std::to_string(*turned_pin(pin, 32, turns))).at;
            CHECK(geometry::distance(geometry::Affine::rotation(Angle::degrees(90.0 * turns))(from), to) < 1e-9);
        }
}

// Own arithmetic: 5.4 x 3.81 mm, lands at +-2.7 with pitch 1.27; positive is counter-clockwise with y upwards.
TEST_CASE("the area inside the pin order tells a mirrored picture") {
    const std::vector<Vec2> lands = centres(test::pattern("soic-8"));
    CHECK(numbering_area(lands) == doctest::Approx(20.574).epsilon(0.0005));
    CHECK(numbering_area(mirrored(lands)) == doctest::Approx(-20.574).epsilon(0.0005));
    CHECK(!is_mirrored(lands));
    CHECK(is_mirrored(mirrored(lands)));
}

TEST_CASE("nothing follows from a row or a zigzag or two lands") {
    CHECK(numbering_sense(centres(test::pattern("resonator-3"))) == NumberingSense::Unclear);
    CHECK(numbering_sense(centres(test::pattern("chip-1608M"))) == NumberingSense::Unclear);
    std::vector<Vec2> zigzag;
    for (int pin = 0; pin < 20; ++pin)
        zigzag.push_back({pin % 2 == 0 ? -0.9 : 0.9, 0.4 * (pin / 2)});
    CHECK(numbering_sense(zigzag) == NumberingSense::Unclear);
}

TEST_CASE("traced lands are numbered counter-clockwise from the one given") {
    std::mt19937 random(7);
    for (const char* key : {"soic-14", "qfp-44", "sot-23", "sot-23-5", "crystal-4-3225", "array-4-2010M"}) {
        CAPTURE(key);
        const document::Footprint part = test::pattern(key);
        std::vector<std::size_t> order(part.pads.size());
        for (std::size_t i = 0; i < order.size(); ++i)
            order[i] = i;
        std::shuffle(order.begin(), order.end(), random);
        std::vector<Vec2> lands;
        std::size_t first = 0;
        for (const std::size_t i : order) {
            if (part.pads[i].number == "1") first = lands.size();
            lands.push_back(part.pads[i].at + Vec2{3.0, -8.0});
        }
        const std::vector<int> numbers = perimeter_numbers(lands, first);
        for (std::size_t i = 0; i < order.size(); ++i)
            CHECK(std::to_string(numbers[i]) == part.pads[order[i]].number);
    }
}

TEST_CASE("one row is numbered from the end given") {
    const std::vector<Vec2> row{{2, 0.01}, {0, 0}, {1, -0.01}, {3, 0}};
    CHECK(perimeter_numbers(row, 1) == std::vector<int>{3, 1, 2, 4});
    CHECK(perimeter_numbers(row, 3) == std::vector<int>{2, 4, 3, 1});
    CHECK(perimeter_numbers(std::vector<Vec2>{{1, 1}}, 0) == std::vector<int>{1});
}

// The three schemes: common practice, no source.
TEST_CASE("connectors are numbered in three ways") {
    CHECK(connector_pin(ConnectorScheme::Zigzag, 0, 0, 10) == 1);
    CHECK(connector_pin(ConnectorScheme::Zigzag, 1, 0, 10) == 2);
    CHECK(connector_pin(ConnectorScheme::Zigzag, 1, 9, 10) == 20);
    CHECK(connector_pin(ConnectorScheme::CounterClockwise, 0, 9, 10) == 10);
    CHECK(connector_pin(ConnectorScheme::CounterClockwise, 1, 9, 10) == 11);
    CHECK(connector_pin(ConnectorScheme::CounterClockwise, 1, 0, 10) == 20);
    CHECK(connector_pin(ConnectorScheme::SameDirection, 1, 0, 10) == 11);
    CHECK(connector_pin(ConnectorScheme::SameDirection, 1, 9, 10) == 20);
}

TEST_CASE("the connector family follows its scheme") {
    const auto across_from_1 = [](double scheme) {
        const document::Footprint part = test::pattern_with("board-connector-0.4", "numbering", scheme);
        const Vec2 first = test::pad(part, "1").at;
        for (const document::Pad& pad : part.pads)
            if (pad.number[0] != 'T' && pad.at.y == first.y && pad.at.x == -first.x) return pad.number;
        return std::string{};
    };
    CHECK(across_from_1(0) == "2");
    CHECK(across_from_1(1) == "20");
    CHECK(across_from_1(2) == "11");
}
