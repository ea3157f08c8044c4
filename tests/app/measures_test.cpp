#include "support.hpp"

#include <cmath>

#include "app/measures.hpp"

namespace padchart::app {
namespace {

using document::Side;
using geometry::Vec2;
using Kind = MeasuredShape::Kind;

// Expected lengths are own arithmetic: rectangles, a 3-4-5 triangle, right angles.
Measurement between(MeasuredShape a, MeasuredShape b) {
    return {MeasureKind::Distance, Side::Top, {{}, {}}, std::move(a), std::move(b), 1};
}

document::Chart with_board() {
    document::Chart chart = row_of_chips();
    return document::set_outline(chart, geometry::Polygon{{{-4, -4}, {20, -4}, {20, 8}, {-4, 8}}, {}}).value();
}

TEST_CASE("from edge to edge of bodies pads and the board") {
    const document::Chart chart = with_board();
    const auto bodies = evaluate(chart, between({Kind::Part, {"r1"}, 0}, {Kind::Part, {"r2"}, 0}));
    REQUIRE(bodies);
    CHECK(bodies->value == doctest::Approx(3.4));        // 5 mm less one body of 1.6 mm
    CHECK(bodies->plus_minus == doctest::Approx(0.068)); // 2 % of it
    CHECK(bodies->between == "R1 and R2");
    const auto edge = evaluate(chart, between({Kind::BoardEdge, {}, 0}, {Kind::Part, {"r1"}, 0}));
    REQUIRE(edge);
    CHECK(edge->value == doctest::Approx(3.2)); // from -4 to -0.8
    CHECK(edge->gap.from.x == doctest::Approx(-4));
    const document::Footprint& r1 = part_named(chart, "R1");
    const geometry::Box a = geometry::bounds(document::outline_on_board(r1, r1.pads[0]));
    const geometry::Box b = geometry::bounds(document::outline_on_board(r1, r1.pads[1]));
    const auto pads = evaluate(chart, between({Kind::Pad, {"r1"}, 0}, {Kind::Pad, {"r1"}, 1}));
    REQUIRE(pads);
    CHECK(pads->value == doctest::Approx(std::max(a.min.x, b.min.x) - std::min(a.max.x, b.max.x)));
}

TEST_CASE("true shapes count and not the boxes round them") {
    document::Chart chart = measured_chart();
    const auto diamond = [](const char* id, Vec2 at) {
        document::Footprint part;
        part.id = {id};
        part.name = id;
        part.placement.at = at;
        part.placement.turn = Angle::degrees(45);
        part.body = document::Body{{}, {}, {document::ShapeKind::Rectangle, 2, 2, {}}, 0.5, {}};
        return part;
    };
    chart.parts.add(diamond("a", {0, 0}));
    chart.parts.add(diamond("b", {3, 3}));
    const auto measured = evaluate(chart, between({Kind::Part, {"a"}, 0}, {Kind::Part, {"b"}, 0}));
    REQUIRE(measured);
    // Side to side along the diagonal: 3 sqrt 2 less one mm at either end.
    CHECK(measured->value == doctest::Approx(3 * std::sqrt(2.0) - 2).epsilon(1e-9));
}

TEST_CASE("a measurement follows its parts and goes when one of them goes") {
    document::Chart chart = row_of_chips();
    const Measurement m = between({Kind::Part, {"r1"}, 0}, {Kind::Part, {"r2"}, 0});
    chart = document::move_parts(chart, std::array{document::Id{"r2"}}, {1, 0}).value();
    CHECK(evaluate(chart, m)->value == doctest::Approx(4.4));
    chart = document::remove_parts(chart, std::array{document::Id{"r2"}}).value();
    CHECK_FALSE(evaluate(chart, m));
}

TEST_CASE("from place to place with the uncertainty of the scale") {
    const document::Chart chart = row_of_chips();
    const auto measured = evaluate(chart, {MeasureKind::Distance, Side::Top, {{0, 5}, {3, 9}}, {}, {}, 1});
    REQUIRE(measured);
    CHECK(measured->words == "5.00 mm ± 0.10 mm");
    document::Chart unscaled = chart;
    unscaled.scale.reset();
    CHECK_FALSE(evaluate(unscaled, {MeasureKind::Distance, Side::Top, {{0, 5}, {3, 9}}, {}, {}, 1}));
}

TEST_CASE("an angle needs no scale and is the smaller one") {
    document::Chart chart;
    const auto angle = [&](Vec2 a, Vec2 b) {
        return evaluate(chart, {MeasureKind::Angle, Side::Top, {{0, 0}, a, b}, {}, {}, 1});
    };
    CHECK(angle({1, 0}, {0, -3})->value == doctest::Approx(90));
    CHECK(angle({0, -3}, {1, 0})->value == doctest::Approx(90));
    CHECK(angle({1, 0}, {-2, 0})->value == doctest::Approx(180));
    CHECK(angle({1, 0}, {std::sqrt(3.0), 1})->words == "30.0°");
    CHECK_FALSE(angle({0, 0}, {1, 0}));
}

TEST_CASE("pads between the first and the last are counted and other rows are not") {
    document::Chart chart = measured_chart();
    document::Footprint part;
    part.id = {"u1"};
    part.name = "U1";
    for (int row = 0; row < 2; ++row)
        for (int i = 0; i < 10; ++i) {
            document::Pad pad;
            pad.at = {0.5 * i, 3.0 * row};
            pad.shape = {document::ShapeKind::Rectangle, 0.3, 0.8, {}};
            part.pads.push_back(pad);
        }
    chart.parts.add(part);
    CHECK(counted_steps(chart, Side::Top, {0, 0}, {4.5, 0}) == 9);
    CHECK(counted_steps(chart, Side::Top, {0, 0.05}, {4.5, 0}) == 9);
    CHECK(counted_steps(chart, Side::Top, {0, 0}, {0, 3}) == 1);
    CHECK(counted_steps(chart, Side::Bottom, {0, 0}, {4.5, 0}) == 1);
    const auto pitch = evaluate(chart, {MeasureKind::Pitch, Side::Top, {{0, 0}, {4.5, 0}}, {}, {}, 9});
    REQUIRE(pitch);
    CHECK(pitch->value == doctest::Approx(0.5));
    CHECK(pitch->words == "0.500 mm ± 0.010 mm, 9 steps of 4.50 mm in all");
}

TEST_CASE("two digits of the uncertainty are told") {
    // At most two significant digits: JCGM 100:2008, 7.2.6 (from memory).
    CHECK(length_words(3.4, 0.068) == "3.400 mm ± 0.068 mm");
    CHECK(length_words(12.345, 0.25) == "12.35 mm ± 0.25 mm");
    CHECK(length_words(120.0, 2.4) == "120.0 mm ± 2.4 mm");
    CHECK(length_words(1.0, 0.0) == "1.00 mm");
}

TEST_CASE("pinned measurements are drawn on their own side only") {
    const document::Chart chart = row_of_chips();
    MeasureDesk desk;
    desk.pinned.push_back(between({Kind::Part, {"r1"}, 0}, {Kind::Part, {"r2"}, 0}));
    desk.pinned.push_back({MeasureKind::Angle, Side::Top, {{0, 0}, {2, 0}, {0, 2}}, {}, {}, 1});
    scene::Scene top, bottom;
    add_pinned(top, desk, chart, 40, Side::Top);
    add_pinned(bottom, desk, chart, 40, Side::Bottom);
    CHECK(top.texts.size() == 2);
    CHECK(bottom.items.empty());
}

} // namespace
} // namespace padchart::app
