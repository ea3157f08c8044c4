#include "scene/text_width.hpp"
#include "scene/words.hpp"

#include <doctest/doctest.h>

#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;

TEST_CASE("a text is as wide as its letters together") {
    // Advance widths of Inter Regular, thousandths: R 639, 7 571 (read from the font file).
    CHECK(text_width_em("R7", false) == doctest::Approx(1.21));
    CHECK(text_width_em("", true) == 0.0);
    CHECK(text_width_em("R7", true) > text_width_em("R7", false));
    CHECK(text_width_em("\xFF\xC3", false) > 0.0); // stray bytes do no harm
}

TEST_CASE("wrapped lines keep every word and none is too wide") {
    const std::string text = "the nozzle stays hot long after switch-off and anunusuallylongwordwithoutanygapinit ends";
    for (const double width : {3.0, 5.0, 12.0, 1000.0}) {
        std::string letters;
        for (const std::string& line : wrapped(text, width, false)) {
            CHECK(text_width_em(line, false) <= width);
            for (const char c : line)
                if (c != ' ') letters += c;
        }
        std::string expected;
        for (const char c : text)
            if (c != ' ') expected += c;
        CHECK(letters == expected);
    }
    CHECK(wrapped(text, 1000.0, false).size() == 1);
    CHECK(wrapped("   ", 5.0, false).empty());
    CHECK(wrapped("µµµ", -1.0, false).size() == 3);
    CHECK(wrapped("µµµ", 0.1, false).size() == 3); // too narrow for even one: one each, none cut within
}

TEST_CASE("a shortened text fits and says that it goes on") {
    CHECK(shortened("short", 10.0, false) == "short");
    const std::string cut = shortened("a name that is much too long for its field", 8.0, true);
    CHECK(text_width_em(cut, true) <= 8.0);
    CHECK(cut.substr(cut.size() - 3) == "…");
}

TEST_CASE("numbers are written without a tail") {
    CHECK(number(2.0, 3) == "2");
    CHECK(number(0.5, 3) == "0.5");
    CHECK(number(-0.0001, 2) == "0");
    CHECK(number(100.0, 0) == "100");
    CHECK(celsius(260.0) == "260 °C");
    CHECK(celsius(217.5) == "217.5 °C");
}

TEST_CASE("mark and meaning are told apart and unknown is an answer") {
    document::Orientation orientation;
    CHECK(mark_and_meaning(orientation) == "not recorded");
    orientation.state = document::RecordState::NoMark;
    CHECK(mark_and_meaning(orientation) == "no mark to be seen");
    orientation.state = document::RecordState::Recorded;
    orientation.mark = document::MarkKind::Dot;
    CHECK(mark_and_meaning(orientation) == "dot, meaning unknown");
    orientation.meaning = document::Meaning::Pin1;
    CHECK(mark_and_meaning(orientation) == "dot = pin 1");
}

TEST_CASE("the place of a mark counts the turn of its part") {
    document::Footprint part;
    part.orientation.bearing = Angle::degrees(135);
    CHECK(mark_place(part) == "upper left");
    part.placement.turn = Angle::degrees(90); // counter-clockwise: from upper left to lower left
    CHECK(mark_place(part) == "lower left");
    part.placement.turn = Angle::degrees(-135);
    CHECK(mark_place(part) == "right");
    part.placement.turn = Angle::degrees(-136);
    CHECK(mark_place(part) == "right"); // wraps round zero
}

TEST_CASE("a condition names what is wrong and nothing else") {
    document::Footprint part = test::chip("C1", document::PartClass::CeramicCapacitor, {0, 0}, {1, 0.5});
    CHECK(condition_in_words(part) == "not checked");
    CHECK_FALSE(has_fault(part));
    part.condition.joint = document::JointState::Good;
    CHECK(condition_in_words(part) == "no fault seen");
    part.condition.body = document::BodyState::Cracked;
    part.condition.presence = document::Presence::Present;
    part.pads[1].land = document::LandState::Lifted;
    CHECK(condition_in_words(part) == "body cracked; pad 2: land lifted");
    CHECK(has_fault(part));
    CHECK_FALSE(is_absent(part));
    part.condition.presence = document::Presence::NotFitted;
    CHECK(is_absent(part));
}

TEST_CASE("a part whose land is lifted is not said to be without fault") {
    document::Footprint part = test::chip("C1", document::PartClass::CeramicCapacitor, {0, 0}, {1, 0.5});
    part.condition.presence = document::Presence::Present;
    part.pads[1].land = document::LandState::Lifted;
    CHECK(condition_in_words(part) == "pad 2: land lifted");
    part.condition.presence = document::Presence::NotChecked;
    CHECK(condition_in_words(part) == "pad 2: land lifted");
}

TEST_CASE("a reading is a number with its unit or a word") {
    document::Reading reading;
    reading.value = 0.482;
    reading.unit = "V";
    CHECK(value_in_words(reading) == "0.482 V");
    reading.value = document::SpecialValue::OverLimit;
    CHECK(value_in_words(reading) == "OL");
    // Ohms with the prefix one says them with.
    CHECK(ohms_in_words(1850.0) == "1.85 kΩ");
    CHECK(ohms_in_words(220.0) == "220 Ω");
    CHECK(ohms_in_words(2.2e6) == "2.2 MΩ");
}

TEST_CASE("temperatures of a report's sentences get their degree sign and nothing else does") {
    CHECK(with_degrees(std::string("197 to 310 C, its limit is 280 C.")) == "197 to 310 °C, its limit is 280 °C.");
    CHECK(with_degrees(std::string("Tie C7 down; at 5 Cards, 3 C")) == "Tie C7 down; at 5 Cards, 3 °C");
}
