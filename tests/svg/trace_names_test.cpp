// The rules of trace_to_chart.hpp, word by word.
#include <doctest/doctest.h>

#include "svg/trace_names.hpp"

namespace padchart::svg {
namespace {

using document::MarkKind;
using document::Side;

TEST_CASE("layer names decide in any spelling") {
    for (const char* name : {"pads", "Pads", "PAD", "pads 2", "Pads_2", "lands", "pads (copper)"}) {
        CAPTURE(name);
        CHECK(read_name(name).role == Role::Pad);
    }
    for (const char* name : {"cut-out", "CutOut", "cut out", "hole", "cut_outs", "holes"}) {
        CAPTURE(name);
        CHECK(read_name(name).role == Role::CutOut);
    }
    for (const char* name : {"keep-out", "keepout", "Keep Out 3"}) {
        CAPTURE(name);
        CHECK(read_name(name).role == Role::KeepOut);
    }
    CHECK(read_name("board outline").role == Role::Outline);
    CHECK(read_name("photo").role == Role::Note);
    CHECK_FALSE(read_name("lid").role.has_value());
    CHECK_FALSE(read_name("old pads").role.has_value());
}

TEST_CASE("sides and sensitive layers do not decide the role") {
    CHECK(read_name("far side").side == Side::Bottom);
    CHECK(read_name("Bottom pads").side == Side::Bottom);
    CHECK(read_name("Bottom pads").role == Role::Pad);
    CHECK(read_name("top").side == Side::Top);
    CHECK(read_name("heat-sensitive").sensitive);
    CHECK_FALSE(read_name("sensitive").role.has_value());
}

TEST_CASE("a name may name the part too") {
    for (const char* name : {"body:U4", "U4 body", "body U4", "body/U4", "U4-body", "U4: body"}) {
        CAPTURE(name);
        CHECK(read_name(name).role == Role::Body);
        CHECK(read_name(name).part_name == "U4");
    }
}

TEST_CASE("what follows the colon says what the part does") {
    const NameReading reading = read_name("U4: charge controller");
    CHECK(reading.part_name == "U4");
    CHECK(reading.part_role == "charge controller");
    // Words of the rules in it mean nothing there.
    CHECK_FALSE(read_name("SW1: edge switch with pads").role.has_value());
    CHECK(read_name("SW1: edge switch with pads").part_role == "edge switch with pads");
}

TEST_CASE("pads are numbered by what follows the part's name") {
    for (const char* name : {"U4-3", "U4.3", "U4:3", "U4_3"}) {
        CAPTURE(name);
        CHECK(read_name(name).part_name == "U4");
        CHECK(read_name(name).pad_number == "3");
    }
    CHECK(read_name("U4-EP").pad_number == "EP");
    CHECK(read_name("U12-AA10").pad_number == "AA10");
    CHECK(pad_number_of("7") == "7");
    CHECK(pad_number_of("pad 3") == "3");
    CHECK(pad_number_of("pin12") == "12");
    CHECK(pad_number_of("B2") == "B2");
    CHECK(pad_number_of("_x31_") == "1");
    CHECK(pad_number_of("thermal") == "");
}

TEST_CASE("ids drawing programs give are not names") {
    for (const char* id :
         {"rect123", "path7", "g12", "path118-3", "layer1", "Layer_2", "use5", "svg2", "text9", "Path"}) {
        CAPTURE(id);
        CHECK(is_generated_id(id));
        CHECK(read_name(id).part_name.empty());
    }
    for (const char* name : {"U4", "TP12", "J2A", "C1", "SH1", "R104"}) {
        CAPTURE(name);
        CHECK(is_part_name(name));
        CHECK_FALSE(is_generated_id(name));
    }
    for (const char* name : {"U", "4", "U4x5", "TOOLONG1", "U123456", ""}) {
        CAPTURE(name);
        CHECK_FALSE(is_part_name(name));
    }
}

TEST_CASE("marks are told by their words") {
    CHECK(read_name("U1-dot").mark == MarkKind::Dot);
    CHECK(read_name("U1-dot").part_name == "U1");
    CHECK(read_name("cut corner").mark == MarkKind::CutCorner);
    CHECK(read_name("mark band").mark == MarkKind::Band);
    CHECK(read_name("mark band").role == Role::Mark);
}

} // namespace
} // namespace padchart::svg
