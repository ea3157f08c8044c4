#include "analysis/access.hpp"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "access_places.hpp"
#include "document/edits.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::testing;
using document::Id;
using document::Side;

namespace {

AccessQuery bare(const AccessTool& tool, std::optional<double> opening_mm = std::nullopt) {
    AccessQuery query;
    query.target = Id{"t"};
    query.tool = tool;
    query.opening_mm = opening_mm;
    query.play_mm = 0.0;
    return query;
}

AccessReport ask(const Chart& chart, const AccessQuery& query) {
    Result<AccessReport> report = access(chart, query);
    REQUIRE_MESSAGE(report, report.error().message);
    return std::move(*report);
}

Passage passage_at(const AccessReport& report, double bearing) {
    for (const AccessSector& sector : report.sectors)
        if (sector.bearings.contains(bearing)) return sector.passage;
    return Passage::Blocked;
}

double free_width(const AccessReport& report) {
    double sum = 0.0;
    for (const AccessSector& sector : report.sectors)
        if (sector.passage == Passage::Free) sum += sector.bearings.width_deg;
    return sum;
}

/// Every bearing free in `narrow` is free in `wide`.
void check_never_narrower(const AccessReport& wide, const AccessReport& narrow) {
    CHECK(free_width(wide) >= free_width(narrow) - 1e-3);
    for (const AccessSector& sector : narrow.sectors) {
        if (sector.passage != Passage::Free || sector.bearings.width_deg < 1e-3) continue;
        for (const double share : {0.01, 0.5, 0.99}) {
            const double at = wrapped_deg(sector.bearings.from_deg + share * sector.bearings.width_deg);
            CHECK(passage_at(wide, at) == Passage::Free);
        }
    }
}

bool says(const AccessReport& report, const std::string& words) {
    return std::any_of(report.sentences.begin(), report.sentences.end(),
                       [&](const std::string& sentence) { return sentence.find(words) != std::string::npos; });
}

AccessTool upright_bar() {
    AccessTool tool;
    tool.tip_width_mm = 0.4;
    tool.tip_thickness_mm = 0.2;
    tool.rise_deg = 45.0;
    tool.flare_deg = 0.0;
    return tool;
}

/// A target of 1 x 0.6 mm and one neighbour to its right.
Chart pair_of(double distance_mm, std::optional<double> height_mm) {
    return chart_of({block("t", {0, 0}, {1, 0.6}, 0, 0.5), block("n", {distance_mm, 0}, {1, 3}, 0, height_mm)});
}

} // namespace

TEST_CASE("a bearing called free is free to a cloud of points of the tool in a thousand random places") {
    Random random(31);
    int free_tries = 0, blocked_tries = 0;
    for (int round = 0; round < 1000; ++round) {
        const Side side = random.chance(0.5) ? Side::Top : Side::Bottom;
        const Chart chart = random_place(random, 2 + random.below(5), side);
        const double opening = random.between(0.2, 3.0);
        const AccessTool tool = random_tool(random);
        const AccessReport report = ask(chart, bare(tool, opening));
        std::vector<double> bearings{random.between(0, 360), random.between(0, 360)};
        for (const AccessSector& sector : report.sectors) // just inside the ends, where a mistake would show
            if (sector.passage == Passage::Free && bearings.size() < 5)
                bearings.push_back(sector.bearings.from_deg + std::min(0.01, sector.bearings.width_deg / 2));
        for (const double bearing : bearings) {
            const bool struck = strikes(chart, cloud(tool, opening, report.at, bearing, side, 4.0));
            const bool is_free = passage_at(report, bearing) == Passage::Free;
            CHECK_MESSAGE(!(struck && is_free), "place " << round << ", bearing " << bearing);
            free_tries += is_free ? 1 : 0;
        }
        // And what stands well in the way is found by the cloud: bearings are not blocked for nothing.
        for (const std::size_t at : {random.below(360), random.below(360)}) {
            const AccessDirection& way = report.directions[at];
            if (way.gap_mm > -0.35) continue;
            ++blocked_tries;
            CHECK(way.passage == Passage::Blocked);
            CHECK_MESSAGE(strikes(chart, cloud(tool, opening, report.at, way.bearing_deg, side, 4.0)),
                          "place " << round << ", bearing " << way.bearing_deg << ", gap " << way.gap_mm);
        }
    }
    CHECK(free_tries > 500);
    CHECK(blocked_tries > 200);
}

TEST_CASE("an iron's free bearings are free to a cloud of points of the iron") {
    Random random(37);
    int free_tries = 0, struck_tries = 0;
    for (int round = 0; round < 200; ++round) {
        const Side side = random.chance(0.5) ? Side::Top : Side::Bottom;
        Chart chart = random_place(random, 2 + random.below(5), side);
        Footprint target = chart.parts[0];
        document::Pad pad;
        pad.number = "1";
        pad.at = {target.body->shape.width_mm / 2.0 + 0.3, 0};
        pad.shape = {document::ShapeKind::Rectangle, 0.6, 0.4, {}};
        target.pads.push_back(pad);
        chart.parts.replace(0, target);
        AccessTool tool = random_tool(random);
        tool.kind = ToolKind::Iron;
        AccessQuery query = bare(tool);
        query.pad = "1";
        const AccessReport report = ask(chart, query);
        for (int k = 0; k < 4; ++k) {
            const double bearing = random.between(0, 360);
            const bool struck = strikes(chart, cloud(tool, 0.0, report.at, bearing, side, 4.0));
            const bool is_free = passage_at(report, bearing) == Passage::Free;
            CHECK_MESSAGE(!(struck && is_free), "place " << round << ", bearing " << bearing);
            free_tries += is_free ? 1 : 0;
            struck_tries += struck ? 1 : 0;
        }
    }
    CHECK(free_tries > 100);
    CHECK(struck_tries > 50);
}

TEST_CASE("degrees and sectors tell the same and cover the whole turn once") {
    Random random(32);
    for (int round = 0; round < 40; ++round) {
        const AccessReport report = ask(random_place(random, 4, Side::Top), bare(random_tool(random)));
        REQUIRE(report.directions.size() == 360);
        double sum = 0.0;
        for (const AccessSector& sector : report.sectors)
            sum += sector.bearings.width_deg;
        CHECK(sum == doctest::Approx(360.0));
        for (const AccessDirection& way : report.directions) {
            // Unblocked ones are never nearer than the tolerance of drawn circles, which is the only margin here.
            if (way.passage == Passage::Free) CHECK(way.gap_mm >= document::kShapeTolerance - 1e-6);
            if (way.passage == Passage::Blocked) CHECK(way.gap_mm <= document::kShapeTolerance + 1e-3);
        }
    }
}

TEST_CASE("a wider tool and a flatter one never have more room") {
    Random random(33);
    for (int round = 0; round < 40; ++round) {
        const Chart chart = random_place(random, 5, Side::Top);
        const AccessTool tool = random_tool(random);
        const AccessReport base = ask(chart, bare(tool, 1.0));
        AccessTool thicker = tool, wider = tool, bulkier = tool;
        thicker.tip_thickness_mm += 0.3;
        wider.tip_width_mm += 0.5;
        bulkier.flare_deg += 4.0;
        check_never_narrower(base, ask(chart, bare(thicker, 1.0)));
        check_never_narrower(base, ask(chart, bare(bulkier, 1.0)));
        // A wider flat lifts the axis, but its lowest corner stays on the board and its top reaches farther back.
        AccessTool upright = tool, upright_wider = wider;
        upright.rise_deg = upright_wider.rise_deg = 90.0;
        check_never_narrower(ask(chart, bare(upright, 1.0)), ask(chart, bare(upright_wider, 1.0)));
        AccessQuery asks_room = bare(tool, 1.0);
        asks_room.play_mm = 0.3;
        check_never_narrower(base, ask(chart, asks_room));
    }
}

TEST_CASE("taking a neighbour away or making it lower never takes a bearing away") {
    Random random(34);
    for (int round = 0; round < 50; ++round) {
        const Chart chart = random_place(random, 5, Side::Top);
        const AccessQuery query = bare(random_tool(random));
        const AccessReport base = ask(chart, query);
        const Id gone[] = {Id{"n1"}};
        check_never_narrower(ask(document::remove_parts(chart, gone).value(), query), base);
        const Chart lower = document::change_part(chart, Id{"n2"}, [](Footprint& part) {
                                part.body->height_mm = *part.body->height_mm / 3.0;
                            }).value();
        check_never_narrower(ask(lower, query), base);
        const Chart missing = document::change_part(chart, Id{"n3"}, [](Footprint& part) {
                                  part.condition.presence = document::Presence::Missing;
                              }).value();
        check_never_narrower(ask(missing, query), base);
    }
}

TEST_CASE("a board that is turned has its bearings turned and nothing else") {
    Random random(35);
    for (int round = 0; round < 60; ++round) {
        const Side side = random.chance(0.5) ? Side::Top : Side::Bottom;
        const Chart chart = random_place(random, 5, side);
        const double turn = random.between(0, 360);
        std::vector<Id> all;
        for (const Footprint& part : chart.parts)
            all.push_back(part.id);
        const Chart board = document::turn_parts(chart, all, Angle::degrees(turn), random.point(9), side).value();
        const AccessQuery query = bare(random_tool(random));
        const AccessReport before = ask(chart, query), after = ask(board, query);
        CHECK(free_width(after) == doctest::Approx(free_width(before)).epsilon(1e-6));
        for (const AccessSector& sector : before.sectors) {
            if (sector.bearings.width_deg < 0.01) continue;
            CHECK(passage_at(after, wrapped_deg(sector.bearings.middle_deg() + turn)) == sector.passage);
        }
    }
}

TEST_CASE("from behind everything is as its mirror image is from the front") {
    Random random(36);
    for (int round = 0; round < 40; ++round) {
        const Chart top = random_place(random, 4, Side::Top);
        Chart bottom = top;
        for (std::size_t i = 0; i < top.parts.size(); ++i) {
            Footprint part = top.parts[i];
            part.placement.side = Side::Bottom;
            part.placement.at.x = -part.placement.at.x; // as the board is when it is laid over
            bottom.parts.replace(i, part);
        }
        const AccessQuery query = bare(random_tool(random));
        const AccessReport a = ask(top, query), b = ask(bottom, query);
        REQUIRE(a.sectors.size() == b.sectors.size());
        for (std::size_t i = 0; i < a.sectors.size(); ++i)
            CHECK(a.sectors[i].bearings.from_deg == doctest::Approx(b.sectors[i].bearings.from_deg));
    }
}

// Own arithmetic: the flank starts 0.2 sin 45 = 0.1414 mm beyond the middle and rises at 45 degrees; at 2.5 mm, where
// the neighbour begins, it is 2.5 - 0.1414 = 2.3586 mm high.
TEST_CASE("a low neighbour is passed over and a tall one is not") {
    const AccessQuery query = bare(upright_bar());
    CHECK(passage_at(ask(pair_of(3, 2.35), query), 0) == Passage::Free);
    CHECK(passage_at(ask(pair_of(3, 2.37), query), 0) == Passage::Blocked);
    CHECK(passage_at(ask(pair_of(3, 2.37), query), 180) == Passage::Free);
}

TEST_CASE("an unknown height never leaves a bearing free and is told how low it would have to be") {
    const AccessReport report = ask(pair_of(3, std::nullopt), bare(upright_bar()));
    CHECK(passage_at(report, 0) == Passage::Depends);
    CHECK(passage_at(report, 180) == Passage::Free);
    const auto way = std::find_if(report.approaches.begin(), report.approaches.end(), [](const Approach& approach) {
        return approach.sector.bearings.contains(0.0) && approach.sector.works;
    });
    REQUIRE(way != report.approaches.end());
    REQUIRE(way->limits.size() == 1);
    // As above, less what the tolerance of drawn circles costs at 45 degrees: 0.002 mm.
    CHECK(way->limits[0].limit_mm == doctest::Approx(2.3586 - 0.002).epsilon(0.0005));
    REQUIRE(!report.remarks.empty());
    CHECK(report.remarks[0].code == "height-not-measured");
}

TEST_CASE("tweezers hold a block across either pair of sides and only nearly straight") {
    const AccessReport report = ask(chart_of({block("t", {0, 0}, {2, 1}, 0, 0.5)}), bare(upright_bar()));
    REQUIRE(report.grips.size() == 2);
    double across[] = {report.grips[0].across_mm, report.grips[1].across_mm};
    std::sort(across, across + 2);
    CHECK(across[0] == doctest::Approx(1.0));
    CHECK(across[1] == doctest::Approx(2.0));
    double works = 0.0;
    for (const AccessSector& sector : report.sectors) {
        CHECK(sector.passage == Passage::Free);
        if (sector.works) works += sector.bearings.width_deg;
    }
    CHECK(works == doctest::Approx(4 * 2 * kMostSkew_deg));
    CHECK(report.is_good());
    CHECK(report.sentences[0].rfind("Come from the ", 0) == 0);
}

TEST_CASE("tips that do not open wide enough do not grip") {
    const Chart chart = chart_of({block("t", {0, 0}, {2, 1}, 0, 0.5)});
    const AccessReport half = ask(chart, bare(upright_bar(), 1.5));
    CHECK(std::count_if(half.grips.begin(), half.grips.end(), [](const Grip& grip) { return grip.fits; }) == 1);
    CHECK(std::abs(std::sin(half.best()->bearing_deg * 3.14159265 / 180)) < 0.2); // along the long sides
    const AccessReport none = ask(chart, bare(upright_bar(), 0.5));
    CHECK_FALSE(none.is_good());
    CHECK(says(none, "do not open wide enough"));
    // The first sentence says why; nobody has to look for it among the others.
    CHECK(none.sentences[0].rfind("No sure way to grip t with these tweezers: ", 0) == 0);
    CHECK(none.sentences[0].find("do not open wide enough") != std::string::npos);
}

TEST_CASE("tips beside the lands come before tips on them however much more room those have") {
    Footprint part = block("t", {0, 0}, {1, 2}, 0, 0.5);
    for (const double x : {-0.8, 0.8}) { // leads at the left and the right
        document::Pad pad;
        pad.at = {x, 0};
        pad.shape = {document::ShapeKind::Rectangle, 1.0, 0.4, {}};
        part.pads.push_back(pad);
    }
    // Beside the way in from the right and the left there is little room.
    const AccessReport report =
        ask(chart_of({part, block("up", {0, -2.2}, {8, 1}, 0, 0.4), block("down", {0, 2.2}, {8, 1}, 0, 0.4)}),
            bare(upright_bar()));
    REQUIRE(report.approaches.size() >= 3);
    CHECK_FALSE(report.best()->on_lands);
    CHECK(std::abs(turn_between(report.best()->bearing_deg, 0)) < kMostSkew_deg);
    CHECK(std::any_of(report.approaches.begin(), report.approaches.end(),
                      [](const Approach& way) { return way.sector.works && way.on_lands; }));
}

TEST_CASE("many unknown heights are told by the lowest of them") {
    std::vector<Footprint> parts{block("t", {0, 0}, {1, 1}, 0, 0.5)};
    for (int ring = 0; ring < 40; ++ring) {
        const Vec2 off = geometry::direction(Angle::degrees(9.0 * ring)) * (ring % 2 == 0 ? 3.0 : 4.0);
        parts.push_back(block("n" + std::to_string(ring), off, {0.5, 0.5}, 9.0 * ring, std::nullopt));
    }
    const AccessReport report = ask(chart_of(parts), bare(upright_bar()));
    REQUIRE(report.best() != nullptr);
    const std::vector<HeightLimit>& limits = report.best()->limits;
    REQUIRE(limits.size() >= 2);
    CHECK(std::is_sorted(limits.begin(), limits.end(),
                         [](const HeightLimit& a, const HeightLimit& b) { return a.limit_mm < b.limit_mm; }));
    CHECK(says(report, "is lower than"));
    // A body just below its limit is passed over and one just above is not.
    const std::size_t first = limits.front().neighbour;
    for (const double by : {-0.01, 0.01}) {
        std::vector<Footprint> known = parts;
        for (Footprint& part : known)
            if (part.id != Id{"t"}) part.body->height_mm = 0.01;
        for (Footprint& part : known)
            if (part.id == report.neighbours[first].source) part.body->height_mm = limits.front().limit_mm + by;
        const AccessReport measured = ask(chart_of(known), bare(upright_bar()));
        CHECK((passage_at(measured, report.best()->bearing_deg) == Passage::Free) == (by < 0));
    }
}

TEST_CASE("a round part is held from any side") {
    Chart chart = chart_of({block("t", {0, 0}, {2, 2}, 0, 0.5)});
    chart = document::change_part(chart, Id{"t"}, [](Footprint& part) {
                part.body->shape.kind = document::ShapeKind::Round;
            }).value();
    const AccessReport report = ask(chart, bare(upright_bar()));
    REQUIRE(report.sectors.size() == 1);
    CHECK(report.sectors[0].works);
    // Nothing stands near: no bearing is the best, and that is said.
    CHECK(report.sentences[0] == "Come from any side, none is better than another: more than 5 mm free all round.");
}

TEST_CASE("a slip reaches what lies before the tips and not what lies behind the hand") {
    // Own arithmetic: from the right the tips look to the left; a slip of 2 mm ends 2 mm beyond them.
    const Chart chart = chart_of({block("t", {0, 0}, {1, 0.6}, 0, 0.5), block("left", {-2, 0}, {0.5, 0.5}, 0, 0.3),
                                  block("far", {-5, 0}, {0.5, 0.5}, 0, 0.3), block("up", {0, -3}, {8, 0.5}, 0, 5),
                                  block("down", {0, 3}, {8, 0.5}, 0, 5), block("right", {5, 0}, {0.5, 0.5}, 0, 0.3)});
    const AccessReport report = ask(chart, bare(upright_bar()));
    for (const Approach& way : report.approaches) {
        if (!way.sector.bearings.contains(0.0)) continue;
        std::vector<std::string> names;
        for (const std::size_t i : way.in_slip)
            names.push_back(report.neighbours[i].name);
        CHECK(names == std::vector<std::string>{"left"});
        CHECK(geometry::contains(way.slip, {-2, 0}));
        CHECK_FALSE(geometry::contains(way.slip, {-3, 0}));
    }
}

TEST_CASE("small parts and molten ones near by must not be touched") {
    const Chart chart = chart_of({block("t", {0, 0}, {1, 1}, 0, 0.5), block("tiny", {1.5, 0}, {0.6, 0.3}, 0, 0.3),
                                  block("big", {0, 3}, {3, 2}, 0, 1), block("loose", {0, -2}, {2, 1}, 0, 1),
                                  block("away", {30, 0}, {0.6, 0.3}, 0, 0.3)});
    AccessQuery query = bare(upright_bar());
    query.knows_molten = true;
    query.molten = {Id{"loose"}};
    const AccessReport report = ask(chart, query);
    std::vector<std::string> names;
    for (const std::size_t i : report.do_not_touch)
        names.push_back(report.neighbours[i].name);
    CHECK(names == std::vector<std::string>{"tiny", "loose"});
    CHECK(says(report, "Do not touch loose: the heat plan may melt its joints."));
    CHECK(says(report, "Do not touch tiny: small enough to be knocked off."));
}

TEST_CASE("the board is turned so that the tool comes from the hand") {
    AccessQuery query = bare(upright_bar());
    const Chart chart = chart_of({block("t", {0, 0}, {2, 1}, 0, 0.5)});
    for (const double hand : {315.0, 225.0, 90.0})
        for (const double lies : {0.0, 30.0}) {
            query.hand_deg = hand;
            query.board_turn_deg = lies;
            const AccessReport report = ask(chart, query);
            const Approach& best = *report.best();
            CHECK(turn_between(best.bearing_deg + lies + best.turn_board_deg, hand) == doctest::Approx(0.0));
            CHECK(std::abs(best.turn_board_deg) <= 180.0);
        }
}

TEST_CASE("bearings stay the chart's however the board lies, and the sentence says which way it turns by how much") {
    AccessQuery query = bare(upright_bar());
    query.hand_deg = 315.0;
    const Chart chart = chart_of({block("t", {0, 0}, {2, 1}, 0, 0.5), block("n", {0, -2}, {2, 1}, 0, 2)});
    const AccessReport as_charted = ask(chart, query);
    const double turn = as_charted.best()->turn_board_deg;
    REQUIRE(std::abs(turn) > 1.0);
    CHECK(as_charted.turn_sentence.find("Turn the board by " + turn_in_words(turn) + ": ") == 0);
    query.board_turn_deg = turn;
    const AccessReport turned = ask(chart, query);
    CHECK(turned.sentences.front() == as_charted.sentences.front());
    CHECK(turned.turn_sentence ==
          fmt::format("The board lies right for your hand, turned by {} against the chart: {} on "
                      "the chart is south-east on the bench.",
                      turn_in_words(turn), wind_of(turned.best()->bearing_deg)));
    CHECK(turn_in_words(270.0) == "90 degrees clockwise");
    CHECK(turn_in_words(0.2).empty());
}

TEST_CASE("the least room that is told holds for every bearing of the range it is told of") {
    Random random(37);
    int told_both = 0;
    for (int round = 0; round < 40; ++round) {
        const Chart chart = random_place(random, 5, Side::Top);
        AccessQuery query = bare(random_tool(random));
        const AccessReport report = ask(chart, query);
        for (const Approach& way : report.approaches) {
            CHECK(way.least_gap_mm <= way.gap_mm);
            for (const AccessDirection& at : report.directions)
                if (way.sector.bearings.contains(at.bearing_deg)) CHECK(way.least_gap_mm <= at.gap_mm + 1e-9);
            CHECK(way.least_nearest.has_value() == (way.least_gap_mm < 5.0));
            // With more room wanted than that the range is no longer whole; with less it is.
            if (way.sector.passage != Passage::Free || way.least_gap_mm > 4.0) continue;
            for (const double by : {-0.03, 0.03}) {
                query.play_mm = std::max(0.0, way.least_gap_mm + by);
                if (by < 0 && query.play_mm == 0.0) continue;
                const AccessReport asked = ask(chart, query);
                bool is_whole = true;
                for (double share = 0.0005; share < 1.0; share += 0.0005)
                    is_whole = is_whole &&
                               passage_at(asked, wrapped_deg(way.sector.bearings.from_deg +
                                                             share * way.sector.bearings.width_deg)) == Passage::Free;
                if (by < 0) CHECK(is_whole);
            }
        }
        told_both += says(report, "; at least ") ? 1 : 0;
    }
    CHECK(told_both > 0);
}

TEST_CASE("a part that is held from any side is told by the least room of the whole turn") {
    Chart chart = chart_of({block("t", {0, 0}, {2, 2}, 0, 0.5), block("n", {6.0, 0}, {1, 3}, 0, 5)});
    chart = document::change_part(chart, Id{"t"}, [](Footprint& part) {
                part.body->shape.kind = document::ShapeKind::Round;
            }).value();
    AccessTool steep = upright_bar();
    steep.rise_deg = 80.0;
    const AccessReport report = ask(chart, bare(steep));
    REQUIRE(report.best() != nullptr);
    REQUIRE(report.best()->sector.bearings.width_deg == 360.0);
    CHECK(report.best()->gap_mm >= 4.99);
    REQUIRE(report.best()->least_gap_mm < 4.99);
    CHECK(report.sentences[0].rfind("Come from any side, best from the ", 0) == 0);
    CHECK(report.sentences[0].find(" degrees: more than 5 mm free; at least ") != std::string::npos);
    CHECK(report.sentences[0].find("beside n all round.") != std::string::npos);
}

TEST_CASE("a range narrower than a hand holds is no way in") {
    // Walls above and below leave the tips no way but straight from the right or the left.
    double gap = 2.0;
    for (int i = 0; i < 60; ++i, gap -= 0.02) {
        const Chart chart = chart_of({block("t", {0, 0}, {1, 0.6}, 0, 0.5), block("up", {0, -gap}, {30, 0.5}, 0, 15),
                                      block("down", {0, gap}, {30, 0.5}, 0, 15)});
        const AccessReport report = ask(chart, bare(upright_bar(), 0.8));
        for (const Approach& way : report.approaches)
            if (way.sector.works && way.sector.bearings.width_deg < kLeastHeld_deg) {
                if (&way == report.best()) {
                    CHECK_FALSE(report.is_good());
                    CHECK(says(report, "narrower than the 5 degrees that a hand holds"));
                }
                CHECK_FALSE(says(report, "Also from"));
            }
        if (report.best() != nullptr && report.best()->sector.works && !report.best()->sector.can_be_held()) return;
    }
    FAIL("no place was so narrow");
}

TEST_CASE("bearings that nothing blocks and at which the tool is of no use are said") {
    const AccessReport report = ask(chart_of({block("t", {0, 0}, {2, 1}, 0, 0.5)}), bare(upright_bar()));
    CHECK(says(report, "Of no use: 10 to 80 degrees, 100 to 170 degrees, 190 to 260 degrees and 280 to 350 degrees, "
                       "where the tips would stand askew to its sides."));
}

TEST_CASE("what stands over the part has to come off first") {
    const Chart chart = chart_of({block("t", {0, 0}, {1, 1}, 0, 0.5), block("can", {0, 0}, {6, 5}, 0, 2)});
    const AccessReport report = ask(chart, bare(upright_bar()));
    CHECK(report.best() == nullptr);
    CHECK(report.sentences[0] == "can stands over t: take it off first.");
}

TEST_CASE("an iron comes to a pad from outside the part and to none under it") {
    Footprint part = block("t", {0, 0}, {2, 1}, 0, 0.5);
    const auto pad = [](const char* number, Vec2 at, double size) {
        document::Pad made;
        made.number = number;
        made.at = at;
        made.shape = {document::ShapeKind::Rectangle, size, size, {}};
        return made;
    };
    part.pads = {pad("1", {-1.2, 0}, 0.8), pad("2", {1.2, 0}, 0.8), pad("EP", {0.2, 0}, 0.5)};
    AccessQuery query = bare(*find_access_tool("iron-cone"));
    query.pad = "2";
    const AccessReport outside = ask(chart_of({part}), query);
    CHECK(outside.at == Vec2{1.2, 0});
    CHECK(outside.is_good());
    CHECK(std::abs(turn_between(outside.best()->bearing_deg, 0.0)) <= kMostLean_deg);
    query.pad = "EP";
    const AccessReport under = ask(chart_of({part}), query);
    CHECK(under.pad_is_covered);
    CHECK(under.best() == nullptr);
    CHECK(says(under, "the body lies over it"));
    query.pad = "7";
    CHECK(access(chart_of({part}), query).error().message == "t has no pad \"7\"");
}

TEST_CASE("questions that cannot be answered say why") {
    Chart chart = pair_of(3, 1.0);
    AccessQuery query = bare(upright_bar());
    query.tool.rise_deg = 5;
    query.tool.flare_deg = 10;
    CHECK(access(chart, query).error().message.find("hold it steeper") != std::string::npos);
    query = bare(upright_bar());
    query.target = Id{"nobody"};
    CHECK_FALSE(access(chart, query));
    query = bare(upright_bar());
    query.slip_mm = -1;
    CHECK_FALSE(access(chart, query));
    chart.scale.reset();
    CHECK(access(chart, bare(upright_bar())).error().message ==
          "the chart has no scale, so no distance on it is known");
}

TEST_CASE("every tool of the table can be and says where its sizes come from") {
    CHECK(access_tools().size() >= 6);
    for (const AccessTool& tool : access_tools())
        CHECK_FALSE(fault_of(tool));
    CHECK_FALSE(find_access_tool("no such tool"));
}

TEST_CASE("sixteen winds with up as north") {
    CHECK(wind_of(0) == "east");
    CHECK(wind_of(22.5) == "east-north-east");
    CHECK(wind_of(90) == "north");
    CHECK(wind_of(-11) == "east");
    CHECK(wind_of(181) == "west");
    CHECK(wind_of(270) == "south");
    CHECK(wind_of(348) == "east-south-east");
}
