#include "support.hpp"

#include "app/orientation.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using document::Id;

Footprint plate(double width, double height, double turn_deg) {
    Footprint part;
    part.name = "TV2";
    part.body.emplace();
    part.body->shape = {document::ShapeKind::Rectangle, width, height, {}};
    part.placement.turn = Angle::degrees(turn_deg);
    return part;
}

TEST_CASE("the places of a mark are the corners and middles of the part as it sits") {
    const auto places = mark_places(plate(4, 2, 0));
    REQUIRE(places.size() == 8);
    CHECK(places[0].x == -1);
    CHECK(places[0].y == -1);
    // Upper left corner of 4 x 2: 180 less atan(1/2) = 153.435 degrees (own arithmetic).
    CHECK(places[0].bearing.degrees() == doctest::Approx(153.435).epsilon(1e-5));
    CHECK(places[1].bearing.degrees() == doctest::Approx(90));  // top
    CHECK(places[3].bearing.degrees() == doctest::Approx(0));   // right
    CHECK(places[5].bearing.degrees() == doctest::Approx(270)); // bottom
}

TEST_CASE("bearings belong to the part: a turned part keeps the mark on its own side") {
    // Turned a quarter counter-clockwise, what is its own right side points up.
    const auto places = mark_places(plate(4, 2, 90));
    CHECK(places[1].bearing.degrees() == doctest::Approx(0)); // up on the board is the part's own +x
}

TEST_CASE("the nearest place is found across the full turn and far bearings have none") {
    const auto places = mark_places(plate(2, 2, 0));
    REQUIRE(nearest_place(places, Angle::degrees(359)));
    CHECK(*nearest_place(places, Angle::degrees(359)) == 3);
    CHECK(*nearest_place(places, Angle::degrees(1)) == 3);
    CHECK_FALSE(nearest_place({}, Angle()));
}

analysis::PartFit fit(const char* id, bool needs, bool has) {
    analysis::PartFit made;
    made.part = Id{id};
    made.seating_turns = {0, 180};
    made.needs_record = needs;
    made.has_record = has;
    if (needs) made.risky_turns = {180};
    return made;
}

TEST_CASE("the next part to record is the one after and the list goes round") {
    analysis::FitReport report;
    report.parts = {fit("a", true, false), fit("b", false, false), fit("c", true, true), fit("d", true, false)};
    CHECK(next_unrecorded(report, Id{"a"}) == Id{"d"});
    CHECK(next_unrecorded(report, Id{"d"}) == Id{"a"});
    CHECK(next_unrecorded(report, Id{}) == Id{"a"});
}

TEST_CASE("nothing is next when the only open part is the one in hand") {
    analysis::FitReport report;
    report.parts = {fit("a", true, false), fit("c", true, true)};
    CHECK_FALSE(next_unrecorded(report, Id{"a"}));
}

TEST_CASE("the verdict names the turns and asks for a record until there is one") {
    Footprint part = plate(4, 2, 0);
    analysis::PartFit open = fit("a", true, false);
    FitVerdict says = verdict_of(part, open);
    CHECK(says.tone == FitTone::Open);
    CHECK(says.sentence == "Two ways fit. Record it before heat.");
    CHECK(says.reason.find("180 degrees") != std::string::npos);
    open.has_record = true;
    CHECK(verdict_of(part, open).tone == FitTone::Recorded);
    CHECK(verdict_of(part, fit("a", false, false)).tone == FitTone::NoDirection);
    open.is_complete = false;
    CHECK(verdict_of(part, open).tone == FitTone::Open);
}

TEST_CASE("turns are typed as degrees with spaces or commas between, and come back as they were written") {
    const auto turns = turns_from_text(" 0, 120;240°\t12.5 ");
    REQUIRE(turns);
    CHECK(*turns == std::vector<double>{0, 120, 240, 12.5});
    CHECK(turns_as_text(*turns) == "0 120 240 12.5");
    CHECK(*turns_from_text(turns_as_text(*turns)) == *turns);
    CHECK(turns_from_text("  ")->empty()); // no turn of this part is harmless
    CHECK(turns_as_text({}).empty());
}

TEST_CASE("a word among the turns that is no number is named") {
    const auto turns = turns_from_text("0 half 180");
    REQUIRE_FALSE(turns);
    CHECK(turns.error().message.find("\"half\" is no turn") != std::string::npos);
}

} // namespace
} // namespace padchart::app
