#include "app/line_break.hpp"

#include <doctest/doctest.h>

namespace padchart::app {
namespace {

/// Every letter is one wide.
std::string broken(std::string_view text, float room) {
    return broken_at_blanks(text, room, [](std::string_view word) { return static_cast<float>(word.size()); });
}

TEST_CASE("a line is broken at a blank, never within a number") {
    CHECK(broken("worst 10.988 mm off", 8) == "worst\n10.988\nmm off");
    CHECK(broken("at most 0.024 mm, (41.9973)", 12) == "at most\n0.024 mm,\n(41.9973)");
}

TEST_CASE("what fits stays as it is") {
    CHECK(broken("", 5) == "");
    CHECK(broken("10 mm", 5) == "10 mm");
    CHECK(broken("two  blanks", 40) == "two  blanks");
}

TEST_CASE("breaks that are there begin a line anew") {
    CHECK(broken("one\ntwo three\n", 9) == "one\ntwo three\n");
    CHECK(broken("one two\nthree four", 7) == "one two\nthree\nfour");
}

TEST_CASE("a word wider than the room stays whole on a line of its own") {
    CHECK(broken("a 123456789 b", 4) == "a\n123456789\nb");
}

TEST_CASE("lines of a button have one middle") {
    const auto width_of = [](std::string_view word) { return static_cast<float>(word.size()); };
    CHECK(centred_lines("Present and good, next part", 17, width_of) == "Present and good,\n    next part");
    CHECK(centred_lines("Missing", 17, width_of) == "Missing");
}

} // namespace
} // namespace padchart::app
