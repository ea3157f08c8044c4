#include "support.hpp"

#include "app/tools/part_tools.hpp"
#include "app/tools/reshape_tool.hpp"
#include "app/tools/trace_tool.hpp"
#include "document/mark_spot.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::ShapeKind;
using document::Side;
using geometry::Vec2;

/// A hand on a canvas of 40 px a mm.
class Hand {
public:
    explicit Hand(Chart chart, Side side = Side::Top) : side_(side) { editor.start_new(std::move(chart)); }

    Editor editor;
    bool ctrl = false, shift = false;

    void flip() { side_ = side_ == Side::Top ? Side::Bottom : Side::Top; }
    [[nodiscard]] Vec2 seen(Vec2 board) const { return scene::scene_from_board(board, side_); }

    template <class Action>
    void with(Action action, Vec2 at) {
        scene::ViewOptions options;
        options.seen_from = side_;
        const scene::Scene scene = scene::chart_scene(editor.shown(), {}, options);
        const scene::HitTest hits(scene);
        const ToolContext context{editor, side_, scene, hits};
        action(context, Pointer{at, 40.0, 1.0, shift, ctrl});
    }
    void click(Tool& tool, Vec2 at) {
        with([&](const ToolContext& c, const Pointer& p) { tool.press(c, p); }, at);
        with([&](const ToolContext& c, const Pointer& p) { tool.release(c, p); }, at);
    }
    void drag(Tool& tool, Vec2 from, Vec2 to) {
        with([&](const ToolContext& c, const Pointer& p) { tool.press(c, p); }, from);
        with([&](const ToolContext& c, const Pointer& p) { tool.move(c, p); }, to);
        with([&](const ToolContext& c, const Pointer& p) { tool.release(c, p); }, to);
    }
    bool key(Tool& tool, Key key) {
        bool used = false;
        with([&](const ToolContext& c, const Pointer&) { used = tool.key(c, Chord{key}); }, {});
        return used;
    }
    void cancel(Tool& tool) {
        with([&](const ToolContext& c, const Pointer&) { (void)tool.cancel(c); }, {});
    }
    scene::Scene overlay(Tool& tool, Vec2 at) {
        scene::Scene made;
        with([&](const ToolContext& c, const Pointer& p) { tool.overlay(c, p, made); }, at);
        return made;
    }

private:
    Side side_;
};

Chart square_board() {
    return document::set_outline(new_chart(), geometry::Polygon{{{0, 0}, {20, 0}, {20, 15}, {0, 15}}, {}}).value();
}

TEST_CASE("a board outline is drawn corner by corner and closed at its first point") {
    Hand hand(new_chart());
    TraceDesk desk{TraceWhat::Outline, TraceHow::Polygon};
    const auto tool = make_trace_tool(desk);
    for (const Vec2 corner : {Vec2{0, 0}, {20, 0}, {20, 10}, {12, 15}, {0, 15}})
        hand.click(*tool, corner);
    CHECK_FALSE(hand.editor.chart().board.outline);
    hand.click(*tool, {0.05, 0.05}); // near the first point
    REQUIRE(hand.editor.chart().board.outline);
    CHECK(hand.editor.chart().board.outline->outer.size() == 5);
    CHECK(hand.editor.history().steps().size() == 2);
    CHECK(hand.editor.undo());
    CHECK_FALSE(hand.editor.chart().board.outline);
}

TEST_CASE("Backspace takes points back and Escape drops the shape and then leaves") {
    Hand hand(new_chart());
    TraceDesk desk{TraceWhat::KeepOut, TraceHow::Polygon};
    const auto tool = make_trace_tool(desk);
    for (const Vec2 corner : {Vec2{0, 0}, {5, 0}, {9, 9}, {5, 5}, {0, 5}}) {
        hand.click(*tool, corner);
        if (corner == Vec2{9, 9}) CHECK(hand.key(*tool, Key::Backspace));
    }
    CHECK(hand.key(*tool, Key::Enter));
    REQUIRE(hand.editor.chart().keep_outs.size() == 1);
    CHECK(geometry::area(hand.editor.chart().keep_outs[0].outline) == doctest::Approx(25));
    hand.click(*tool, {8, 8});
    hand.cancel(*tool);
    CHECK_FALSE(tool->is_done());
    CHECK_FALSE(hand.key(*tool, Key::Backspace)); // nothing left to take back
    hand.cancel(*tool);
    CHECK(tool->is_done());
}

TEST_CASE("a polygon that crosses itself is refused with its place and its points stay") {
    Hand hand(new_chart());
    TraceDesk desk{TraceWhat::Shield, TraceHow::Polygon};
    const auto tool = make_trace_tool(desk);
    for (const Vec2 corner : {Vec2{0, 0}, {10, 10}, {10, 0}, {0, 10}})
        hand.click(*tool, corner);
    hand.key(*tool, Key::Enter);
    CHECK(hand.editor.chart().shields.empty());
    REQUIRE(hand.editor.notice());
    CHECK(hand.editor.notice()->text.find("x 5.00, y 5.00") != std::string::npos);
    hand.key(*tool, Key::Backspace);
    hand.key(*tool, Key::Enter);
    CHECK(hand.editor.chart().shields.size() == 1);
}

TEST_CASE("a body makes a part and the pads drawn next are its own") {
    for (const Side side : {Side::Top, Side::Bottom}) {
        Hand hand(new_chart(), side);
        TraceDesk desk{TraceWhat::Body, TraceHow::Rectangle};
        const auto tool = make_trace_tool(desk);
        hand.drag(*tool, {2, 2}, {6, 4});
        REQUIRE(hand.editor.chart().parts.size() == 1);
        CHECK(hand.key(*tool, Key::Digit4));
        hand.drag(*tool, {1.5, 2.5}, {2.5, 3.5});
        hand.drag(*tool, {5.5, 2.5}, {6.5, 3.5});
        const document::Footprint& part = hand.editor.chart().parts[0];
        CHECK(part.placement.side == side);
        REQUIRE(part.pads.size() == 2);
        CHECK(part.pads[1].number.empty()); // the order of drawing is no order of pins
        CHECK(part.body->shape.width_mm == doctest::Approx(4));
        const Vec2 seen = scene::scene_from_board(document::board_from_part(part.placement)(part.pads[0].at), side);
        CHECK(seen.x == doctest::Approx(2));
        CHECK(seen.y == doctest::Approx(3));
        CHECK(hand.editor.history().steps().size() == 4);
    }
}

TEST_CASE("a body drawn at an angle turns its part") {
    Hand hand(new_chart());
    TraceDesk desk{TraceWhat::Body, TraceHow::Turned, true, 0.0};
    const auto tool = make_trace_tool(desk);
    hand.click(*tool, {0, 0});
    hand.click(*tool, {4, -4}); // up and to the right: 45 degrees counter-clockwise
    hand.click(*tool, {5, -3});
    REQUIRE(hand.editor.chart().parts.size() == 1);
    const document::Footprint& part = hand.editor.chart().parts[0];
    CHECK(part.placement.turn.degrees() == doctest::Approx(45));
    CHECK(part.body->turn.degrees() == doctest::Approx(0));
    CHECK(part.body->shape.width_mm == doctest::Approx(std::sqrt(32.0)));
    CHECK(part.body->shape.height_mm == doctest::Approx(std::sqrt(2.0)));
}

TEST_CASE("a tool in hand meets what lies on the side looked at after the board was flipped") {
    Chart chart = square_board();
    chart = document::add_part(chart, part_of("chip-1608M", "R1", {10, 8})).value();
    Hand hand(chart);
    TraceDesk desk{TraceWhat::KeepOut, TraceHow::Polygon, true, 0.0};
    const auto tool = make_trace_tool(desk);
    const auto met = [&](Vec2 board) {
        scene::Scene shown;
        hand.with([&](const ToolContext& c, const Pointer& p) { tool->overlay(c, p, shown); }, hand.seen(board));
        return std::any_of(shown.texts.begin(), shown.texts.end(),
                           [](const scene::Text& text) { return text.text.find("R1") != std::string::npos; });
    };
    CHECK(met({10, 8}));
    hand.flip();
    CHECK_FALSE(met({10, 8}));
    hand.flip();
    CHECK(met({10, 8}));
}

TEST_CASE("loose pads become those of the body drawn round them") {
    Hand hand(new_chart());
    TraceDesk desk{TraceWhat::Pad, TraceHow::Rectangle};
    const auto tool = make_trace_tool(desk);
    hand.drag(*tool, {1, 1}, {2, 2});
    hand.drag(*tool, {4, 1}, {5, 2});
    hand.drag(*tool, {9, 1}, {10, 2});
    CHECK(hand.editor.chart().parts.size() == 3);
    hand.key(*tool, Key::Digit3);
    hand.drag(*tool, {0.5, 0.5}, {5.5, 2.5});
    REQUIRE(hand.editor.chart().parts.size() == 2);
    const document::Footprint& part = hand.editor.chart().parts[1];
    REQUIRE(part.pads.size() == 2);
    CHECK(document::board_from_part(part.placement)(part.pads[0].at).x == doctest::Approx(1.5));
}

TEST_CASE("pads join the body just drawn up to its own length away and stay loose beyond") {
    Hand hand(new_chart());
    TraceDesk desk{TraceWhat::Body, TraceHow::Rectangle};
    const auto tool = make_trace_tool(desk);
    hand.drag(*tool, {1, 1}, {4, 3});
    hand.key(*tool, Key::Digit4);
    hand.drag(*tool, {6, 1}, {7, 2}); // within 3 mm of it
    REQUIRE(hand.editor.chart().parts.size() == 1);
    CHECK(hand.editor.chart().parts[0].pads.size() == 1);
    hand.drag(*tool, {12, 1}, {13, 2});
    REQUIRE(hand.editor.chart().parts.size() == 2);
    CHECK(hand.editor.chart().parts[0].pads.size() == 1);
    CHECK(hand.editor.chart().parts[1].name.empty());
}

TEST_CASE("three points of its edge give a round pad") {
    // The circle through (0,0), (2,0) and (1,1) has its middle at (1,0): own arithmetic.
    const std::vector<Vec2> points{{0, 0}, {2, 0}, {1, 1}};
    const auto shape = traced_shape(TraceHow::Round, points);
    REQUIRE(shape);
    CHECK(shape->centre.x == doctest::Approx(1));
    CHECK(shape->centre.y == doctest::Approx(0));
    CHECK(shape->width == doctest::Approx(2));
    const std::vector<Vec2> line{{0, 0}, {1, 1}, {2, 2}};
    CHECK_FALSE(traced_shape(TraceHow::Round, line));
    Hand hand(new_chart());
    TraceDesk desk{TraceWhat::Pad, TraceHow::Round};
    const auto tool = make_trace_tool(desk);
    for (const Vec2 p : points)
        hand.click(*tool, p);
    REQUIRE(hand.editor.chart().parts.size() == 1);
    CHECK(hand.editor.chart().parts[0].pads[0].shape.kind == ShapeKind::Round);
}

TEST_CASE("a cut-out needs an outline round it") {
    Hand hand(new_chart());
    TraceDesk desk{TraceWhat::CutOut, TraceHow::Rectangle};
    const auto tool = make_trace_tool(desk);
    hand.drag(*tool, {1, 1}, {3, 3});
    CHECK(hand.editor.notice()->text == "Draw the board outline first; a cut-out lies in it.");
    Hand with_board(square_board());
    const auto second = make_trace_tool(desk);
    with_board.drag(*second, {1, 1}, {3, 3});
    CHECK(with_board.editor.chart().board.outline->holes.size() == 1);
    with_board.drag(*second, {18, 1}, {23, 3});
    CHECK(with_board.editor.chart().board.outline->holes.size() == 1);
}

TEST_CASE("a point near a corner snaps to it and says so and Ctrl holds that off") {
    Hand hand(square_board());
    TraceDesk desk{TraceWhat::KeepOut, TraceHow::Rectangle};
    const auto tool = make_trace_tool(desk);
    const scene::Scene over = hand.overlay(*tool, {19.93, 14.9});
    REQUIRE_FALSE(over.texts.empty());
    CHECK(over.texts.back().text == "corner of the board's outline");
    hand.ctrl = true;
    CHECK(hand.overlay(*tool, {19.93, 14.9}).texts.empty());
    hand.ctrl = false;
    hand.drag(*tool, {15, 10}, {19.93, 14.9});
    REQUIRE(hand.editor.chart().keep_outs.size() == 1);
    CHECK(geometry::bounds(hand.editor.chart().keep_outs[0].outline).max == Vec2{20, 15});
}

TEST_CASE("a pad's corner stays beside the edge of its body and meets the corner of another pad") {
    Hand hand(square_board());
    TraceDesk desk{TraceWhat::Body, TraceHow::Rectangle};
    const auto tool = make_trace_tool(desk);
    hand.drag(*tool, {5, 5}, {8, 9});
    desk.what = TraceWhat::Pad;
    CHECK(hand.overlay(*tool, {5.05, 8}).texts.empty());
    hand.drag(*tool, {4.5, 6}, {5.1, 6.5}); // 4 px past the edge
    REQUIRE(hand.editor.chart().parts.size() == 1);
    const document::Footprint& part = hand.editor.chart().parts[0];
    REQUIRE(part.pads.size() == 1);
    CHECK(part.pads[0].shape.width_mm == doctest::Approx(0.6));
    CHECK(hand.overlay(*tool, {5.08, 6.48}).texts.back().text.find("corner of a pad") == 0);
}

TEST_CASE("a rectangle that a snap left without area says so and how snapping is held off") {
    Hand hand(square_board());
    TraceDesk desk{TraceWhat::KeepOut, TraceHow::Rectangle};
    const auto tool = make_trace_tool(desk);
    hand.drag(*tool, {19.9, 3}, {20.15, 6}); // both within reach of the right edge
    REQUIRE(hand.editor.notice());
    CHECK(hand.editor.notice()->text ==
          "This rectangle has no area. A point was snapped (edge of the board's outline); hold Ctrl to place it "
          "freely.");
    hand.ctrl = true;
    hand.drag(*tool, {19.9, 3}, {20.15, 6});
    CHECK(hand.editor.chart().keep_outs.size() == 1);
    hand.drag(*tool, {3, 3}, {3, 6});
    CHECK(hand.editor.notice()->text == "This rectangle has no area.");
}

TEST_CASE("a corner of the board is dragged in one step and Escape drops a drag") {
    Hand hand(square_board());
    TraceDesk how;
    ReshapeDesk desk;
    const auto tool = make_reshape_tool(desk, how);
    hand.click(*tool, {10, 0});
    REQUIRE(desk.chosen);
    CHECK(desk.chosen->what == TraceWhat::Outline);
    hand.drag(*tool, {20, 15}, {18, 12});
    CHECK(hand.editor.chart().board.outline->outer[2] == Vec2{18, 12});
    CHECK(hand.editor.history().steps().size() == 2);
    hand.with([&](const ToolContext& c, const Pointer& p) { tool->press(c, p); }, {18, 12});
    hand.with([&](const ToolContext& c, const Pointer& p) { tool->move(c, p); }, {10, 10});
    CHECK(hand.editor.has_preview());
    hand.cancel(*tool);
    CHECK_FALSE(hand.editor.has_preview());
    CHECK(hand.editor.history().steps().size() == 2);
    CHECK(desk.chosen);
}

TEST_CASE("a corner is added at the middle of a side and taken away with Delete") {
    Hand hand(square_board());
    TraceDesk how;
    ReshapeDesk desk;
    const auto tool = make_reshape_tool(desk, how);
    hand.click(*tool, {5, 0});
    hand.drag(*tool, {20, 7.5}, {22, 7.5}); // the middle of the right side
    CHECK(hand.editor.chart().board.outline->outer.size() == 5);
    CHECK(geometry::area(*hand.editor.chart().board.outline) == doctest::Approx(315));
    CHECK(hand.key(*tool, Key::Delete)); // the one just added
    CHECK(hand.editor.chart().board.outline->outer.size() == 4);
    CHECK(geometry::area(*hand.editor.chart().board.outline) == doctest::Approx(300));
}

TEST_CASE("a rectangle stays one while a corner or a side is dragged") {
    Chart chart = new_chart();
    document::Footprint part = part_of("chip-1608M", "R1", {10, 10});
    part.placement.turn = Angle::degrees(90);
    chart = document::add_part(chart, part).value();
    const OutlineRef body{TraceWhat::Body, part.id, 0};
    const auto view = view_of(chart, body);
    REQUIRE(view);
    const Vec2 across = view->ring[2];
    const auto moved = move_vertex(chart, body, 0, view->ring[0] + (view->ring[0] - across) * 0.5);
    REQUIRE(moved);
    const document::Footprint& after = moved->parts[0];
    CHECK(after.body->shape.kind == ShapeKind::Rectangle);
    CHECK(after.body->shape.width_mm == doctest::Approx(1.5 * part.body->shape.width_mm));
    CHECK(geometry::distance(view_of(*moved, body)->ring[2], across) < 1e-6);
    CHECK(after.family.empty());
    const Vec2 side = (view->ring[1] + view->ring[2]) / 2;
    const Vec2 out = (side - Vec2{10, 10}) * 2.0 + Vec2{10, 10};
    const auto wider = move_edge(chart, body, 1, side, out);
    REQUIRE(wider);
    CHECK(wider->parts[0].body->shape.kind == ShapeKind::Rectangle);
    CHECK(wider->parts[0].body->shape.width_mm == doctest::Approx(1.5 * part.body->shape.width_mm));
    CHECK(wider->parts[0].body->shape.height_mm == doctest::Approx(part.body->shape.height_mm));
}

TEST_CASE("a vertex added to a rectangle makes it a polygon of the same area") {
    const Chart chart = row_of_chips();
    const OutlineRef pad{TraceWhat::Pad, document::Id{"r2"}, 0};
    const auto view = view_of(chart, pad);
    const auto more = add_vertex(chart, pad, 0, geometry::lerp(view->ring[0], view->ring[1], 0.5));
    REQUIRE(more);
    const document::Pad& after = part_named(*more, "R2").pads[0];
    CHECK(after.shape.kind == ShapeKind::Polygon);
    CHECK(after.shape.points.size() == 5);
    CHECK(std::abs(geometry::signed_area(view_of(*more, pad)->ring)) ==
          doctest::Approx(std::abs(geometry::signed_area(view->ring))));
    CHECK_FALSE(remove_vertex(remove_vertex(remove_vertex(*more, pad, 0).value(), pad, 0).value(), pad, 0));
}

TEST_CASE("a change that would make an outline cross itself is refused") {
    const Chart chart = square_board();
    CHECK_FALSE(move_vertex(chart, {TraceWhat::Outline, {}, 0}, 0, {25, 7}));
    const auto holed = document::set_outline(
        chart, geometry::Polygon{chart.board.outline->outer, {{{15, 10}, {18, 10}, {18, 13}, {15, 13}}}});
    CHECK_FALSE(move_vertex(*holed, {TraceWhat::Outline, {}, 0}, 2, {12, 9})); // the cut-out would lie outside
}

/// A keep-out of 10 x 8 mm with a window of 4 x 3 mm in it, and a shield of the same shape 20 mm to the right.
Chart holed_areas() {
    const auto area = [](double x) {
        return geometry::Polygon{{{x, 0}, {x + 10, 0}, {x + 10, 8}, {x, 8}},
                                 {{{x + 3, 3}, {x + 7, 3}, {x + 7, 6}, {x + 3, 6}}}};
    };
    document::KeepOut keep_out;
    keep_out.id = document::Id{"keep"};
    keep_out.name = "keep-out 1";
    keep_out.outline = area(0);
    document::Shield shield;
    shield.id = document::Id{"tape"};
    shield.outline = area(20);
    return document::put(document::put(new_chart(), keep_out).value(), shield).value();
}

TEST_CASE("a hole is drawn into the smallest keep-out or shield round it, each in one step") {
    const Chart start = holed_areas();
    Hand hand(start);
    TraceDesk desk{TraceWhat::Hole, TraceHow::Rectangle, false, 0.0};
    const auto tool = make_trace_tool(desk);
    const auto holes = [&] { return hand.editor.chart().keep_outs[0].outline.holes.size(); };
    hand.drag(*tool, {8, 1}, {9, 2});
    CHECK(holes() == 2);
    CHECK(hand.editor.history().current().label == "Draw a hole in keep-out 1");
    CHECK(hand.key(*tool, Key::P));
    for (const Vec2 at : {Vec2{0.5, 0.5}, Vec2{1.5, 0.5}, Vec2{1, 1.5}})
        hand.click(*tool, at);
    CHECK(hand.key(*tool, Key::Enter));
    CHECK(hand.key(*tool, Key::O));
    for (const Vec2 at :
         {Vec2{29.2, 1}, Vec2{28, 2.2}, Vec2{26.8, 1}}) // a circle of 1.2 about 28, 1 would leave the shield
        hand.click(*tool, at);
    CHECK(hand.editor.notice()->text.find("inside a keep-out or a shield") != std::string::npos);
    for (const Vec2 at : {Vec2{28.8, 1}, Vec2{28, 1.8}, Vec2{27.2, 1}})
        hand.click(*tool, at);
    CHECK(holes() == 3);
    REQUIRE(hand.editor.chart().shields[0].outline.holes.size() == 2);
    // By pi r^2; the polygon lies inside the circle.
    CHECK(geometry::area(geometry::Polygon{hand.editor.chart().shields[0].outline.holes[1], {}}) ==
          doctest::Approx(2.0106).epsilon(0.01));
    for (int i = 0; i < 3; ++i)
        hand.editor.undo();
    CHECK(hand.editor.chart() == start);
}

TEST_CASE("a hole that crosses another or lies in nothing is refused and says why") {
    Hand hand(holed_areas());
    TraceDesk desk{TraceWhat::Hole, TraceHow::Rectangle, false, 0.0};
    const auto tool = make_trace_tool(desk);
    hand.drag(*tool, {4, 4}, {9, 5}); // over the hole that is there
    CHECK(hand.editor.notice()->text.find("With this hole keep-out 1") == 0);
    hand.drag(*tool, {14, 4}, {16, 5}); // between the two areas
    CHECK(hand.editor.notice()->text.find("of the board it is a cut-out") != std::string::npos);
    CHECK(hand.editor.chart() == holed_areas());
}

TEST_CASE("the hole of a keep-out is dragged, gets a corner, loses one and is closed, each in one step") {
    Hand hand(holed_areas());
    TraceDesk how;
    ReshapeDesk desk;
    const auto tool = make_reshape_tool(desk, how);
    const auto hole = [&] { return hand.editor.chart().keep_outs[0].outline.holes.at(0); };
    hand.click(*tool, {5, 4.5});
    REQUIRE(desk.chosen);
    CHECK(is_hole(*desk.chosen));
    CHECK(words_of(hand.editor.chart(), *desk.chosen) == "a hole of keep-out 1");
    hand.drag(*tool, {7, 6}, {8, 7});
    CHECK(hole()[2] == Vec2{8, 7});
    CHECK(hand.editor.history().current().label == "Reshape a hole of keep-out 1");
    hand.drag(*tool, {5, 3}, {5, 2}); // the middle of its upper side
    CHECK(hole().size() == 5);
    CHECK(hand.key(*tool, Key::Delete)); // the one just added
    CHECK(hole().size() == 4);
    CHECK(hand.editor.chart().keep_outs[0].outline.outer == holed_areas().keep_outs[0].outline.outer);
    CHECK(hand.key(*tool, Key::Delete)); // no corner chosen: the hole itself
    REQUIRE(hand.editor.chart().keep_outs.size() == 1);
    CHECK(hand.editor.chart().keep_outs[0].outline.holes.empty());
    CHECK(hand.editor.history().position() == 4);
    for (int i = 0; i < 4; ++i)
        hand.editor.undo();
    CHECK(hand.editor.chart() == holed_areas());
}

TEST_CASE("the hole of a shield is reshaped as that of a keep-out") {
    const Chart chart = holed_areas();
    const OutlineRef hole{TraceWhat::Shield, document::Id{"tape"}, 1};
    CHECK(outline_at(chart, {25, 4.5}, Side::Top, 0.1) == hole);
    CHECK(outline_at(chart, {21, 1}, Side::Top, 0.1) == OutlineRef{TraceWhat::Shield, document::Id{"tape"}, 0});
    const Chart moved = move_vertex(chart, hole, 0, {22, 2}).value();
    CHECK(moved.shields[0].outline.holes[0][0] == Vec2{22, 2});
    CHECK(move_edge(chart, hole, 0, {25, 3}, {25, 2}).value().shields[0].outline.holes[0][1] == Vec2{27, 2});
    CHECK(remove_outline(chart, hole).value().shields[0].outline.holes.empty());
    CHECK_FALSE(view_of(chart, {TraceWhat::Shield, document::Id{"tape"}, 2}));
}

TEST_CASE("a hole stays within its area") {
    const Chart chart = holed_areas();
    const OutlineRef hole{TraceWhat::KeepOut, document::Id{"keep"}, 1}, edge{TraceWhat::KeepOut, hole.id, 0};
    CHECK_FALSE(move_vertex(chart, hole, 2, {12, 7}));
    CHECK_FALSE(move_vertex(chart, edge, 2, {4, 4}));
    CHECK_FALSE(move_vertex(chart, hole, 2, {2, 4})); // would cross itself
    CHECK(move_vertex(chart, hole, 2, {9, 7}));
}

TEST_CASE("the mark on record stays at its spot when the body is reshaped") {
    Chart chart = square_board();
    document::Footprint part = part_of("soic-8", "U7", {10, 8});
    part.orientation.state = document::RecordState::Recorded;
    part.orientation.bearing = Angle::degrees(135);
    chart = document::add_part(chart, part).value();
    const OutlineRef body{TraceWhat::Body, chart.parts[0].id, 0};
    const auto view = view_of(chart, body);
    REQUIRE(view);
    const Vec2 spot = document::board_from_part(chart.parts[0].placement)(*document::mark_spot(chart.parts[0]));
    // The lower side three millimetres farther down.
    std::size_t lower = 0;
    for (std::size_t i = 0; i < 4; ++i)
        if (view->ring[i].y > 8 && view->ring[(i + 1) % 4].y > 8) lower = i;
    const Vec2 side = geometry::lerp(view->ring[lower], view->ring[(lower + 1) % 4], 0.5);
    const auto longer = move_edge(chart, body, lower, side, side + Vec2{0, 3});
    REQUIRE(longer);
    const document::Footprint& after = longer->parts[0];
    const Vec2 centre = document::board_from_part(after.placement)(document::centre_in_part(after));
    CHECK(centre.y == doctest::Approx(9.5));
    CHECK(std::abs((geometry::bearing(spot - centre) - after.orientation.bearing).signed_turn().degrees()) < 1e-6);
    CHECK(after.orientation.bearing.degrees() < 135.0);
}

TEST_CASE("a locked part keeps its shape") {
    Chart chart = row_of_chips();
    chart = document::set_locked(chart, std::vector{document::Id{"r2"}}, true).value();
    CHECK_FALSE(move_vertex(chart, {TraceWhat::Pad, document::Id{"r2"}, 0}, 0, {4, 1}));
    CHECK_FALSE(remove_outline(chart, {TraceWhat::Body, document::Id{"r2"}, 0}));
}

TEST_CASE("what an outline is can be said later") {
    Chart chart = square_board();
    const auto drawn =
        with_traced(chart, TraceWhat::KeepOut,
                    traced_shape(TraceHow::Rectangle, std::vector<Vec2>{{2, 2}, {5, 4}}).value(), Side::Top);
    REQUIRE(drawn);
    const OutlineRef ref{TraceWhat::KeepOut, drawn->thing, 0};
    const auto shield = change_meaning(drawn->chart, ref, TraceWhat::Shield);
    REQUIRE(shield);
    CHECK(shield->chart.keep_outs.empty());
    CHECK(shield->chart.shields.size() == 1);
    const auto hole = change_meaning(shield->chart, shield->made, TraceWhat::CutOut);
    REQUIRE(hole);
    CHECK(hole->chart.board.outline->holes.size() == 1);
    const auto body = change_meaning(hole->chart, hole->made, TraceWhat::Body);
    REQUIRE(body);
    CHECK(body->chart.board.outline->holes.empty());
    REQUIRE(body->chart.parts.size() == 1);
    const auto pad = change_meaning(body->chart, body->made, TraceWhat::Pad);
    REQUIRE(pad);
    REQUIRE(pad->chart.parts.size() == 1);
    CHECK(pad->chart.parts[0].pads.size() == 1);
    CHECK_FALSE(pad->chart.parts[0].body);
}

TEST_CASE("a body taken for a keep-out goes back to its part when it is a body again, and to no other") {
    Chart chart = square_board();
    chart = document::add_part(chart, part_of("chip-1608M", "R1", {10, 8})).value();
    const OutlineRef ref{TraceWhat::Body, chart.parts[0].id, 0};
    const geometry::Ring before = document::body_on_board(chart.parts[0]);
    const auto area = change_meaning(chart, ref, TraceWhat::KeepOut);
    REQUIRE(area);
    CHECK_FALSE(area->chart.parts[0].body);
    const auto back = change_meaning(area->chart, area->made, TraceWhat::Body);
    REQUIRE(back);
    CHECK(back->made == ref);
    CHECK(back->chart.keep_outs.empty());
    REQUIRE(back->chart.parts.size() == 1);
    CHECK(back->chart.parts[0].pads == chart.parts[0].pads);
    CHECK(geometry::bounds(document::body_on_board(back->chart.parts[0])) == geometry::bounds(before));
    // A body beside it, or one far too small for these pads, makes a part of its own.
    const auto drawn = [&](Vec2 from, Vec2 to) {
        const std::vector<Vec2> corners{from, to};
        return with_traced(area->chart, TraceWhat::Body, traced_shape(TraceHow::Rectangle, corners).value(), Side::Top);
    };
    CHECK(drawn({14, 7}, {16, 9})->chart.parts.size() == 2);
    CHECK(drawn({9.95, 7.95}, {10.05, 8.05})->chart.parts.size() == 2);
    CHECK(drawn({9.4, 7.7}, {10.5, 8.4})->chart.parts.size() == 1);
    const Chart locked = document::set_locked(area->chart, std::vector{ref.id}, true).value();
    CHECK_FALSE(change_meaning(locked, area->made, TraceWhat::Body));
}

TEST_CASE("the holes of an area go along where it becomes another area and hold it back from becoming less") {
    Chart chart = square_board();
    document::KeepOut area;
    area.id = {"keep-1"};
    area.outline = {geometry::rectangle(4, 3), {geometry::rectangle(1, 1)}};
    area.side = Side::Top;
    chart.keep_outs.add(area);
    const auto shield = change_meaning(chart, {TraceWhat::KeepOut, area.id, 0}, TraceWhat::Shield);
    REQUIRE(shield);
    CHECK(shield->chart.shields[0].outline.holes.size() == 1);
    const auto body = change_meaning(shield->chart, shield->made, TraceWhat::Body);
    REQUIRE_FALSE(body);
    CHECK(body.error().message.find("1 hole") != std::string::npos);
}

TEST_CASE("what is under the pointer is the smallest outline and the board only at its edge") {
    Chart chart = square_board();
    chart = document::add_part(chart, part_of("chip-1608M", "R1", {10, 8})).value();
    CHECK(outline_at(chart, {10, 8}, Side::Top, 0.05)->what == TraceWhat::Body);
    CHECK_FALSE(outline_at(chart, {3, 3}, Side::Top, 0.05));
    CHECK(outline_at(chart, {0.02, 7}, Side::Top, 0.05)->what == TraceWhat::Outline);
    CHECK_FALSE(outline_at(chart, {10, 8}, Side::Bottom, 0.05));
}

TEST_CASE("a pattern in mm is not put among the units of a trace") {
    Chart chart = new_chart();
    chart.scale.reset();
    Hand hand(chart);
    const SnapDesk snap;
    const auto tool = make_place_tool(part_of("chip-1608M", "R1", {}), snap);
    hand.click(*tool, {3, 3});
    CHECK(hand.editor.chart().parts.empty());
    REQUIRE(hand.editor.notice());
    CHECK(hand.editor.notice()->text.find("no scale") != std::string::npos);
}

TEST_CASE("tracing on a chart without a scale works and says units") {
    Chart chart = new_chart();
    chart.scale.reset();
    Hand hand(chart);
    TraceDesk desk{TraceWhat::Body, TraceHow::Rectangle};
    const auto tool = make_trace_tool(desk);
    hand.click(*tool, {0, 0});
    const scene::Scene over = hand.overlay(*tool, {4, 2});
    REQUIRE_FALSE(over.texts.empty());
    CHECK(over.texts.front().text == "4.00 x 2.00 units");
    hand.click(*tool, {4, 2});
    CHECK(hand.editor.chart().parts.size() == 1);
}

} // namespace
} // namespace padchart::app
