#include "app/soft_lines.hpp"

#include <doctest/doctest.h>

namespace padchart::app {
namespace {

/// Every letter is one wide.
SoftLines lines_of(std::string_view text, float room = 10) {
    return {text, room, [](std::string_view word) { return static_cast<float>(word.size()); }};
}

} // namespace

TEST_CASE("a long note is shown in lines and kept as it was") {
    const std::string text = "pad lifted, wire to C7 needed";
    const SoftLines lines = lines_of(text);
    CHECK(lines.shown() == "pad\nlifted,\nwire to C7\nneeded");
    CHECK(lines.text() == text);
}

TEST_CASE("lines are broken anew as one types, and breaks that are only shown are not kept") {
    SoftLines lines = lines_of("pad lifted");
    CHECK(lines.shown() == "pad lifted");
    lines.take("pad 12 lifted");
    CHECK(lines.shown() == "pad 12\nlifted");
    lines.take("pad 12\nlifted off");
    CHECK(lines.text() == "pad 12 lifted off");
    lines.take("pad\nlifted off"); // " 12" taken out again
    CHECK(lines.text() == "pad lifted off");
    CHECK(lines.shown() == "pad lifted\noff");
}

TEST_CASE("a line that the writer began stays one, beside a break that is only shown") {
    SoftLines lines = lines_of("pad 12 lifted");
    REQUIRE(lines.shown() == "pad 12\nlifted");
    lines.take("pad 12\n\nlifted");
    CHECK(lines.text() == "pad 12 \nlifted");
    lines.take(lines.shown() + "!");
    CHECK(lines.text() == "pad 12 \nlifted!");
}

TEST_CASE("a break that is only shown is rubbed out as the blank it stands for") {
    SoftLines lines = lines_of("pad 12 lifted");
    lines.take("pad 12lifted");
    CHECK(lines.text() == "pad 12lifted");
    lines.take("");
    CHECK(lines.text().empty());
}

} // namespace padchart::app
