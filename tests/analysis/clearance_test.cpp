#include "analysis/clearance.hpp"

#include <algorithm>
#include <numbers>
#include <set>
#include <tuple>

#include <doctest/doctest.h>

#include "geometry/overlay.hpp"
#include "support/chart_generator.hpp"
#include "support/geometry_printing.hpp"
#include "support/random_shapes.hpp"
#include "support/slow_distance.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::document;
using geometry::Gap;
using geometry::Ring;
using geometry::Vec2;
using padchart::testing::Random;
using padchart::testing::slow_distance;

namespace {

constexpr double kPi = std::numbers::pi;

Shape rectangle(double width, double height) {
    return {ShapeKind::Rectangle, width, height, {}};
}

Shape disc(double diameter) {
    return {ShapeKind::Round, diameter, diameter, {}};
}

Footprint body_at(std::string name, Vec2 at, Shape shape, Side side = Side::Top) {
    Footprint part;
    part.id = {name};
    part.name = std::move(name);
    part.body = Body{{}, {}, std::move(shape), {}};
    part.placement = {at, {}, side};
    return part;
}

Footprint connector_at(std::string name, Vec2 at, Shape shape, Side side = Side::Top) {
    Footprint part = body_at(std::move(name), at, std::move(shape), side);
    part.part_class = PartClass::BoardConnector;
    return part;
}

Pad pad_at(std::string number, Vec2 at, Shape shape = rectangle(1, 1)) {
    Pad pad;
    pad.number = std::move(number);
    pad.at = at;
    pad.shape = std::move(shape);
    return pad;
}

Chart chart_of(std::vector<Footprint> parts) {
    Chart chart;
    chart.scale = Scale{};
    for (Footprint& part : parts)
        chart.parts.add(std::move(part));
    return chart;
}

KeepOut keep_out(Ring outer, Side side, bool through) {
    KeepOut thing;
    thing.id = {"keep-out"};
    thing.name = "cell";
    thing.outline = {std::move(outer), {}};
    thing.side = side;
    thing.through_board = through;
    return thing;
}

bool has_finding(const ClearanceReport& report, const std::string& code, const std::string& target) {
    return std::any_of(report.findings.begin(), report.findings.end(),
                       [&](const Diagnostic& d) { return d.code == code && d.target == target; });
}

/// Zones may be too large by the arcs' excess and the tolerance of round shapes, and never too small.
void check_zone_area(const geometry::Region& zone, double at_reach, double at_most_reach) {
    CHECK(area(zone) >= at_reach);
    CHECK(area(zone) <= at_most_reach);
}

double largest(double reach) {
    return (reach + kShapeTolerance) * (1 + geometry::kArcExcess);
}

} // namespace

TEST_CASE("bodies nearer than the rule are reported and those at the rule are not") {
    const auto gaps_at = [](double x) {
        Chart chart = chart_of({body_at("u1", {0, 0}, rectangle(2, 2)), body_at("u2", {x, 0}, rectangle(2, 2))});
        chart.rules.body_gap_mm = 0.2;
        return clearance(chart).close;
    };
    const auto near = gaps_at(2.15);
    REQUIRE(near.size() == 1);
    CHECK(near[0].kind == GapKind::BodyToBody);
    CHECK(near[0].first == Id{"u1"});
    CHECK(near[0].second == Id{"u2"});
    CHECK(near[0].rule_mm == 0.2);
    CHECK(near[0].gap.mm == doctest::Approx(0.15));
    CHECK(near[0].gap.from.x == doctest::Approx(1.0));
    CHECK(near[0].gap.to.x == doctest::Approx(1.15));
    CHECK(gaps_at(2.2).empty());
    CHECK(gaps_at(2.25).empty());
    CHECK(gaps_at(1.0)[0].gap.mm == 0);
}

TEST_CASE("rounding does not make a gap drawn as large as the rule fall short") {
    for (int i = 0; i < 100; ++i) {
        const double x = 0.1 * i;
        Chart chart = chart_of({body_at("u1", {x, x}, rectangle(2, 2)), body_at("u2", {x + 2.2, x}, rectangle(2, 2))});
        chart.rules.body_gap_mm = 0.2;
        CHECK(clearance(chart).close.empty());
    }
}

TEST_CASE("bodies that touch or overlap are reported whatever the rule") {
    for (const double x : {0.5, 2.0, 2.001}) {
        Chart chart = chart_of({body_at("u1", {0, 0}, rectangle(2, 2)), body_at("u2", {x, 0}, rectangle(2, 2))});
        chart.rules.body_gap_mm = 0;
        CHECK(clearance(chart).close.size() == (x <= 2.0 ? 1 : 0));
    }
}

TEST_CASE("turned bodies are measured by their outlines and not by their boxes") {
    // Two squares of side 2 on their corners, 3 apart: half a diagonal each, own arithmetic 3 - 2 sqrt 2 = 0.1716;
    // shifted up by 1 their boxes still overlap while the edges are 3 / sqrt 2 + ... apart: (4 / sqrt 2) - 2 = 0.8284.
    Footprint a = body_at("u1", {0, 0}, rectangle(2, 2));
    Footprint b = body_at("u2", {3, 0}, rectangle(2, 2));
    a.placement.turn = b.placement.turn = Angle::degrees(45);
    const auto close = clearance(chart_of({a, b})).close;
    REQUIRE(close.size() == 1);
    CHECK(close[0].gap.mm == doctest::Approx(3 - 2 * std::sqrt(2.0)));
    b.placement.at = {2.5, 1.5};
    CHECK(clearance(chart_of({a, b})).close.empty());
    CHECK(gap_between_parts(chart_of({a, b}), {"u1"}, {"u2"})->mm == doctest::Approx(4 / std::sqrt(2.0) - 2));
}

TEST_CASE("pads of two parts are compared and pads of one part are not") {
    Footprint a = body_at("r1", {0, 0}, rectangle(0.1, 0.1));
    a.pads = {pad_at("1", {-1, 0}), pad_at("", {0.02, 0})};
    Footprint b = body_at("r2", {5, 0}, rectangle(0.1, 0.1));
    b.pads = {pad_at("A1", {-3.93, 0})};
    const auto close = clearance(chart_of({a, b})).close;
    REQUIRE(close.size() == 1);
    CHECK(close[0].kind == GapKind::PadToPad);
    CHECK(close[0].first_pad == "#2");
    CHECK(close[0].second_pad == "A1");
    CHECK(close[0].gap.mm == doctest::Approx(0.05));
}

TEST_CASE("parts on different sides have no gap") {
    Footprint a = body_at("u1", {0, 0}, rectangle(2, 2), Side::Top);
    Footprint b = body_at("u2", {0, 0}, rectangle(2, 2), Side::Bottom);
    a.pads = b.pads = {pad_at("1", {})};
    CHECK(clearance(chart_of({a, b})).close.empty());
    b.placement.side = Side::Top;
    CHECK(clearance(chart_of({a, b})).close.size() == 2);
}

TEST_CASE("a part known to be off its pads has pads but no body and no zone") {
    for (const Presence presence : {Presence::Missing, Presence::Removed, Presence::Lost, Presence::NotFitted}) {
        Footprint a = connector_at("j1", {0, 0}, rectangle(2, 2));
        a.pads = {pad_at("1", {})};
        a.condition.presence = presence;
        Footprint b = body_at("u2", {0.5, 0}, rectangle(2, 2));
        b.pads = {pad_at("1", {})};
        const ClearanceReport report = clearance(chart_of({a, b}));
        REQUIRE(report.close.size() == 1);
        CHECK(report.close[0].kind == GapKind::PadToPad);
        CHECK(report.zones.empty());
        CHECK(report.top_zones.empty());
        CHECK(report.parts_compared == 2);
    }
}

TEST_CASE("the nearest in proportion to its rule comes first") {
    Footprint a = body_at("u1", {0, 0}, rectangle(2, 2));
    Footprint b = body_at("u2", {2.18, 0}, rectangle(2, 2)); // 0.18 of 0.2
    a.pads = {pad_at("1", {0, -5})};
    b.pads = {pad_at("1", {-2.18 + 1.05, -5})};               // 0.05 of 0.1
    Footprint c = body_at("u3", {-2.02, 0}, rectangle(2, 2)); // 0.02 of 0.2
    const auto close = clearance(chart_of({a, b, c})).close;
    REQUIRE(close.size() == 3);
    CHECK(close[0].gap.mm == doctest::Approx(0.02));
    CHECK(close[1].kind == GapKind::PadToPad);
    CHECK(close[2].gap.mm == doctest::Approx(0.18));
}

TEST_CASE("a part of the bottom is measured where it lies as seen from the top") {
    // Own x runs to the left there: a body 2 mm to its right lies 2 mm left of its place on the board.
    Footprint off_centre = body_at("u1", {10, 0}, rectangle(2, 2), Side::Bottom);
    off_centre.body->at = {2, 0};
    const Footprint left = body_at("u2", {5.9, 0}, rectangle(2, 2), Side::Bottom);
    const Footprint right = body_at("u3", {12, 0}, rectangle(2, 2), Side::Bottom);
    const auto close = clearance(chart_of({off_centre, left, right})).close;
    REQUIRE(close.size() == 1);
    CHECK(close[0].second == Id{"u2"});
    CHECK(close[0].side == Side::Bottom);
    CHECK(close[0].gap.mm == doctest::Approx(0.1));
}

TEST_CASE("pads and bodies near the board's edge or a cut-out are reported") {
    Footprint part = body_at("u1", {0, 0}, rectangle(0.5, 0.5));
    part.pads = {pad_at("1", {-9.3, 0}), pad_at("2", {5, 0}), pad_at("3", {9.5, 4})};
    part.body->at = {0, -4.7};
    Chart chart = chart_of({part});
    chart.board.outline = {geometry::rectangle(20, 10),
                           {geometry::transformed(geometry::rectangle(1, 1), geometry::Affine::translation({6.1, 0}))}};
    chart.rules.edge_gap_mm = 0.3;
    const auto close = clearance(chart).close;
    REQUIRE(close.size() == 4); // own arithmetic: 0 at pad 3, 0.05 for the body, 0.1 to the cut-out, 0.2 at pad 1
    CHECK(close[0].first_pad == "3");
    CHECK(close[0].gap.mm == 0);
    CHECK(close[1].kind == GapKind::BodyToEdge);
    CHECK(close[1].gap.mm == doctest::Approx(0.05));
    CHECK(close[2].first_pad == "2");
    CHECK(close[2].gap.mm == doctest::Approx(0.1));
    CHECK(close[3].kind == GapKind::PadToEdge);
    CHECK(close[3].gap.mm == doctest::Approx(0.2));
    CHECK(close[3].gap.from.x == doctest::Approx(-9.8));
    CHECK(close[3].gap.to.x == doctest::Approx(-10));
    CHECK(close[3].second.is_empty());
}

TEST_CASE("a part outside the outline is told") {
    Chart chart = chart_of({body_at("u1", {50, 0}, rectangle(2, 2)), body_at("u2", {0, 0}, rectangle(2, 2))});
    chart.board.outline = {geometry::rectangle(20, 10), {}};
    const ClearanceReport report = clearance(chart);
    CHECK(report.close.empty());
    CHECK(has_finding(report, "part-off-board", "u1"));
    CHECK_FALSE(has_finding(report, "part-off-board", "u2"));
}

TEST_CASE("the zone round a rectangle is the rectangle widened by nozzle radius and margin") {
    // Steiner: w h + 2 (w + h) d + pi d^2, d = 5 / 2 + 1.
    const ClearanceReport report = clearance(chart_of({connector_at("j1", {3, 4}, rectangle(6, 2))}));
    REQUIRE(report.zones.size() == 1);
    CHECK(report.zones[0].source == Id{"j1"});
    CHECK(report.zones[0].reach_mm == doctest::Approx(3.5));
    CHECK(report.zones[0].through_board);
    const auto steiner = [](double d) { return 12 + 16 * d + kPi * d * d; };
    check_zone_area(report.zones[0].area, steiner(3.5), steiner(largest(3.5)));
    CHECK(geometry::contains(report.zones[0].area, {3 + 3 + 3.4999, 4}));
    CHECK_FALSE(geometry::contains(report.zones[0].area, {3 + 3 + 3.51, 4}));
}

TEST_CASE("the zone round a disc is a disc and never smaller than the true one") {
    for (const double diameter : {0.5, 3.0, 12.0}) {
        const ClearanceReport report = clearance(chart_of({connector_at("j1", {}, disc(diameter))}));
        REQUIRE(report.zones.size() == 1);
        const double r = diameter / 2;
        check_zone_area(report.zones[0].area, kPi * (r + 3.5) * (r + 3.5),
                        kPi * (r + largest(3.5)) * (r + largest(3.5)));
    }
}

TEST_CASE("a small nozzle does not come nearer to a disc than its margin anywhere round it") {
    // The disc is kept as a chain of chords, up to kShapeTolerance inside the true circle.
    for (const double diameter : {0.5, 3.0, 12.0}) {
        Chart chart = chart_of({connector_at("j1", {}, disc(diameter))});
        chart.rules.nozzle_bore_mm = 0.2;
        chart.rules.nozzle_margin_mm = 0.1;
        const ClearanceReport report = clearance(chart);
        for (int i = 0; i < 720; ++i)
            CHECK(geometry::contains(report.top_zones,
                                     (diameter / 2 + 0.2) * geometry::direction(Angle::degrees(0.5 * i))));
    }
}

TEST_CASE("a board outline traced twice round is still the inside of the board") {
    Chart chart = chart_of({connector_at("j1", {2, 2}, rectangle(1, 1))});
    chart.board.outline = {{{0, 0}, {40, 0}, {40, 40}, {0, 40}, {0, 0}, {40, 0}, {40, 40}, {0, 40}}, {}};
    const ClearanceReport report = clearance(chart);
    CHECK(has_finding(report, "outline-mended", ""));
    CHECK_FALSE(has_finding(report, "part-off-board", "j1"));
    CHECK(geometry::contains(report.top_zones, {2, 4}));
    CHECK_FALSE(geometry::contains(report.top_zones, {2, -0.5}));
}

TEST_CASE("a zone ends at the board's edge and not at a cut-out") {
    Chart chart = chart_of({connector_at("j1", {1, 1}, rectangle(2, 2))});
    const Ring cut_out = geometry::transformed(geometry::rectangle(0.5, 0.5), geometry::Affine::translation({3, 3}));
    chart.board.outline = {{{0, 0}, {40, 0}, {40, 30}, {0, 30}}, {cut_out}};
    const ClearanceReport report = clearance(chart);
    // Own arithmetic, body in the corner: square, two strips, a quarter disc.
    const auto corner = [](double d) { return 4 + 2 * 2 * d + kPi * d * d / 4; };
    check_zone_area(report.zones[0].area, corner(3.5), corner(largest(3.5)));
    CHECK(geometry::contains(report.top_zones, {3, 3}));
}

TEST_CASE("a sensitive part of the bottom closes the top as well") {
    const ClearanceReport report = clearance(chart_of({connector_at("j1", {}, rectangle(6, 2), Side::Bottom)}));
    REQUIRE(report.zones.size() == 1);
    CHECK(report.zones[0].side == Side::Bottom);
    CHECK(area(report.top_zones) == doctest::Approx(area(report.zones[0].area)));
    CHECK(area(report.bottom_zones) == doctest::Approx(area(report.zones[0].area)));
}

TEST_CASE("a keep-out closes its own side and the other one only through the board") {
    for (const bool through : {false, true}) {
        Chart chart = chart_of({});
        chart.keep_outs.add(keep_out(geometry::rectangle(4, 4), Side::Bottom, through));
        const ClearanceReport report = clearance(chart);
        const auto steiner = [](double d) { return 16 + 16 * d + kPi * d * d; };
        check_zone_area(report.bottom_zones, steiner(3.5), steiner(largest(3.5)));
        CHECK(report.top_zones.empty() == !through);
    }
}

TEST_CASE("a keep-out whose cause was removed has no zone and is told") {
    Chart chart = chart_of({});
    KeepOut gone = keep_out(geometry::rectangle(4, 4), Side::Top, true);
    for (const Measure measure : {Measure::None, Measure::Shielded, Measure::Watched, Measure::Removed}) {
        gone.measure = measure;
        chart.keep_outs = {};
        chart.keep_outs.add(gone);
        const ClearanceReport report = clearance(chart);
        CHECK(report.zones.empty() == (measure == Measure::Removed));
        CHECK(has_finding(report, "keep-out-removed", "keep-out") == (measure == Measure::Removed));
    }
}

TEST_CASE("a keep-out that crosses itself is mended keeps both wings and says where") {
    Chart chart = chart_of({});
    chart.rules.nozzle_bore_mm = 0.4;
    chart.rules.nozzle_margin_mm = 0.1;
    chart.keep_outs.add(keep_out({{0, 0}, {10, 10}, {10, 0}, {0, 10}}, Side::Top, false));
    const ClearanceReport report = clearance(chart);
    // Own arithmetic, as for a widened bow-tie: two triangles widened less what they share round the crossing.
    const auto bow_tie = [](double d) {
        return 2 * (25 + (10 + 10 * std::sqrt(2.0)) * d + kPi * d * d) - (kPi / 2 + 2) * d * d;
    };
    CHECK(bow_tie(0.3) == doctest::Approx(64.729).epsilon(1e-5));
    check_zone_area(report.top_zones, bow_tie(0.3), bow_tie(largest(0.3)));
    REQUIRE(has_finding(report, "outline-mended", "keep-out"));
    CHECK(report.findings[0].message.find("crosses itself at (5.00, 5.00) mm") != std::string::npos);
}

TEST_CASE("a body that crosses itself is told once and measured from all it goes round") {
    Footprint a = body_at("u1", {0, 0}, {ShapeKind::Polygon, 0, 0, {{0, 0}, {10, 10}, {10, 0}, {0, 10}}});
    Footprint b = body_at("u2", {12.1, 5}, rectangle(4, 2));
    const ClearanceReport report = clearance(chart_of({a, b}));
    REQUIRE(report.close.size() == 1);
    CHECK(report.close[0].gap.mm == doctest::Approx(0.1));
    REQUIRE(report.findings.size() == 1);
    CHECK(report.findings[0].target == "u1");
    CHECK(report.findings[0].severity == Severity::Warning);
}

TEST_CASE("outlines that are lines or nothing are told and harm nothing") {
    Footprint line = connector_at("j1", {0, 0}, {ShapeKind::Polygon, 0, 0, {{0, 0}, {1, 0}, {2, 0}}});
    Footprint nothing;
    nothing.id = {"u9"};
    Footprint near = body_at("u2", {3.1, 0}, rectangle(2, 2));
    const ClearanceReport report = clearance(chart_of({line, nothing, near}));
    CHECK(has_finding(report, "outline-without-area", "j1"));
    CHECK(has_finding(report, "part-without-outline", "u9"));
    CHECK(report.parts_compared == 2);
    REQUIRE(report.close.size() == 1);
    CHECK(report.close[0].gap.mm == doctest::Approx(0.1));
    // Own arithmetic: a line of length L widened by d has 2 L d + pi d^2.
    const auto sausage = [](double d) { return 2 * 2 * d + kPi * d * d; };
    REQUIRE(report.zones.size() == 1);
    check_zone_area(report.zones[0].area, sausage(3.5), sausage(largest(3.5)));
}

TEST_CASE("a sensitive part without body is guarded by the box round its pads and told") {
    Footprint bare = connector_at("j1", {0, 0}, rectangle(1, 1));
    bare.body.reset();
    bare.pads = {pad_at("1", {-2, 0}), pad_at("2", {2, 0})};
    const ClearanceReport report = clearance(chart_of({bare}));
    REQUIRE(report.zones.size() == 1);
    const auto steiner = [](double d) { return 5 + 12 * d + kPi * d * d; };
    check_zone_area(report.zones[0].area, steiner(3.5), steiner(largest(3.5)));
    CHECK(has_finding(report, "zone-round-pads", "j1"));
}

TEST_CASE("nothing is measured without a scale") {
    Chart chart = testing::make_chart(20, 4, 1);
    chart.scale.reset();
    const ClearanceReport report = clearance(chart);
    CHECK_FALSE(report.has_scale);
    CHECK(report.close.empty());
    CHECK(report.zones.empty());
    CHECK(report.findings.empty());
    CHECK(report.parts_compared == 0);
    CHECK(gaps_to_sensitive(chart, {"part-1"}).empty());
    CHECK(parts_under_nozzle(chart, chart.parts[0].placement.at, 5, chart.parts[0].placement.side).empty());
    CHECK_FALSE(gap_between_parts(chart, {"part-1"}, {"part-2"}));
}

TEST_CASE("an empty chart has an empty report") {
    const ClearanceReport report = clearance(chart_of({}));
    CHECK(report.has_scale);
    CHECK(report.close.empty());
    CHECK(report.top_zones.empty());
    CHECK(report.findings.empty());
}

TEST_CASE("what the trade protects is heat-sensitive by its class") {
    // Common practice, no source: what technicians take out, shield or watch.
    const auto sensitive = [](PartClass part_class) {
        Footprint part;
        part.part_class = part_class;
        return is_heat_sensitive(part);
    };
    for (const PartClass c :
         {PartClass::Cell, PartClass::CellHolder, PartClass::BoardConnector, PartClass::FlatCableConnector,
          PartClass::CardSocket, PartClass::Receptacle, PartClass::Connector, PartClass::Microphone,
          PartClass::AluminiumCapacitor, PartClass::Supercapacitor, PartClass::Camera, PartClass::Switch,
          PartClass::Relay, PartClass::Buzzer, PartClass::Motor, PartClass::Led})
        CHECK_MESSAGE(sensitive(c), to_text(c));
    for (const PartClass c :
         {PartClass::Unknown, PartClass::Resistor, PartClass::CeramicCapacitor, PartClass::IntegratedCircuit,
          PartClass::Transistor, PartClass::ShieldCan, PartClass::TestPoint, PartClass::MountingHole,
          // Made for a 260 C reflow; a tuning fork among them is marked by hand.
          PartClass::Crystal, PartClass::Oscillator, PartClass::TantalumCapacitor})
        CHECK_MESSAGE(!sensitive(c), to_text(c));
}

TEST_CASE("what is said of the part wins over its class") {
    Footprint part;
    part.part_class = PartClass::Resistor;
    part.heat = HeatSensitivity{};
    CHECK(is_heat_sensitive(part));
    part.heat->limit_c = 120;
    CHECK(is_heat_sensitive(part));
    part.part_class = PartClass::BoardConnector;
    part.heat = HeatSensitivity{"reflow-260", {}, {}, "", {}};
    CHECK_FALSE(is_heat_sensitive(part));
    part.heat->warn_c = 200;
    CHECK(is_heat_sensitive(part));
}

TEST_CASE("gaps to sensitive things are nearest first and know the ring of the nozzle") {
    // Reach 3.5 mm from the target's centre. Own arithmetic for every distance.
    Footprint target = body_at("u1", {0, 0}, rectangle(2, 2));
    Chart chart = chart_of({target, connector_at("j1", {5.4, 0}, rectangle(4, 4)),         // 2.4 off, 3.4 from centre
                            connector_at("j2", {0, -5.6}, rectangle(4, 4), Side::Bottom),  // 2.6 off, 3.6 from centre
                            body_at("u2", {-2.1, 0}, rectangle(2, 2))});                   // not sensitive
    chart.keep_outs.add(keep_out({{-1, 2}, {1, 2}, {1, 4}, {-1, 4}}, Side::Bottom, true)); // 1 off
    const auto gaps = gaps_to_sensitive(chart, {"u1"});
    REQUIRE(gaps.size() == 3);
    CHECK(gaps[0].sensitive == Id{"keep-out"});
    CHECK(gaps[0].gap.mm == doctest::Approx(1));
    CHECK_FALSE(gaps[0].same_side);
    CHECK(gaps[0].inside_ring);
    CHECK(gaps[1].sensitive == Id{"j1"});
    CHECK(gaps[1].target == Id{"u1"});
    CHECK(gaps[1].gap.mm == doctest::Approx(2.4));
    CHECK(gaps[1].gap.from.x == doctest::Approx(1));
    CHECK(gaps[1].gap.to.x == doctest::Approx(3.4));
    CHECK(gaps[1].same_side);
    CHECK(gaps[1].inside_ring);
    CHECK(gaps[2].gap.mm == doctest::Approx(2.6));
    CHECK_FALSE(gaps[2].inside_ring);
    CHECK(gaps_to_sensitive(chart, {"j1"}).size() == 2); // not to itself
    CHECK(gaps_to_sensitive(chart, {"nobody"}).empty());
}

TEST_CASE("the gaps of a plan are told for its aim, its bore and its shields") {
    // Reach: half the bore and the margin of 1 mm. Own arithmetic.
    Chart chart = chart_of({body_at("u1", {0, 0}, rectangle(2, 2)), connector_at("j1", {10, 0}, rectangle(4, 4))});
    chart.rules.nozzle_margin_mm = 1.0;
    HeatPlan plan;
    plan.id = {"plan"};
    plan.target = {"u1"};
    plan.aim = {0, 0};
    plan.nozzle_bore_mm = 4.0; // reaches 3 mm, the connector begins at 8 mm
    CHECK_FALSE(gaps_of_plan(chart, plan).front().inside_ring);
    plan.aim = {5.5, 0};
    CHECK(gaps_of_plan(chart, plan).front().inside_ring);
    plan.aim = {0, 0};
    plan.nozzle_bore_mm = 14.5;
    CHECK(gaps_of_plan(chart, plan).front().inside_ring);
    CHECK_FALSE(gaps_of_plan(chart, plan).front().shielded);
    Shield foil;
    foil.id = {"foil"};
    foil.outline = {{{7, -3}, {13, -3}, {13, 3}, {7, 3}}, {}};
    chart.shields.add(foil);
    CHECK_FALSE(gaps_of_plan(chart, plan).front().shielded); // it lies in the drawer
    plan.shields = {{"foil"}};
    CHECK(gaps_of_plan(chart, plan).front().shielded);
    CHECK(gaps_of_plan(chart, plan).front().gap.mm == doctest::Approx(7));
    plan.target = {};
    CHECK(gaps_of_plan(chart, plan).front().gap.mm == doctest::Approx(8)); // from the aim
}

TEST_CASE("a far-side keep-out that is not through the board does not count for a part") {
    Chart chart =
        chart_of({body_at("u1", {0, 0}, rectangle(2, 2)), body_at("u2", {0, 0}, rectangle(2, 2), Side::Bottom)});
    chart.keep_outs.add(keep_out(geometry::rectangle(1, 1), Side::Bottom, false));
    CHECK(gaps_to_sensitive(chart, {"u1"}).empty());
    CHECK(gaps_to_sensitive(chart, {"u2"}).size() == 1);
}

TEST_CASE("an off-centre target is aimed at by the middle of its body") {
    Footprint target = body_at("u1", {0, 0}, rectangle(2, 2), Side::Bottom);
    target.body->at = {4, 0};                                                             // lies at x = -4 on the board
    const Chart chart = chart_of({target, connector_at("j1", {-8.4, 0}, rectangle(2, 2)), // 3.4 from its middle
                                  connector_at("j2", {0.6, 0}, rectangle(2, 2))});        // 3.6 from its middle
    const auto gaps = gaps_to_sensitive(chart, {"u1"});
    REQUIRE(gaps.size() == 2);
    CHECK(gaps[0].sensitive == Id{"j1"});
    CHECK(gaps[0].inside_ring);
    CHECK_FALSE(gaps[1].inside_ring);
}

TEST_CASE("a nozzle covers what its bore reaches on its own side") {
    Footprint pads_only = body_at("u3", {0, 3}, rectangle(1, 1));
    pads_only.body.reset();
    pads_only.pads = {pad_at("1", {0, 0})}; // edge at y = 2.5
    const Chart chart = chart_of({body_at("u1", {0, 0}, rectangle(1, 1)), body_at("u2", {3.01, 0}, rectangle(1, 1)),
                                  pads_only, body_at("u4", {0, 0}, rectangle(1, 1), Side::Bottom)});
    CHECK(parts_under_nozzle(chart, {0, 0}, 5.0, Side::Top) == std::vector<Id>{{"u1"}, {"u3"}});
    CHECK(parts_under_nozzle(chart, {0, 0}, 5.04, Side::Top) == std::vector<Id>{{"u1"}, {"u2"}, {"u3"}});
    CHECK(parts_under_nozzle(chart, {0, 0}, 4.98, Side::Top) == std::vector<Id>{{"u1"}});
    CHECK(parts_under_nozzle(chart, {0, 0}, 5.0, Side::Bottom) == std::vector<Id>{{"u4"}});
    // The corner of the square about (3.01, 0) is nearer to (2, 2) than its box's middle: sqrt(0.51^2 + 1.5^2) = 1.584.
    CHECK(parts_under_nozzle(chart, {2, 2}, 3.18, Side::Top) == std::vector<Id>{{"u2"}, {"u3"}});
}

TEST_CASE("the gap between two parts is between bodies or pads where there is no body") {
    Footprint bare = body_at("u2", {5, 0}, rectangle(1, 1));
    bare.body.reset();
    bare.pads = {pad_at("1", {-1, 0}), pad_at("2", {1, 0})};
    Footprint empty;
    empty.id = {"u3"};
    const Chart chart = chart_of({body_at("u1", {0, 0}, rectangle(2, 2)), bare, empty});
    CHECK(gap_between_parts(chart, {"u1"}, {"u2"})->mm == doctest::Approx(2.5));
    CHECK_FALSE(gap_between_parts(chart, {"u1"}, {"u3"}));
    CHECK_FALSE(gap_between_parts(chart, {"u1"}, {"u4"}));
}

TEST_CASE("a part that was taken off is measured and hit by its pads alone") {
    Footprint gone = body_at("u1", {0, 0}, rectangle(6, 2));
    gone.pads = {pad_at("1", {-1, 0}), pad_at("2", {1, 0})}; // to x = 1.5, the body to x = 3
    gone.condition.presence = Presence::Removed;
    Chart chart = chart_of({gone, connector_at("j1", {5, 0}, rectangle(2, 2))});
    CHECK(gap_between_parts(chart, {"u1"}, {"j1"})->mm == doctest::Approx(2.5));
    CHECK(gaps_to_sensitive(chart, {"u1"})[0].gap.mm == doctest::Approx(2.5));
    CHECK(parts_under_nozzle(chart, {3, 0}, 1.0, Side::Top).empty());
    gone.condition.presence = Presence::Present;
    chart.parts.replace(0, gone);
    CHECK(gap_between_parts(chart, {"u1"}, {"j1"})->mm == doctest::Approx(1));
    CHECK(parts_under_nozzle(chart, {3, 0}, 1.0, Side::Top) == std::vector<Id>{{"u1"}});
}

namespace {

using Pair = std::tuple<GapKind, std::string, std::string, std::string, std::string>;

struct SlowOutline {
    std::string part;
    std::string pad;
    Side side;
    Ring ring;
};

std::vector<SlowOutline> slow_outlines(const Chart& chart, bool pads) {
    std::vector<SlowOutline> all;
    for (const Footprint& part : chart.parts) {
        if (!pads && part.body && part.condition.presence != Presence::Missing)
            all.push_back({part.id.text, "", part.placement.side, body_on_board(part)});
        for (const Pad& pad : part.pads)
            if (pads) all.push_back({part.id.text, pad.number, part.placement.side, outline_on_board(part, pad)});
    }
    return all;
}

/// Every outline against every other, corner by corner.
void slow_pairs(const Chart& chart, bool pads, double rule, std::set<Pair>& found) {
    const std::vector<SlowOutline> all = slow_outlines(chart, pads);
    for (std::size_t i = 0; i < all.size(); ++i)
        for (std::size_t j = i + 1; j < all.size(); ++j)
            if (all[i].part != all[j].part && all[i].side == all[j].side &&
                slow_distance(all[i].ring, all[j].ring) < rule)
                found.insert(
                    {pads ? GapKind::PadToPad : GapKind::BodyToBody, all[i].part, all[i].pad, all[j].part, all[j].pad});
}

double slow_edge_distance(const Ring& ring, const Ring& edge) {
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < ring.size(); ++i)
        for (std::size_t j = 0; j < edge.size(); ++j) {
            const Vec2 a0 = ring[i], a1 = ring[(i + 1) % ring.size()], b0 = edge[j], b1 = edge[(j + 1) % edge.size()];
            if (testing::edges_cross(a0, a1, b0, b1)) return 0;
            best = std::min({best, testing::distance_to_edge(a0, b0, b1), testing::distance_to_edge(b0, a0, a1)});
        }
    return best;
}

void slow_edge_pairs(const Chart& chart, bool pads, std::set<Pair>& found) {
    for (const SlowOutline& outline : slow_outlines(chart, pads)) {
        double mm = slow_edge_distance(outline.ring, chart.board.outline->outer);
        for (const Ring& hole : chart.board.outline->holes)
            mm = std::min(mm, slow_edge_distance(outline.ring, hole));
        if (mm < chart.rules.edge_gap_mm)
            found.insert({pads ? GapKind::PadToEdge : GapKind::BodyToEdge, outline.part, outline.pad, "", ""});
    }
}

} // namespace

TEST_CASE("random charts have the close pairs a search of all pairs finds") {
    // Twin: all pairs of outlines, every corner against every edge.
    std::set<GapKind> kinds;
    for (const std::uint64_t variant : {1U, 2U, 3U}) {
        Chart chart = testing::make_chart(70, 5, variant);
        chart.rules.pad_gap_mm = 0.3;
        chart.rules.edge_gap_mm = 1.6;
        std::set<Pair> expected;
        slow_pairs(chart, false, chart.rules.body_gap_mm, expected);
        slow_pairs(chart, true, chart.rules.pad_gap_mm, expected);
        slow_edge_pairs(chart, false, expected);
        slow_edge_pairs(chart, true, expected);
        std::set<Pair> found;
        const ClearanceReport report = clearance(chart);
        double last_share = 0;
        for (const CloseGap& close : report.close) {
            found.insert({close.kind, close.first.text, close.first_pad, close.second.text, close.second_pad});
            kinds.insert(close.kind);
            CHECK(geometry::distance(close.gap.from, close.gap.to) == doctest::Approx(close.gap.mm).epsilon(1e-9));
            CHECK(close.gap.mm / close.rule_mm >= last_share);
            last_share = close.gap.mm / close.rule_mm;
        }
        CHECK(found == expected);
        CHECK(found.size() == report.close.size());
        CHECK(found.size() > 20);
    }
    CHECK(kinds.size() == 4);
}

TEST_CASE("an aim is in a zone exactly when the nozzle would come within the margin") {
    // Twin: distance from the aim to every sensitive outline by hand.
    Random random(91);
    const Chart chart = testing::make_chart(80, 6, 7);
    const ClearanceReport report = clearance(chart);
    const double reach = 3.5;
    std::vector<geometry::Polygon> sources;
    for (const Footprint& part : chart.parts)
        if (is_heat_sensitive(part) && part.condition.presence != Presence::Missing)
            sources.push_back({extent_on_board(part), {}});
    sources.push_back(chart.keep_outs[0].outline); // through the board
    const geometry::Polygon label = chart.keep_outs[1].outline;
    const geometry::Box board = geometry::bounds(chart.board.outline->outer);
    int inside = 0;
    for (int i = 0; i < 4000; ++i) {
        const Vec2 aim{random.between(board.min.x, board.max.x), random.between(board.min.y, board.max.y)};
        if (!geometry::contains(chart.board.outline->outer, aim)) continue;
        double bottom = std::numeric_limits<double>::infinity();
        for (const geometry::Polygon& source : sources)
            bottom = std::min(bottom, slow_distance(aim, source));
        const double top = std::min(bottom, slow_distance(aim, label));
        if (top <= reach) CHECK(geometry::contains(report.top_zones, aim));
        if (top > largest(reach)) CHECK_FALSE(geometry::contains(report.top_zones, aim));
        if (bottom <= reach) CHECK(geometry::contains(report.bottom_zones, aim));
        if (bottom > largest(reach)) CHECK_FALSE(geometry::contains(report.bottom_zones, aim));
        inside += top <= reach ? 1 : 0;
    }
    CHECK(inside > 500);
    CHECK(inside < 3900);
}

TEST_CASE("turning the whole chart turns no gap and no zone") {
    const Chart chart = testing::make_chart(40, 4, 5);
    const geometry::Affine turn =
        geometry::Affine::translation({7, -3}) * geometry::Affine::rotation(Angle::degrees(90));
    Chart turned = chart;
    turned.board.outline = transformed(*chart.board.outline, turn);
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        Footprint part = chart.parts[i];
        part.placement.at = turn(part.placement.at);
        // Counter-clockwise as seen from below is clockwise as seen from the top.
        part.placement.turn = part.placement.turn + Angle::degrees(part.placement.side == Side::Top ? 90 : -90);
        turned.parts.replace(i, part);
    }
    for (std::size_t i = 0; i < chart.keep_outs.size(); ++i) {
        KeepOut thing = chart.keep_outs[i];
        thing.outline = transformed(thing.outline, turn);
        turned.keep_outs.replace(i, thing);
    }
    const ClearanceReport before = clearance(chart);
    const ClearanceReport after = clearance(turned);
    CHECK(after.close.size() == before.close.size());
    CHECK(area(after.top_zones) == doctest::Approx(area(before.top_zones)).epsilon(1e-6));
    CHECK(area(after.bottom_zones) == doctest::Approx(area(before.bottom_zones)).epsilon(1e-6));
}

TEST_CASE("a shield can stands over the parts inside it and is no neighbour of theirs") {
    Footprint can = body_at("can", {0, 0}, rectangle(8, 8));
    can.part_class = PartClass::ShieldCan;
    const Chart chart =
        chart_of({can, body_at("inside", {1, 1}, rectangle(2, 2)), body_at("across", {4, -2}, rectangle(1, 1))});
    const ClearanceReport report = clearance(chart);
    REQUIRE(report.close.size() == 1);
    CHECK(report.close[0].second == Id{"across"});
}
