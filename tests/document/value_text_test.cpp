#include "document/value_text.hpp"

#include <doctest/doctest.h>

#include "document/edits.hpp"

namespace padchart::document {

TEST_CASE("a u that stands for micro is printed as micro") {
    CHECK(value_as_printed("10 uF") == "10 µF");
    CHECK(value_as_printed("10uF 25 V") == "10µF 25 V");
    CHECK(value_as_printed("4u7") == "4µ7");
    CHECK(value_as_printed("2.2 uH, 3 A") == "2.2 µH, 3 A");
    CHECK(value_as_printed("47u") == "47µ");
}

TEST_CASE("any other u stays") {
    CHECK(value_as_printed("10 units") == "10 units");
    CHECK(value_as_printed("Au") == "Au");
    CHECK(value_as_printed("10 µF") == "10 µF");
    CHECK(value_as_printed("") == "");
}

TEST_CASE("what is typed as a part's value is kept as the trade prints it") {
    Footprint part;
    part.id = {"c1"};
    Pad pad;
    pad.shape = {ShapeKind::Rectangle, 0.5, 0.5, {}};
    part.pads.push_back(pad);
    const Result<Chart> chart = add_part({}, part);
    REQUIRE(chart);
    const Result<Chart> after = set_value(*chart, {"c1"}, "10 uF");
    REQUIRE(after);
    CHECK(after->parts[0].value == "10 µF");
}

} // namespace padchart::document
