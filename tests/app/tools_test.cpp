#include "support.hpp"

#include "app/heat_desk.hpp"
#include "app/selection_edits.hpp"
#include "app/tools/measure_tool.hpp"
#include "app/tools/part_tools.hpp"
#include "app/tools/pin_tool.hpp"

namespace padchart::app {
namespace {

using document::Id;
using document::Side;
using geometry::Vec2;

const SnapDesk kSnap;

/// A hand on a canvas of 40 px a mm.
class Bench {
public:
    explicit Bench(document::Chart chart, Side side = Side::Top) : side_(side) { editor.start_new(std::move(chart)); }

    Editor editor;

    void press(Tool& tool, Vec2 scene_mm) {
        with([&](const ToolContext& c) { tool.press(c, at(scene_mm)); });
    }
    void move(Tool& tool, Vec2 scene_mm) {
        with([&](const ToolContext& c) { tool.move(c, at(scene_mm)); });
    }
    void release(Tool& tool, Vec2 scene_mm) {
        with([&](const ToolContext& c) { tool.release(c, at(scene_mm)); });
    }
    void drag(Tool& tool, Vec2 from, Vec2 to) {
        press(tool, from);
        move(tool, geometry::lerp(from, to, 0.5));
        move(tool, to);
        release(tool, to);
    }
    void click(Tool& tool, Vec2 at_mm) {
        press(tool, at_mm);
        release(tool, at_mm);
    }
    bool key(Tool& tool, Chord chord) {
        bool used = false;
        with([&](const ToolContext& c) { used = tool.key(c, chord); });
        return used;
    }
    bool cancel(Tool& tool) {
        bool used = false;
        with([&](const ToolContext& c) { used = tool.cancel(c); });
        return used;
    }
    scene::Scene overlay(Tool& tool, Vec2 at_mm) {
        scene::Scene made;
        with([&](const ToolContext& c) { tool.overlay(c, at(at_mm), made); });
        return made;
    }
    bool shift = false, ctrl = false;

private:
    [[nodiscard]] Pointer at(Vec2 scene_mm) const { return {scene_mm, 40.0, 1.0, shift, ctrl}; }

    template <class Action>
    void with(Action action) {
        scene::ViewOptions options;
        options.seen_from = side_;
        options.selection = editor.selection();
        const scene::Scene scene = scene::chart_scene(editor.shown(), {}, options);
        const scene::HitTest hits(scene);
        action(ToolContext{editor, side_, scene, hits});
    }

    Side side_;
};

TEST_CASE("a click selects and a click beside selects nothing") {
    Bench bench(row_of_chips());
    const auto tool = make_select_tool();
    bench.click(*tool, {5, 0});
    CHECK(bench.editor.selection() == std::vector{Id{"r2"}});
    bench.click(*tool, {5, 8});
    CHECK(bench.editor.selection().empty());
}

TEST_CASE("a locked part shows no handle to turn it by, and none is met where it would be") {
    Bench bench(row_of_chips());
    const auto tool = make_select_tool();
    bench.click(*tool, {5, 0});
    CHECK_FALSE(bench.overlay(*tool, {20, 20}).items.empty());
    lock_or_unlock_selected(bench.editor);
    CHECK(bench.overlay(*tool, {20, 20}).items.empty());
    bench.shift = true;
    bench.click(*tool, {10, 0}); // with a free one beside it there is something to turn
    CHECK_FALSE(bench.overlay(*tool, {20, 20}).items.empty());
}

TEST_CASE("a pin tells the pad it hit and waits on until its place is taken") {
    Bench bench(row_of_chips());
    std::vector<PinnedPlace> seen;
    const auto tool = make_pin_tool("Click a pad", [&](const PinnedPlace& place) {
        seen.push_back(place);
        return place.pad_index.has_value();
    });
    CHECK(tool->awaits_click());
    bench.click(*tool, {7.5, 4});
    REQUIRE(seen.size() == 1);
    CHECK(seen[0].part.is_empty());
    CHECK_FALSE(tool->is_done());
    const document::Footprint& part = part_named(bench.editor.chart(), "R2");
    bench.click(*tool, document::board_from_part(part.placement)(part.pads[1].at));
    REQUIRE(seen.size() == 2);
    CHECK(seen[1].part == Id{"r2"});
    CHECK(seen[1].pad_index == 1);
    CHECK(tool->is_done());
}

TEST_CASE("Enter before any arrow shows the cross that arrows lead, and Enter once more puts the pin there") {
    Bench bench(row_of_chips());
    std::vector<Vec2> seen;
    const auto tool = make_pin_tool("Click", [&](const PinnedPlace& place) {
        seen.push_back(place.at);
        return true;
    });
    CHECK(bench.key(*tool, {Key::Enter}));
    CHECK(seen.empty());
    CHECK(tool->is_led_by_keys());
    REQUIRE(bench.editor.notice());
    CHECK(bench.editor.notice()->text == "Arrows lead the cross, Enter puts it down there.");
    CHECK(bench.key(*tool, shift(Key::Right)));
    CHECK(bench.key(*tool, {Key::Enter}));
    CHECK(seen == std::vector{Vec2{5, 0}});
    CHECK(tool->is_done());
}

TEST_CASE("Enter pins to the selected part where the pin may go there") {
    Bench bench(row_of_chips());
    const auto nowhere = [](const PinnedPlace&) { return false; };
    bool is_entered = false;
    const auto tool = make_pin_tool("Click", nowhere, [&] { return is_entered = true; });
    CHECK_FALSE(bench.key(*tool, {Key::A}));
    CHECK(bench.key(*tool, {Key::Enter}));
    CHECK(is_entered);
    CHECK(tool->is_done());
}

TEST_CASE("with Shift a click adds and takes out again") {
    Bench bench(row_of_chips());
    const auto tool = make_select_tool();
    bench.click(*tool, {0, 0});
    bench.shift = true;
    bench.click(*tool, {5, 0});
    CHECK(bench.editor.selection() == std::vector{Id{"r1"}, Id{"r2"}});
    bench.click(*tool, {0, 0});
    CHECK(bench.editor.selection() == std::vector{Id{"r2"}});
}

TEST_CASE("a drag moves the part once and by as much as the hand moved") {
    Bench bench(row_of_chips());
    const auto tool = make_select_tool();
    const std::size_t steps = bench.editor.history().steps().size();
    bench.drag(*tool, {0, 0}, {2, 1});
    CHECK(part_named(bench.editor.chart(), "R1").placement.at.x == doctest::Approx(2));
    CHECK(part_named(bench.editor.chart(), "R1").placement.at.y == doctest::Approx(1));
    CHECK(bench.editor.history().steps().size() == steps + 1);
}

TEST_CASE("a drag on the bottom side moves the part where the hand goes") {
    Bench bench(row_of_chips(), Side::Bottom);
    const auto tool = make_select_tool();
    bench.drag(*tool, {-5, 3}, {-4, 3}); // to the right on the mirrored picture
    CHECK(part_named(bench.editor.chart(), "R9").placement.at.x == doctest::Approx(4)); // to smaller x on the board
}

TEST_CASE("all of the selection moves together") {
    Bench bench(row_of_chips());
    bench.editor.select({Id{"r1"}, Id{"r3"}});
    const auto tool = make_select_tool();
    bench.drag(*tool, {10, 0}, {10, -3});
    CHECK(part_named(bench.editor.chart(), "R1").placement.at.y == doctest::Approx(-3));
    CHECK(part_named(bench.editor.chart(), "R3").placement.at.y == doctest::Approx(-3));
    CHECK(part_named(bench.editor.chart(), "R2").placement.at.y == 0);
}

TEST_CASE("a click on one of several leaves that one, a drag takes all along") {
    Bench bench(row_of_chips());
    bench.editor.select({Id{"r1"}, Id{"r3"}});
    const auto tool = make_select_tool();
    bench.drag(*tool, {0, 0}, {0, 1});
    CHECK(bench.editor.selection() == std::vector{Id{"r1"}, Id{"r3"}});
    bench.click(*tool, {0, 1});
    CHECK(bench.editor.selection() == std::vector{Id{"r1"}});
    CHECK(bench.editor.history().current().label == "Move R1 and R3");
}

TEST_CASE("what lies on the other side has no handle to be turned by") {
    Bench bench(row_of_chips());
    bench.editor.select({Id{"r9"}});
    const auto tool = make_select_tool();
    const geometry::Box box = bench.editor.selection_bounds();
    CHECK(bench.overlay(*tool, {0, 0}).items.empty());
    bench.drag(*tool, {box.centre().x, box.min.y - 28.0 / 40.0}, {0, -4});
    CHECK(bench.editor.is_saved());
}

TEST_CASE("a drag onto another part or off the board is told, what was so before is not") {
    document::Chart chart = row_of_chips();
    chart.board.outline = geometry::Polygon{{{-3, -8}, {13, -8}, {13, 8}, {-3, 8}}, {}};
    Bench bench(chart);
    const auto tool = make_select_tool();
    bench.ctrl = false;
    bench.drag(*tool, {0, 0}, {4.5, 0.2});
    REQUIRE(bench.editor.notice());
    CHECK(bench.editor.notice()->text == "R1 lies on R2.");
    bench.editor.select({Id{"r1"}, Id{"r2"}});
    bench.drag(*tool, {5.4, 0}, {5.4, 3});
    CHECK_FALSE(bench.editor.notice());
    bench.editor.select({});
    bench.drag(*tool, {10, 0}, {20, 0});
    REQUIRE(bench.editor.notice());
    CHECK(bench.editor.notice()->text == "R3 lies off the board.");
}

TEST_CASE("two clicks measure a distance and a pitch as a drag does") {
    Bench bench(row_of_chips());
    MeasureDesk desk;
    for (const MeasureKind kind : {MeasureKind::Distance, MeasureKind::Pitch}) {
        const auto clicked = make_measure_tool(desk, kind);
        bench.click(*clicked, {0, 0});
        CHECK(clicked->hint() == "Click where it ends, Esc drops it");
        bench.click(*clicked, {5, 0});
        const auto dragged = make_measure_tool(desk, kind);
        bench.drag(*dragged, {0, 0}, {5, 0});
        REQUIRE(desk.pinned.size() == 2);
        CHECK(desk.pinned[0].points == desk.pinned[1].points);
        CHECK(desk.pinned[0].to == desk.pinned[1].to);
        CHECK(desk.pinned[0].steps == desk.pinned[1].steps);
        desk.pinned.clear();
        bench.click(*clicked, {0, 0});
        CHECK(bench.cancel(*clicked));
        CHECK_FALSE(clicked->is_done());
        CHECK(desk.pinned.empty());
    }
}

TEST_CASE("a trembling click moves nothing") {
    Bench bench(row_of_chips());
    const auto tool = make_select_tool();
    bench.drag(*tool, {0, 0}, {0.05, 0.05}); // 2 px
    CHECK(bench.editor.is_saved());
}

TEST_CASE("Escape in the middle of a drag drops it") {
    Bench bench(row_of_chips());
    const auto tool = make_select_tool();
    bench.press(*tool, {0, 0});
    bench.move(*tool, {3, 3});
    CHECK(bench.editor.has_preview());
    CHECK(bench.cancel(*tool));
    bench.release(*tool, {3, 3});
    CHECK(part_named(bench.editor.chart(), "R1").placement.at == Vec2{0, 0});
    CHECK(bench.editor.is_saved());
    CHECK_FALSE(bench.cancel(*tool));
}

TEST_CASE("a frame over empty board selects what it touches of the side seen") {
    Bench bench(row_of_chips());
    const auto tool = make_select_tool();
    bench.drag(*tool, {-3, 6}, {6, -2}); // R9 below the board lies in it too
    CHECK(bench.editor.selection() == std::vector{Id{"r1"}, Id{"r2"}});
}

TEST_CASE("the round handle turns counter-clockwise as seen") {
    Bench bench(row_of_chips());
    bench.editor.select({Id{"r1"}});
    const auto tool = make_select_tool();
    const geometry::Box box = bench.editor.selection_bounds();
    const Vec2 handle{box.centre().x, box.min.y - 28.0 / 40.0}; // 28 px above
    const double r = -handle.y;
    bench.drag(*tool, handle, {-r, 0}); // from above to the left: a quarter turn against the clock
    CHECK(part_named(bench.editor.chart(), "R1").placement.turn.degrees() == doctest::Approx(90));
    CHECK(part_named(bench.editor.chart(), "R1").placement.at == Vec2{0, 0});
    CHECK(bench.editor.history().current().label == "Turn R1 by 90 degrees counter-clockwise");
}

TEST_CASE("the round handle turns as seen on the bottom side too") {
    Bench bench(row_of_chips(), Side::Bottom);
    bench.editor.select({Id{"r9"}});
    const auto tool = make_select_tool();
    const geometry::Box box = bench.editor.selection_bounds();
    const Vec2 handle{-box.centre().x, box.min.y - 28.0 / 40.0};
    const double r = 3 - handle.y;
    bench.drag(*tool, handle, {-5 - r, 3});
    CHECK(part_named(bench.editor.chart(), "R9").placement.turn.degrees() == doctest::Approx(90));
}

TEST_CASE("a pattern is put down where the click was and turned as it hung") {
    Bench bench(new_chart());
    const auto tool = make_place_tool(patterns::generate("chip-1608M").value(), kSnap);
    CHECK(bench.key(*tool, {Key::LeftBracket}));
    CHECK_FALSE(bench.overlay(*tool, {4, 5}).fills.empty());
    bench.press(*tool, {4.004, 5});
    REQUIRE(bench.editor.chart().parts.size() == 1);
    const document::Placement at = bench.editor.chart().parts[0].placement;
    CHECK(at.at == Vec2{4, 5}); // on whole hundredths
    CHECK(at.turn == Angle::degrees(15));
    CHECK(tool->is_done());
}

TEST_CASE("with Shift the pattern stays in the hand") {
    Bench bench(new_chart());
    const auto tool = make_place_tool(patterns::generate("chip-1608M").value(), kSnap);
    bench.shift = true;
    bench.press(*tool, {0, 0});
    bench.press(*tool, {4, 0});
    CHECK(bench.editor.chart().parts.size() == 2);
    CHECK_FALSE(tool->is_done());
}

TEST_CASE("a drawn part has the pads and the body that were dragged") {
    Bench bench(new_chart());
    const auto tool = make_draw_tool();
    bench.drag(*tool, {10, 10}, {14, 12});
    bench.drag(*tool, {9.5, 10.5}, {10.5, 11.5});
    CHECK(bench.key(*tool, {Key::O})); // round ones from here
    bench.drag(*tool, {13.5, 10.5}, {14.5, 11.2});
    CHECK(bench.key(*tool, {Key::Enter}));
    CHECK(tool->is_done());
    REQUIRE(bench.editor.chart().parts.size() == 1);
    const document::Footprint& part = bench.editor.chart().parts[0];
    CHECK(part.placement.at.x == doctest::Approx(12));
    CHECK(part.placement.at.y == doctest::Approx(11));
    REQUIRE(part.body);
    CHECK(part.body->shape.width_mm == doctest::Approx(4));
    CHECK(part.body->shape.height_mm == doctest::Approx(2));
    REQUIRE(part.pads.size() == 2);
    CHECK(part.pads[0].number == "1");
    CHECK(part.pads[0].at.x == doctest::Approx(-2));
    CHECK(part.pads[0].shape.kind == document::ShapeKind::Rectangle);
    CHECK(part.pads[1].shape.kind == document::ShapeKind::Round);
    CHECK(part.pads[1].shape.width_mm == doctest::Approx(1)); // the longer way of the drag
}

TEST_CASE("a part drawn on the bottom side lies on the board where it was drawn") {
    Bench bench(new_chart(), Side::Bottom);
    const auto tool = make_draw_tool();
    bench.drag(*tool, {-14, 10}, {-10, 12}); // the mirrored picture
    bench.drag(*tool, {-14.5, 10.5}, {-13.5, 11.5});
    bench.key(*tool, {Key::Enter});
    REQUIRE(bench.editor.chart().parts.size() == 1);
    const document::Footprint& part = bench.editor.chart().parts[0];
    const geometry::Box pad = geometry::bounds(document::outline_on_board(part, part.pads[0]));
    CHECK(pad.min.x == doctest::Approx(13.5)); // x to -x
    CHECK(pad.max.x == doctest::Approx(14.5));
    CHECK(part.placement.side == Side::Bottom);
}

TEST_CASE("Enter without a pad asks for one and keeps the drawing") {
    Bench bench(new_chart());
    const auto tool = make_draw_tool();
    bench.drag(*tool, {0, 0}, {2, 2});
    bench.key(*tool, {Key::Enter});
    CHECK_FALSE(tool->is_done());
    REQUIRE(bench.editor.notice());
    CHECK(bench.editor.chart().parts.empty());
    CHECK(bench.key(*tool, {Key::Backspace})); // takes the body back
    CHECK(tool->hint().find("body") != std::string::npos);
}

TEST_CASE("measuring from part to part gives the true gap between outlines") {
    Bench bench(row_of_chips());
    MeasureDesk desk;
    const auto tool = make_measure_tool(desk, MeasureKind::Distance);
    bench.drag(*tool, {0, 0}, {5, 0});
    // Bodies are 1.60 mm long (chip 1608M): 5 - 1.6 = 3.4 mm between them; the scale is right within 2 %.
    CHECK(tool->hint() == "R1 and R2: 3.400 mm ± 0.068 mm");
    bench.drag(*tool, {0, 5}, {3, 9});
    CHECK(tool->hint() == "5.00 mm ± 0.10 mm"); // 3-4-5 triangle
    CHECK(bench.editor.is_saved());
}

TEST_CASE("a chart without a scale refuses to be measured") {
    document::Chart chart = row_of_chips();
    chart.scale.reset();
    Bench bench(std::move(chart));
    MeasureDesk desk;
    const auto tool = make_measure_tool(desk, MeasureKind::Distance);
    bench.drag(*tool, {0, 5}, {3, 9});
    REQUIRE(bench.editor.notice());
    CHECK(bench.editor.notice()->text.find("scale") != std::string::npos);
    CHECK(tool->hint().find("mm") == std::string::npos);
}

TEST_CASE("measurements stay until they are taken away and an angle takes three clicks") {
    Bench bench(row_of_chips());
    MeasureDesk desk;
    const auto tool = make_measure_tool(desk, MeasureKind::Distance);
    bench.drag(*tool, {0, 5}, {3, 9});
    CHECK(bench.key(*tool, {Key::A}));
    bench.click(*tool, {15, 5});
    bench.move(*tool, {16, 5});
    bench.click(*tool, {17, 5});
    bench.move(*tool, {16, 6});
    bench.click(*tool, {15, 7});
    REQUIRE(desk.pinned.size() == 2);
    CHECK(tool->hint() == "90.0°");
    CHECK(bench.key(*tool, {Key::Backspace}));
    CHECK(desk.pinned.size() == 1);
    CHECK(bench.key(*tool, {Key::Delete}));
    CHECK(desk.pinned.empty());
    CHECK(bench.editor.is_saved());
}

TEST_CASE("the pitch of a row is counted and a typed number of steps wins") {
    document::Chart chart = measured_chart();
    document::Footprint row;
    row.id = {"j1"};
    row.name = "J1";
    for (int i = 0; i < 5; ++i) {
        document::Pad pad;
        pad.at = {1.0 * i, 0};
        pad.shape = {document::ShapeKind::Round, 0.5, 0.5, {}};
        row.pads.push_back(pad);
    }
    chart.parts.add(row);
    Bench bench(std::move(chart));
    MeasureDesk desk;
    const auto tool = make_measure_tool(desk, MeasureKind::Pitch);
    bench.drag(*tool, {0.18, 0.1}, {4.15, -0.1}); // anywhere on the pads: their middles count
    CHECK(tool->hint() == "1.000 mm ± 0.020 mm, 4 steps of 4.00 mm in all");
    CHECK(bench.key(*tool, {Key::Digit8}));
    CHECK(tool->hint() == "0.500 mm ± 0.010 mm, 8 steps of 4.00 mm in all");
    CHECK(desk.pinned.size() == 1);
}

TEST_CASE("a dragged part comes level with its neighbours and Ctrl lets it be") {
    Bench bench(row_of_chips());
    const auto tool = make_select_tool(kSnap);
    bench.drag(*tool, {0, 0}, {2, 0.1});
    CHECK(part_named(bench.editor.chart(), "R1").placement.at == Vec2{2, 0});
    bench.editor.undo();
    bench.press(*tool, {0, 0});
    bench.move(*tool, {1, 0.05});
    CHECK_FALSE(bench.overlay(*tool, {2, 0.1}).lines.empty());
    bench.ctrl = true;
    bench.release(*tool, {2, 0.1});
    CHECK(part_named(bench.editor.chart(), "R1").placement.at == Vec2{2, 0.1});
}

TEST_CASE("pasted parts are put down by their middle and turned over to the side looked at") {
    Bench bench(row_of_chips(), Side::Bottom);
    const document::Footprint r1 = part_named(bench.editor.chart(), "R1");
    const auto tool = make_paste_tool({{r1}, {}, {}, {}}, kSnap);
    bench.move(*tool, {-2, 7});
    CHECK_FALSE(bench.overlay(*tool, {-2, 7}).fills.empty());
    bench.press(*tool, {-2, 7}); // the mirrored picture
    CHECK(tool->is_done());
    const document::Footprint& pasted = part_named(bench.editor.chart(), "R4");
    CHECK(pasted.placement.side == Side::Bottom);
    CHECK(pasted.placement.at == Vec2{2, 7});
    CHECK(bench.editor.is_selected(pasted.id));
}

TEST_CASE("Enter puts pasted parts where they were copied from") {
    Bench bench(row_of_chips());
    const document::Footprint r2 = part_named(bench.editor.chart(), "R2");
    bench.editor.select({r2.id});
    bench.editor.remove_selected();
    const auto tool = make_paste_tool({{r2}, {}, {}, {}}, kSnap);
    CHECK(bench.key(*tool, {Key::Enter}));
    CHECK(tool->is_done());
    CHECK(part_named(bench.editor.chart(), "R2").placement == r2.placement);
}

TEST_CASE("by keys alone a pattern is led by arrows and put down by Enter") {
    Bench bench(new_chart());
    const auto tool = make_place_tool(patterns::generate("chip-1608M").value(), kSnap);
    CHECK_FALSE(tool->is_led_by_keys());
    CHECK(bench.key(*tool, {Key::Right}));
    CHECK(bench.key(*tool, shift(Key::Down)));
    CHECK(bench.key(*tool, ctrl(Key::Left)));
    CHECK(tool->is_led_by_keys());
    CHECK(bench.key(*tool, {Key::Enter}));
    REQUIRE(bench.editor.chart().parts.size() == 1);
    const Vec2 at = bench.editor.chart().parts[0].placement.at; // from the middle of the view, here 0, 0
    CHECK(at.x == doctest::Approx(0.45));
    CHECK(at.y == doctest::Approx(5));
    CHECK(tool->is_done());
}

TEST_CASE("a pointer that is moved leads the pattern again") {
    Bench bench(new_chart());
    const auto tool = make_place_tool(patterns::generate("chip-1608M").value(), kSnap);
    CHECK(bench.key(*tool, {Key::Right}));
    tool->hover();
    CHECK_FALSE(tool->is_led_by_keys());
    bench.press(*tool, {4, 5});
    CHECK(bench.editor.chart().parts[0].placement.at == Vec2{4, 5});
}

TEST_CASE("a place that is asked for is shown by arrows and Enter too") {
    Bench bench(row_of_chips());
    std::optional<Vec2> at;
    const auto tool = make_pin_tool("Click", [&](const PinnedPlace& place) {
        at = place.at;
        return true;
    });
    CHECK(bench.key(*tool, shift(Key::Right)));
    CHECK(bench.key(*tool, shift(Key::Down)));
    CHECK_FALSE(tool->is_done());
    CHECK(bench.key(*tool, {Key::Enter}));
    CHECK(tool->is_done());
    CHECK(at == Vec2{5, 5});
}

TEST_CASE("what was copied is led by arrows too") {
    Bench bench(row_of_chips());
    Clipboard clipboard;
    bench.editor.select({Id{"r1"}});
    copy_selected(bench.editor, clipboard);
    const auto tool = make_paste_tool(things_on(clipboard, bench.editor), kSnap);
    CHECK(bench.key(*tool, shift(Key::Down)));
    CHECK(bench.key(*tool, {Key::Enter}));
    CHECK(bench.editor.selected_part()->placement.at.y == doctest::Approx(5));
}

TEST_CASE("where parts keep their place a drag moves and turns none and says why") {
    Bench bench(row_of_chips());
    const auto tool = make_look_tool(kSnap);
    bench.click(*tool, {5, 0});
    REQUIRE(bench.editor.is_selected(Id{"r2"}));
    bench.drag(*tool, {5, 0}, {7, 2});
    CHECK(part_named(bench.editor.chart(), "R2").placement.at == Vec2{5, 0});
    REQUIRE(bench.editor.notice());
    CHECK(bench.editor.notice()->text == "Parts keep their place here: go to Survey to move them.");
    CHECK_FALSE(bench.editor.history().can_undo());
    CHECK(bench.overlay(*tool, {0, 9}).items.empty()); // no round handle is offered
    // So does that of the heat stage, once a drag.
    HeatDesk desk;
    const auto aims = make_aim_tool(desk);
    bench.editor.clear_notice();
    bench.drag(*aims, {5, 0}, {7, 2});
    CHECK(part_named(bench.editor.chart(), "R2").placement.at == Vec2{5, 0});
    REQUIRE(bench.editor.notice());
    CHECK(bench.editor.notice()->text == "Parts keep their place here: go to Survey to move them.");
}

} // namespace
} // namespace padchart::app
