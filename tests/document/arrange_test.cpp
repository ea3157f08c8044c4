#include "document/arrange.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "document/copies.hpp"
#include "document/edits.hpp"

using namespace padchart;
using namespace padchart::document;
using geometry::Box;
using geometry::Vec2;

// Expected places are own arithmetic throughout: boxes and sums on paper.
namespace {

/// A body of `size` with two pads that stick out by 0.2 mm to the left and the right.
Footprint part(const std::string& id, Vec2 at, Vec2 size, Side side = Side::Top) {
    Footprint made;
    made.id = {id};
    made.name = id;
    made.placement = {at, Angle(), side};
    made.body = Body{{}, {}, {ShapeKind::Rectangle, size.x, size.y, {}}, 0.5, {}};
    for (const double way : {-1.0, 1.0}) {
        Pad pad;
        pad.at = {way * size.x / 2, 0};
        pad.shape = {ShapeKind::Rectangle, 0.4, 0.4, {}};
        made.pads.push_back(pad);
    }
    return made;
}

Chart row_of(std::vector<Footprint> parts) {
    Chart chart;
    for (Footprint& each : parts)
        chart.parts.add(std::move(each));
    return chart;
}

/// a: 2 x 1 at (0, 0); b: 4 x 2 at (10, 3); c: 1 x 1 at (4, -2).
Chart three() {
    return row_of({part("a", {0, 0}, {2, 1}), part("b", {10, 3}, {4, 2}), part("c", {4, -2}, {1, 1})});
}
const std::vector<Id> kAll{{"a"}, {"b"}, {"c"}};

Vec2 place(const Chart& chart, const char* id) {
    return chart.parts[find_part(chart, {id}).value()].placement.at;
}

Chart locked(const Chart& chart, const char* id) {
    return set_locked(chart, std::vector{Id{id}}, true).value();
}

} // namespace

TEST_SUITE("arranging") {
    TEST_CASE("left brings left edges of bodies to the leftmost one") {
        const Chart after = align(three(), kAll, Line::Left, Extent::Body).value();
        CHECK(place(after, "a") == Vec2{0, 0});
        CHECK(place(after, "b") == Vec2{1, 3});
        CHECK(place(after, "c") == Vec2{-0.5, -2});
    }

    TEST_CASE("by pads the outer edges of the pads count") {
        const Chart after = align(three(), kAll, Line::Right, Extent::Pads).value();
        // b's pads reach to 10 + 2 + 0.2.
        CHECK(place(after, "a").x == doctest::Approx(12.2 - 1.2));
        CHECK(place(after, "c").x == doctest::Approx(12.2 - 0.7));
    }

    TEST_CASE("centre and middle lie half way across the box of all") {
        const Chart across = align(three(), kAll, Line::Centre, Extent::Body).value();
        for (const char* id : {"a", "b", "c"})
            CHECK(place(across, id).x == doctest::Approx((-1.0 + 12.0) / 2));
        const Chart down = align(three(), kAll, Line::Middle, Extent::Body).value();
        for (const char* id : {"a", "b", "c"})
            CHECK(place(down, id).y == doctest::Approx((-2.5 + 4.0) / 2));
    }

    TEST_CASE("top and bottom count with y downwards") {
        CHECK(place(align(three(), kAll, Line::Top, Extent::Body).value(), "a").y == doctest::Approx(-2.0));
        CHECK(place(align(three(), kAll, Line::Bottom, Extent::Body).value(), "a").y == doctest::Approx(3.5));
    }

    TEST_CASE("a locked part stays and the others come to it") {
        const Chart after = align(locked(three(), "c"), kAll, Line::Left, Extent::Body).value();
        CHECK(place(after, "c") == Vec2{4, -2});
        CHECK(place(after, "a").x == doctest::Approx(4.5));
        CHECK(place(after, "b").x == doctest::Approx(5.5));
    }

    TEST_CASE("aligning needs two parts of which one may move") {
        CHECK_FALSE(align(three(), std::vector{Id{"a"}}, Line::Left, Extent::Body));
        CHECK_FALSE(align(three(), std::vector{Id{"a"}, Id{"nobody"}}, Line::Left, Extent::Body));
        const Chart fixed = locked(locked(three(), "a"), "b");
        CHECK_FALSE(align(fixed, std::vector{Id{"a"}, Id{"b"}}, Line::Left, Extent::Body));
    }

    TEST_CASE("a second alignment changes nothing") {
        for (const Line line : {Line::Left, Line::Centre, Line::Right, Line::Top, Line::Middle, Line::Bottom}) {
            const Chart once = align(three(), kAll, line, Extent::Body).value();
            CHECK(align(once, kAll, line, Extent::Body).value() == once);
        }
    }

    TEST_CASE("centres are spread evenly between the outer two") {
        const Chart after = spread(three(), kAll, Axis::X, Spread::Centres, Extent::Body).value();
        CHECK(place(after, "a") == Vec2{0, 0});
        CHECK(place(after, "b") == Vec2{10, 3});
        CHECK(place(after, "c") == Vec2{5, -2});
    }

    TEST_CASE("gaps are made equal whatever the widths") {
        const Chart after = spread(three(), kAll, Axis::X, Spread::Gaps, Extent::Body).value();
        // From 1 to 8 is 7 mm for a body of 1 mm: 3 mm on either side.
        CHECK(place(after, "c").x == doctest::Approx(4.5));
    }

    TEST_CASE("gaps of random rows are equal and the outer two stay") {
        std::mt19937 random(20260314);
        std::uniform_real_distribution<double> at(0, 50), size(0.3, 4);
        for (int run = 0; run < 50; ++run) {
            Chart chart;
            std::vector<Id> ids;
            for (int i = 0; i < 7; ++i) {
                chart.parts.add(part("p" + std::to_string(i), {at(random), at(random)}, {size(random), size(random)}));
                ids.push_back({"p" + std::to_string(i)});
            }
            const Chart after = spread(chart, ids, Axis::Y, Spread::Gaps, Extent::Pads).value();
            std::vector<Box> boxes;
            for (const Footprint& each : after.parts)
                boxes.push_back(box_of(each, Extent::Pads));
            std::sort(boxes.begin(), boxes.end(),
                      [](const Box& a, const Box& b) { return a.centre().y < b.centre().y; });
            for (std::size_t i = 2; i < boxes.size(); ++i)
                CHECK(boxes[i].min.y - boxes[i - 1].max.y ==
                      doctest::Approx(boxes[i - 1].min.y - boxes[i - 2].max.y).epsilon(1e-4));
        }
    }

    TEST_CASE("spreading needs three parts and moves no locked one") {
        CHECK_FALSE(spread(three(), std::vector{Id{"a"}, Id{"b"}}, Axis::X, Spread::Gaps, Extent::Body));
        const auto refused = spread(locked(three(), "c"), kAll, Axis::X, Spread::Gaps, Extent::Body);
        REQUIRE_FALSE(refused);
        CHECK(refused.error().message == "c is locked; unlock it to spread it");
        CHECK(spread(locked(three(), "a"), kAll, Axis::X, Spread::Gaps, Extent::Body).has_value());
    }

    TEST_CASE("folded over the vertical a pad lies where the mirror has it and the turn stays") {
        Chart chart = row_of({part("a", {3, 1}, {2, 1})});
        chart = place_part(chart, {"a"}, {{3, 1}, Angle::degrees(30), Side::Top}).value();
        const Footprint& before = chart.parts[0];
        const Chart after = fold_to_far_side(chart, std::vector{Id{"a"}}, {Axis::Y, 5.0}).value();
        const Footprint& folded = after.parts[0];
        CHECK(folded.placement.side == Side::Bottom);
        CHECK(folded.placement.turn.degrees() == doctest::Approx(30));
        for (std::size_t i = 0; i < before.pads.size(); ++i) {
            const Vec2 was = board_from_part(before.placement)(before.pads[i].at);
            const Vec2 is = board_from_part(folded.placement)(folded.pads[i].at);
            CHECK(is.x == doctest::Approx(10 - was.x));
            CHECK(is.y == doctest::Approx(was.y));
        }
    }

    TEST_CASE("folded over the horizontal every pad is mirrored up and down") {
        for (const Side side : {Side::Top, Side::Bottom}) {
            Chart chart = row_of({part("a", {3, 1}, {2, 1}, side)});
            chart = place_part(chart, {"a"}, {{3, 1}, Angle::degrees(30), side}).value();
            const Chart after = fold_to_far_side(chart, std::vector{Id{"a"}}, {Axis::X, -2.0}).value();
            for (std::size_t i = 0; i < 2; ++i) {
                const Vec2 was = board_from_part(chart.parts[0].placement)(chart.parts[0].pads[i].at);
                const Vec2 is = board_from_part(after.parts[0].placement)(after.parts[0].pads[i].at);
                CHECK(is.x == doctest::Approx(was.x));
                CHECK(is.y == doctest::Approx(-4 - was.y));
            }
        }
    }

    TEST_CASE("folded twice a part is where it was and a locked one is not folded") {
        for (const Axis along : {Axis::X, Axis::Y}) {
            const Chart once = fold_to_far_side(three(), kAll, {along, 2.5}).value();
            CHECK(fold_to_far_side(once, kAll, {along, 2.5}).value() == three());
        }
        CHECK_FALSE(fold_to_far_side(locked(three(), "b"), kAll, {Axis::Y, 0}));
        CHECK(movable(locked(three(), "b"), kAll) == std::vector<Id>{{"a"}, {"c"}});
    }
}

TEST_SUITE("copies") {
    TEST_CASE("a copy says nothing that was seen of the first") {
        Footprint seen = part("R1", {1, 1}, {1, 1});
        seen.value = "10k";
        seen.condition.presence = Presence::Present;
        seen.pads[0].land = LandState::Lifted;
        seen.pads[0].joint = JointState::Good;
        seen.orientation.state = RecordState::Recorded;
        seen.orientation.mark = MarkKind::Band;
        seen.orientation.evidence.by = "bench 1";
        seen.trace_key = "path7";
        seen.locked = true;
        const Footprint copy = unseen(seen);
        CHECK(copy.value == "10k");
        CHECK(copy.condition == Condition{});
        CHECK(copy.pads[0].land == LandState::NotChecked);
        CHECK(copy.pads[0].joint == JointState::NotChecked);
        CHECK(copy.orientation.state == RecordState::NotRecorded);
        CHECK(copy.orientation.mark == MarkKind::Band);
        CHECK(copy.orientation.evidence == Evidence{});
        CHECK(copy.trace_key.empty());
        CHECK_FALSE(copy.locked);
    }

    TEST_CASE("names count on from the first and skip what is taken") {
        Chart chart = row_of({part("R77", {}, {1, 1}), part("R78", {}, {1, 1}), part("X", {}, {1, 1})});
        CHECK(next_name(chart, "R77") == "R79");
        CHECK(next_name(chart, "R5") == "R6");
        CHECK(next_name(chart, "X") == "X2");
        CHECK(next_name(chart, "A123456789012") == "A1234567890122");
        CHECK(next_name(chart, "").empty());
    }

    TEST_CASE("a duplicate lies beside and has an id and a name of its own") {
        const Copies made = duplicate(three(), std::vector{Id{"a"}, Id{"b"}}, {1, 0.5}).value();
        REQUIRE(made.ids.size() == 2);
        CHECK(made.chart.parts.size() == 5);
        CHECK(place(made.chart, made.ids[0].text.c_str()) == Vec2{1, 0.5});
        CHECK(made.chart.parts[3].name == "a2");
        CHECK_FALSE(fault_of(made.chart));
        CHECK(three().parts[0] == made.chart.parts[0]);
    }

    TEST_CASE("a grid fills every place but the first") {
        const Chart one = row_of({part("C1", {1, 1}, {1, 1})});
        const Copies made = copy_to_grid(one, std::vector{Id{"C1"}}, {3, 2, {2, 0}, {0, 1.5}}).value();
        std::vector<Vec2> places;
        for (const Footprint& each : made.chart.parts)
            places.push_back(each.placement.at);
        CHECK(places == std::vector<Vec2>{{1, 1}, {3, 1}, {5, 1}, {1, 2.5}, {3, 2.5}, {5, 2.5}});
        CHECK(made.chart.parts[5].name == "C6");
    }

    TEST_CASE("a ring of four lies on a cross and turns with it") {
        const Chart one = row_of({part("C1", {3, 0}, {1, 1})});
        const Copies made = copy_to_ring(one, std::vector{Id{"C1"}}, {}).value();
        REQUIRE(made.chart.parts.size() == 4);
        CHECK(made.chart.parts[1].placement.at == Vec2{0, -3}); // counter-clockwise with y down: upwards
        CHECK(made.chart.parts[2].placement.at == Vec2{-3, 0});
        CHECK(made.chart.parts[3].placement.at == Vec2{0, 3});
        CHECK(made.chart.parts[1].placement.turn == Angle::degrees(90));
    }

    TEST_CASE("seen from the bottom a ring runs the other way and its parts turn as seen") {
        const Chart one = row_of({part("C1", {3, 0}, {1, 1}, Side::Bottom)});
        RingArray ring;
        ring.seen_from = Side::Bottom;
        const Copies made = copy_to_ring(one, std::vector{Id{"C1"}}, ring).value();
        CHECK(made.chart.parts[1].placement.at == Vec2{0, 3});
        CHECK(made.chart.parts[1].placement.turn == Angle::degrees(90));
        ring.turns = false;
        CHECK(copy_to_ring(one, std::vector{Id{"C1"}}, ring).value().chart.parts[1].placement.turn == Angle());
    }

    TEST_CASE("arrays that make nothing or too much are refused") {
        const Chart one = row_of({part("C1", {}, {1, 1})});
        const std::vector ids{Id{"C1"}};
        CHECK_FALSE(copy_to_grid(one, ids, {1, 1, {1, 0}, {0, 1}}));
        CHECK_FALSE(copy_to_grid(one, ids, {0, 4, {1, 0}, {0, 1}}));
        CHECK_FALSE(copy_to_grid(one, ids, {2, 1, {0, 0}, {0, 1}}));
        CHECK_FALSE(copy_to_grid(one, ids, {2000000000, 2000000000, {1, 0}, {0, 1}}));
        CHECK_FALSE(copy_to_ring(one, ids, {1, Angle::degrees(10), {}, true, Side::Top}));
        CHECK_FALSE(copy_to_ring(one, ids, {3, Angle::degrees(360), {}, true, Side::Top}));
        CHECK_FALSE(copy_to_ring(one, ids, {5000, Angle::degrees(1), {}, true, Side::Top}));
        CHECK_FALSE(duplicate(one, {}, {1, 0}));
    }
}
