// Names that were corrected on the drawing: what was said goes with the name, and who reads it is told to look.
#include "svg/reimport_places.hpp"

#include "document/edits.hpp"
#include "reimport_support.hpp"

namespace padchart::svg {
namespace {

using Lines = std::vector<std::string>;

/// Chips in a row, 4 mm apart.
std::string row(const Lines& names, double x = 2.0) {
    std::string shapes;
    for (std::size_t i = 0; i < names.size(); ++i)
        shapes += names[i].empty() ? "" : chip(names[i], x + 4.0 * static_cast<double>(i), 5.0);
    return shapes;
}

const std::string kThen = ", and what was said of them went along with their names: if only names were corrected, the "
                          "parts lie where they lay; check value, direction and state of each on the board";

TEST_CASE("three names that went round in a ring are one warning that names them all, and tags stay with the name") {
    document::Chart chart = traced(row({"U1", "U2", "U3"}));
    chart = document::set_value(chart, chart.parts[0].id, "10k").value();
    const Result<ReimportResult> result = reimport(chart, traced(row({"U3", "U1", "U2"})));
    CHECK(told_as(result, "places-exchanged") ==
          Lines{"U1 is drawn where U2 lay, U2 is drawn where U3 lay and U3 is drawn where U1 lay" + kThen});
    CHECK(result->chart.parts[0].name == "U1");
    CHECK(result->chart.parts[0].value == "10k");
    CHECK(result->chart.parts[0].placement.at.x == doctest::Approx(chart.parts[1].placement.at.x));
}

TEST_CASE("names that were shifted along a row are one warning, with the one that is gone and the one that is new") {
    const Result<ReimportResult> result = reimport(traced(row({"U1", "U2", "U3"})), traced(row({"U2", "U3", "U4"})));
    CHECK(told_as(result, "places-exchanged") ==
          Lines{"U4 is drawn where U3 lay, U3 is drawn where U2 lay and U2 is drawn where U1 lay" + kThen});
}

TEST_CASE("two that stand in each other's place are told as exchanged") {
    const Result<ReimportResult> result = reimport(traced(row({"U1", "U2"})), traced(row({"U2", "U1"})));
    CHECK(told_as(result, "places-exchanged") ==
          Lines{"U1 and U2 have exchanged their places in the trace, and what was said of them went along: if only "
                "their names were corrected, exchange it by hand"});
}

TEST_CASE("a row that moved along itself as one, and a part that moved to a free place, exchanged no names") {
    const document::Chart chart = traced(row({"U1", "U2", "U3"}));
    CHECK(told_as(reimport(chart, traced(row({"", "U1", "U2", "U3"}))), "places-exchanged").empty());
    CHECK(told_as(reimport(chart, traced(row({"U1", "U2", "", "U3"}))), "places-exchanged").empty());
    CHECK(told_as(reimport(chart, traced(row({"U1", "U2", "U3"}))), "places-exchanged").empty());
}

TEST_CASE("what is new and has no name took nothing along where another part lay") {
    const std::string nameless = "<g id=\"pads\"><rect x=\"1.3\" y=\"5\" width=\"0.2\" height=\"0.2\"/><rect x=\"4.5\" "
                                 "y=\"5.6\" width=\"0.2\" height=\"0.2\"/></g>";
    document::Chart chart = traced(row({"U1", "U2", "U3"}));
    chart = document::set_value(chart, chart.parts[0].id, "10k").value();
    const Result<ReimportResult> result = reimport(chart, traced(nameless + chip("U2", 6, 5) + chip("U3", 10, 5)));
    CHECK(told_as(result, "places-exchanged").empty());
    CHECK(told_as(result, "gone-from-trace").size() == 1);
}

TEST_CASE("small parts that stand closer than half a millimetre have exchanged names as well") {
    const auto small = [](const std::string& name, double x) {
        return "<g id=\"" + name + "\"><rect class=\"body\" x=\"" + std::to_string(x) +
               "\" y=\"3\" width=\"0.2\" height=\"0.4\"/></g>";
    };
    const document::Chart chart = traced(small("R1", 3.0) + small("R2", 3.4) + small("R3", 3.8));
    const Result<ReimportResult> result =
        reimport(chart, traced(small("R2", 3.0) + small("R3", 3.4) + small("R1", 3.8)));
    CHECK(told_as(result, "places-exchanged").size() == 1);
}

} // namespace
} // namespace padchart::svg
