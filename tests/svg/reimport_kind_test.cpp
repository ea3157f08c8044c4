// A name that stands for another kind of part now: what was said of it is to be looked at. Invented boards.

#include "svg/reimport_kind.hpp"

#include "document/edits.hpp"
#include "svg/reimport_support.hpp"

namespace padchart::svg {
namespace {

using Lines = std::vector<std::string>;

/// A body in the middle of its page and pads on a line through it.
std::string part(double length, double width, int pads, const std::string& turn = "") {
    const auto number = [](double value) { return std::to_string(value); };
    std::string text = "<g id=\"C4\"" + (turn.empty() ? "" : " transform=\"" + turn + "\"") +
                       "><rect class=\"body\" x=\"" + number(10 - length / 2) + "\" y=\"" + number(10 - width / 2) +
                       "\" width=\"" + number(length) + "\" height=\"" + number(width) + "\"/><g class=\"pads\">";
    for (int i = 0; i < pads; ++i)
        text += "<rect x=\"" + number(10 - length / 2 + length * i / (pads - 1) - 0.1) +
                "\" y=\"9.9\" width=\"0.2\" height=\"0.2\"/>";
    return text + "</g></g>";
}

Lines told(const std::string& was, const std::string& is) {
    const document::Chart chart = traced(was);
    const auto spoken = document::set_value(chart, chart.parts[0].id, "100 nF");
    REQUIRE(spoken);
    return told_as(reimport(*spoken, traced(is)), "other-kind");
}

TEST_CASE("a name that bears more pads and a larger body is another kind of part, and so it is told") {
    CHECK(
        told(part(1.0, 0.5, 2), part(2.9, 1.3, 3)) ==
        Lines{"C4 is another kind of part now: it had 2 pads, now 3, and its body was 1.00 x 0.50 mm, now 2.90 x 1.30 "
              "mm. What was said of it (value, state, mark, readings, notes) went along with its name: look at each"});
}

TEST_CASE("a chip of the next size is another kind of part") {
    CHECK(told(part(1.6, 0.8, 2), part(1.0, 0.5, 2)).size() == 1);
    CHECK(told(part(3.2, 1.6, 2), part(3.2, 2.5, 2)).size() == 1);
}

TEST_CASE("a part drawn better, with a pad more of many, or turned is the same kind") {
    CHECK(told(part(1.6, 0.8, 2), part(1.75, 0.85, 2)).empty());
    CHECK(told(part(6.0, 6.0, 8), part(6.0, 6.0, 9)).empty());
    CHECK(told(part(1.6, 0.8, 2), part(1.6, 0.8, 2, "rotate(37 10 10)")).empty());
}

TEST_CASE("of a part nobody spoke of another kind is no warning") {
    const Result<ReimportResult> result = reimport(traced(part(1.0, 0.5, 2)), traced(part(2.9, 1.3, 3)));
    CHECK(told_as(result, "other-kind").empty());
    CHECK(told_as(result, "part-changed").size() == 1);
}

} // namespace
} // namespace padchart::svg
