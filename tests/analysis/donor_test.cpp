// Records carried over from a donor. Turns and bearings worked by hand: with y down, a counter-clockwise turn by 90
// degrees takes what lies to the right of a part's centre to above it, and adds 90 to every bearing.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "analysis/donor.hpp"
#include "analysis/fit_onto.hpp"
#include "analysis/fit_patterns.hpp"

using namespace padchart;
using namespace padchart::document;
using analysis::DonorGround;
using analysis::DonorOptions;
using analysis::DonorTransfer;
using geometry::Affine;
using geometry::Vec2;
using padchart::test::pattern_named;
using padchart::test::written;

namespace {

Footprint named(Footprint part, std::string name) {
    part.id = id_of("part", name);
    part.name = std::move(name);
    return part;
}

Footprint numbered(Footprint part) {
    for (std::size_t i = 0; i < part.pads.size(); ++i)
        part.pads[i].number = std::to_string(i + 1);
    return part;
}

/// The same copper and body drawn in a frame of the part's own that is turned by -`by`.
Footprint drawn_turned(Footprint part, Angle by) {
    for (Pad& pad : part.pads) {
        pad.at = Affine::rotation(by)(pad.at);
        pad.turn = pad.turn + by;
    }
    if (part.body) {
        part.body->at = Affine::rotation(by)(part.body->at);
        part.body->turn = part.body->turn + by;
    }
    part.orientation.bearing = (part.orientation.bearing + by).wrapped();
    return part;
}

Footprint with_dot(Footprint part, double bearing_deg) {
    part.orientation.state = RecordState::Recorded;
    part.orientation.mark = MarkKind::Dot;
    part.orientation.meaning = Meaning::Pin1;
    part.orientation.bearing = Angle::degrees(bearing_deg);
    part.orientation.evidence.kind = EvidenceKind::Metered;
    return part;
}

Footprint without_record(Footprint part) {
    part.orientation = {};
    return part;
}

Chart chart_of(const std::vector<Footprint>& parts) {
    Chart chart;
    chart.scale = Scale{};
    for (const Footprint& part : parts)
        chart.parts.add(part);
    return chart;
}

Result<DonorTransfer> transfer(const Footprint& donor, const Footprint& here, const DonorOptions& options = {}) {
    return analysis::transfer_from_donor(chart_of({donor}), donor.id, chart_of({here}), here.id, options);
}

Error refusal(const Result<DonorTransfer>& answer) {
    REQUIRE_FALSE(answer);
    return answer.error();
}

std::vector<double> turns_of(const DonorTransfer& transfer) {
    std::vector<double> turns;
    for (const analysis::DonorTurn& turn : transfer.possible)
        turns.push_back(turn.turn_deg);
    return turns;
}

Chart with_neighbours(const Footprint& part) {
    Footprint a = named(pattern_named("1 chip 1005M"), "A");
    Footprint b = a;
    Footprint c = a;
    b = named(b, "B");
    c = named(c, "C");
    a.placement.at = {0, 0};
    b.placement.at = {10, 0};
    c.placement.at = {0, 6};
    return chart_of({part, a, b, c});
}

/// The same board traced another way up: turned counter-clockwise about the origin and shifted.
Chart traced_turned(const Chart& chart, Angle by, Vec2 shift) {
    Chart result = chart;
    result.parts = {};
    for (Footprint part : chart.parts) {
        part.placement.at = Affine::rotation(by)(part.placement.at) + shift;
        part.placement.turn = part.placement.turn + (part.placement.side == Side::Top ? by : -by);
        result.parts.add(part);
    }
    return result;
}

/// Where the mark lies as seen from the board's top, from the part's centre.
Vec2 mark_on_board(const Footprint& part) {
    return board_from_part(part.placement).linear(geometry::direction(part.orientation.bearing));
}

/// The pad the mark points at: nearest in bearing from the middle of the pads, the outermost of those on one ray.
std::string marked_pad(const Footprint& part) {
    const auto badness = [&part](const Pad& pad) {
        const double apart =
            std::remainder(geometry::bearing(pad.at).degrees() - part.orientation.bearing.degrees(), 360.0);
        return std::abs(apart) - 1e-3 * geometry::length(pad.at);
    };
    return std::min_element(part.pads.begin(), part.pads.end(),
                            [&](const Pad& a, const Pad& b) { return badness(a) < badness(b); })
        ->number;
}

} // namespace

TEST_CASE("a pattern that fits one way carries its mark over with the turn between the two drawings") {
    const Footprint donor = with_dot(named(pattern_named("2 SOT-23"), "Q1"), 135);
    const Footprint here = without_record(named(drawn_turned(donor, Angle::degrees(90)), "Q7"));
    const Result<DonorTransfer> answer = transfer(donor, here, {.by = "bench 2", .date = "2031-04-02"});
    REQUIRE(answer);
    CHECK(answer->is_certain);
    CHECK(answer->ground == DonorGround::OnlyOneTurn);
    CHECK(written(turns_of(*answer)) == "90");
    CHECK(answer->orientation.state == RecordState::Recorded);
    CHECK(answer->orientation.bearing.degrees() == doctest::Approx(225.0));
    CHECK(answer->orientation.mark == MarkKind::Dot);
    CHECK(answer->orientation.meaning == Meaning::Pin1);
    CHECK(answer->orientation.evidence.kind == EvidenceKind::SeenOnDonor);
    CHECK(answer->orientation.evidence.by == "bench 2");
    CHECK(answer->orientation.evidence.date == "2031-04-02");
    CHECK(answer->orientation.evidence.note.find("Q1 of the donor, there: metered") == 0);
    CHECK(answer->sentence ==
          "The record of the donor's Q1 holds for Q7, turned 90 degrees counter-clockwise: its lands "
          "lie on these in this turn only.");
}

TEST_CASE("two rows without numbers leave both turns open and say what would settle it") {
    const Footprint donor = with_dot(named(pattern_named("8 SOIC-8"), "U3"), 135);
    const Footprint here = without_record(named(donor, "U8"));
    const Result<DonorTransfer> answer = transfer(donor, here);
    REQUIRE(answer);
    CHECK_FALSE(answer->is_certain);
    CHECK_FALSE(answer->is_harmless);
    CHECK(written(turns_of(*answer)) == "0 180");
    CHECK(answer->possible[1].bearing.degrees() == doctest::Approx(315.0));
    CHECK(answer->orientation == Orientation{});
    CHECK(
        answer->sentence ==
        "The lands of the donor's U3 lie on those of U8 at 0 and 180 degrees. That is the very question: the copper "
        "does not say which. What would settle it: its own mark seen here, pad numbers on both charts, a donor of the "
        "same kind and revision with the part in the same place, the maker's sheet, or a meter.");
}

TEST_CASE("pad numbers on both charts settle which of two turns it is") {
    const Footprint donor = with_dot(named(numbered(pattern_named("8 SOIC-8")), "U3"), 135);
    Footprint here = without_record(named(donor, "U8"));
    // Land 1 lies where land 8 lies on the donor, and so on: drawn half a turn round.
    here = drawn_turned(here, Angle::degrees(180));
    const Result<DonorTransfer> answer = transfer(donor, here);
    REQUIRE(answer);
    CHECK(answer->ground == DonorGround::PadNumbers);
    CHECK(written(turns_of(*answer)) == "180");
    CHECK(answer->orientation.bearing.degrees() == doctest::Approx(315.0));
    CHECK(answer->possible.front().numbers_agreeing == 8);
}

TEST_CASE("numbers that agree in no turn settle nothing and are named") {
    const Footprint donor = with_dot(named(numbered(pattern_named("8 SOIC-8")), "U3"), 135);
    Footprint here = without_record(named(donor, "U8"));
    std::swap(here.pads[0].number, here.pads[1].number);
    const Result<DonorTransfer> answer = transfer(donor, here);
    REQUIRE(answer);
    CHECK_FALSE(answer->is_certain);
    CHECK(answer->sentence.find("the pad numbers of the two charts do not agree in any turn") != std::string::npos);
}

TEST_CASE("a number on a middle land alone settles nothing") {
    Footprint donor = with_dot(named(pattern_named("10 SON-8 with centred pad"), "U3"), 135);
    donor.pads.back().number = "EP";
    const Footprint here = without_record(named(donor, "U8"));
    const Result<DonorTransfer> answer = transfer(donor, here);
    REQUIRE(answer);
    CHECK_FALSE(answer->is_certain);
    CHECK(written(turns_of(*answer)) == "0 180");
}

TEST_CASE("copper that could be soldered both ways but matches one way is certain") {
    // Row 11 of the turn table: a middle land off by 0.2 mm seats at 180 but does not match there.
    const Footprint donor = with_dot(named(pattern_named("11 SON-8 with moved pad"), "U3"), 135);
    const Footprint here = without_record(named(drawn_turned(donor, Angle::degrees(180)), "U8"));
    const Result<DonorTransfer> answer = transfer(donor, here);
    REQUIRE(answer);
    CHECK(answer->ground == DonorGround::OnlyOneTurn);
    CHECK(written(turns_of(*answer)) == "180");
}

TEST_CASE("a difference no larger than the tracing does not tell two turns apart") {
    Footprint donor = with_dot(named(pattern_named("10 SON-8 with centred pad"), "U3"), 135);
    donor.pads.back().at.x += 0.06; // 0.12 mm between the two turns, below twice 0.05 + 0.02 + 0.02 mm
    const Footprint here = without_record(named(donor, "U8"));
    const Result<DonorTransfer> answer = transfer(donor, here);
    REQUIRE(answer);
    CHECK(written(turns_of(*answer)) == "0 180");
}

TEST_CASE("turns that change nothing for the part are said to be harmless and still not guessed") {
    Footprint donor = with_dot(named(pattern_named("23 crystal 3225"), "Y1"), 135);
    donor.part_class = PartClass::Crystal;
    const Footprint here = without_record(named(donor, "Y2"));
    const Result<DonorTransfer> answer = transfer(donor, here);
    REQUIRE(answer);
    CHECK_FALSE(answer->is_certain);
    CHECK(answer->is_harmless);
    CHECK(written(turns_of(*answer)) == "0 180");
    CHECK(answer->orientation.state == RecordState::NotRecorded);
}

TEST_CASE("three round lands on a ring are brought onto each other at a third of a turn") {
    // Lands on a circle of 1 mm at 90, 210 and 330 degrees; the other drawing 40 degrees further round.
    Footprint ring;
    for (const double bearing : {90.0, 210.0, 330.0}) {
        Pad pad;
        pad.at = geometry::direction(Angle::degrees(bearing));
        pad.shape = {ShapeKind::Round, 0.5, 0.5, {}};
        ring.pads.push_back(pad);
    }
    const std::vector<analysis::OntoTurn> turns =
        analysis::turns_onto(ring, drawn_turned(ring, Angle::degrees(40)), 0.05);
    std::vector<double> found;
    for (const analysis::OntoTurn& turn : turns)
        found.push_back(turn.turn_deg);
    CHECK(written(found) == "40 160 280");
}

TEST_CASE("the same place on the same kind of board settles it even when one trace lies another way up") {
    Footprint donor = with_dot(named(pattern_named("8 SOIC-8"), "U3"), 135);
    donor.placement = {{4, 3}, Angle::degrees(90), Side::Top};
    const Chart donor_chart = with_neighbours(donor);
    // This chart was traced a quarter further round, and U3 was drawn as lying at 0 instead of at 90 + 90 = 180: the
    // mark that lies at 135 + 90 + 90 = 315 on the board has the bearing 315 in the part too.
    Chart here_chart = traced_turned(donor_chart, Angle::degrees(90), {20, 5});
    Footprint here = without_record(here_chart.parts[0]);
    here.placement.turn = {};
    here_chart.parts.replace(0, here);
    const Result<DonorTransfer> unsaid = analysis::transfer_from_donor(donor_chart, donor.id, here_chart, here.id);
    REQUIRE(unsaid);
    CHECK_FALSE(unsaid->is_certain);
    const Result<DonorTransfer> answer =
        analysis::transfer_from_donor(donor_chart, donor.id, here_chart, here.id, {.same_kind_of_board = true});
    REQUIRE(answer);
    CHECK(answer->ground == DonorGround::SamePlace);
    CHECK(written(turns_of(*answer)) == "180");
    CHECK(answer->orientation.bearing.degrees() == doctest::Approx(315.0));
    CHECK(answer->sentence.find("the same place of the same layout (4 parts compared)") != std::string::npos);
}

TEST_CASE("the same place proves nothing where layouts or titles or sides differ") {
    Footprint donor = with_dot(named(pattern_named("8 SOIC-8"), "U3"), 135);
    donor.placement.at = {4, 3};
    const Chart donor_chart = with_neighbours(donor);
    const auto said = [&](const Chart& here) {
        const Result<DonorTransfer> answer =
            analysis::transfer_from_donor(donor_chart, donor.id, here, donor.id, {.same_kind_of_board = true});
        REQUIRE(answer);
        CHECK_FALSE(answer->is_certain);
        return answer->sentence;
    };
    Chart moved = donor_chart;
    Footprint neighbour = moved.parts[2];
    neighbour.placement.at = {13, 0};
    moved.parts.replace(2, neighbour);
    CHECK(said(moved).find("so this is not the same layout") != std::string::npos);

    Chart elsewhere = donor_chart;
    elsewhere.parts.replace(0, donor);
    Footprint away = elsewhere.parts[0];
    away.name = "U12"; // no namesake, or the layout itself would be off
    away.placement.at = {4, 8};
    elsewhere.parts.replace(0, away);
    CHECK(said(elsewhere).find("the two parts lie 5.0 mm apart") != std::string::npos);

    Chart far_side = donor_chart;
    away.placement = {{4, 3}, {}, Side::Bottom};
    far_side.parts.replace(0, away);
    CHECK(said(far_side).find("on different sides") != std::string::npos);

    Chart alone = chart_of({donor});
    CHECK(said(alone).find("fewer than 3 parts bear the same name") != std::string::npos);

    Chart later = donor_chart;
    later.title.revision = "D";
    Chart first = donor_chart;
    first.title.revision = "C";
    const Result<DonorTransfer> answer =
        analysis::transfer_from_donor(first, donor.id, later, donor.id, {.same_kind_of_board = true});
    REQUIRE(answer);
    CHECK_FALSE(answer->is_certain);
    CHECK(answer->sentence.find("different boards or revisions") != std::string::npos);
}

TEST_CASE("numbers and place that contradict each other settle nothing") {
    const Footprint donor = with_dot(named(numbered(pattern_named("8 SOIC-8")), "U3"), 135);
    const Chart donor_chart = with_neighbours(donor);
    Chart here_chart = donor_chart;
    Footprint here = donor;
    for (std::size_t i = 0; i < 8; ++i)
        here.pads[i].at = -donor.pads[i].at;
    here_chart.parts.replace(0, here);
    const Result<DonorTransfer> answer =
        analysis::transfer_from_donor(donor_chart, donor.id, here_chart, here.id, {.same_kind_of_board = true});
    REQUIRE(answer);
    CHECK_FALSE(answer->is_certain);
    CHECK(answer->sentence.find("contradict each other") != std::string::npos);
}

TEST_CASE("a donor without a mark and patterns that are not the same are refused by name") {
    const Footprint donor = with_dot(named(pattern_named("2 SOT-23"), "Q1"), 135);
    const Footprint here = without_record(named(donor, "Q7"));
    CHECK(refusal(transfer(here, donor)).message ==
          "the donor's Q7 has no mark on record; right would be one seen there");
    CHECK(refusal(transfer(donor, named(pattern_named("8 SOIC-8"), "U8"))).message ==
          "the donor's Q1 has 3 pads and U8 has 8; the same part has as many");
    Footprint spread = here;
    for (Pad& pad : spread.pads)
        pad.at = pad.at * 3.0;
    CHECK(refusal(transfer(donor, spread)).message.find("do not lie on those of Q7 in any turn") != std::string::npos);
    // Three lands at the corners of a right angle with unequal legs: no turn brings it onto its mirror picture.
    Footprint mirrored = named(padchart::test::lands({{0, 0, 0.5, 0.5}, {2, 0, 0.5, 0.5}, {0, 3, 0.5, 0.5}}), "X2");
    const Footprint angle = with_dot(named(mirrored, "X1"), 0);
    for (Pad& pad : mirrored.pads)
        pad.at.x = -pad.at.x;
    CHECK(refusal(transfer(angle, mirrored)).message.find("only when mirrored") != std::string::npos);
    CHECK(refusal(analysis::transfer_from_donor(chart_of({donor}), Id{"none"}, chart_of({here}), here.id)).where ==
          "none");
}

TEST_CASE("a carried mark points at the same pad whatever sides and turns the two parts have") {
    std::mt19937 random(20310402);
    std::uniform_int_distribution<int> quarter(0, 3);
    std::uniform_real_distribution<double> any_turn(0.0, 360.0);
    std::uniform_real_distribution<double> place(-20.0, 20.0);
    for (const std::string name :
         {"2 SOT-23", "8 SOIC-8", "15 QFP-48", "18 BGA 9 by 13", "31 LGA 3 by 3", "5 SOT-143"}) {
        CAPTURE(name);
        for (int round = 0; round < 4; ++round) {
            Footprint donor = numbered(named(pattern_named(name), "U1"));
            const Vec2 pad = donor.pads[static_cast<std::size_t>(round) % donor.pads.size()].at;
            if (geometry::length(pad) < 0.1) continue;
            donor = with_dot(donor, geometry::bearing(pad).degrees());
            donor.placement = {{place(random), place(random)},
                               Angle::degrees(any_turn(random)),
                               quarter(random) % 2 == 0 ? Side::Top : Side::Bottom};
            Footprint here = without_record(named(drawn_turned(donor, Angle::degrees(90.0 * quarter(random))), "U2"));
            here.placement = {{place(random), place(random)},
                              Angle::degrees(any_turn(random)),
                              quarter(random) % 2 == 0 ? Side::Top : Side::Bottom};
            std::shuffle(here.pads.begin(), here.pads.end(), random);
            const Result<DonorTransfer> answer = transfer(donor, here);
            REQUIRE(answer);
            REQUIRE(answer->is_certain);
            here.orientation = answer->orientation;
            CHECK(marked_pad(here) == marked_pad(donor));
        }
    }
}

TEST_CASE("a mark carried by the same place lies on the same spot of the board whatever frame it was traced in") {
    std::mt19937 random(7);
    std::uniform_int_distribution<int> quarter(0, 3);
    std::uniform_real_distribution<double> any_turn(0.0, 360.0);
    for (int round = 0; round < 24; ++round) {
        Footprint donor = with_dot(
            named(pattern_named(round % 2 == 0 ? "8 SOIC-8" : "12 QFN-16 with square pad"), "U1"), any_turn(random));
        donor.placement = {{3, 4}, Angle::degrees(any_turn(random)), round % 3 == 0 ? Side::Bottom : Side::Top};
        const Chart donor_chart = with_neighbours(donor);
        const Angle frame = Angle::degrees(any_turn(random));
        Chart here_chart = traced_turned(donor_chart, frame, {30, -7});
        // The part is drawn in a frame of its own, so its placement turns back by as much.
        const Angle drawn = Angle::degrees(90.0 * quarter(random));
        Footprint here = without_record(drawn_turned(here_chart.parts[0], drawn));
        here.placement.turn = here.placement.turn - drawn;
        here_chart.parts.replace(0, here);
        const Result<DonorTransfer> answer =
            analysis::transfer_from_donor(donor_chart, donor.id, here_chart, here.id, {.same_kind_of_board = true});
        REQUIRE(answer);
        REQUIRE(answer->ground == DonorGround::SamePlace);
        here.orientation = answer->orientation;
        const Vec2 wanted = Affine::rotation(frame).linear(mark_on_board(donor));
        CHECK(geometry::distance(mark_on_board(here), wanted) < 1e-6);
    }
}
