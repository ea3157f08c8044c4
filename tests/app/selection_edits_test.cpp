#include "support.hpp"

#include "app/actions.hpp"
#include "app/arrange_desk.hpp"
#include "app/copy_places.hpp"
#include "app/layers_desk.hpp"
#include "app/lock_signs.hpp"
#include "app/selection_edits.hpp"

namespace padchart::app {
namespace {

using document::Id;
using document::Side;
using geometry::Vec2;

Editor with_row(std::vector<Id> selected) {
    Editor editor;
    editor.start_new(row_of_chips());
    editor.select(std::move(selected));
    return editor;
}

Vec2 place(const Editor& editor, const char* name) {
    return part_named(editor.chart(), name).placement.at;
}

bool told(const Editor& editor, std::string_view words) {
    return editor.notice() && editor.notice()->text.find(words) != std::string::npos;
}

TEST_CASE("a locked part is not moved turned deleted or sent to the other side") {
    Editor editor = with_row({{"r1"}});
    lock_or_unlock_selected(editor);
    CHECK(editor.history().current().label == "Lock R1");
    const document::Chart locked = editor.chart();
    editor.nudge({1, 0});
    editor.turn(Angle::degrees(90), Side::Top);
    editor.remove_selected();
    editor.move_to_other_side();
    move_selected(editor, {1, 1}, Side::Top);
    fold_selected(editor, {document::Axis::Y, 0});
    CHECK(editor.chart() == locked);
    CHECK(told(editor, "locked"));
    lock_or_unlock_selected(editor);
    editor.nudge({1, 0});
    CHECK(place(editor, "R1") == Vec2{1, 0});
}

TEST_CASE("of several the locked one stays and that is told") {
    Editor editor = with_row({{"r1"}});
    lock_or_unlock_selected(editor);
    editor.select({{"r1"}, {"r2"}});
    move_selected(editor, {0.5, 0}, Side::Top);
    CHECK(place(editor, "R1") == Vec2{0, 0});
    CHECK(place(editor, "R2") == Vec2{5.5, 0});
    CHECK(told(editor, "R1 is locked and stayed."));
    CHECK(editor.history().current().label == "Move R2 by 0.5, 0 mm");
    editor.remove_selected();
    CHECK(editor.selection() == std::vector<Id>{{"r1"}});
}

TEST_CASE("locking a mixed group locks all of it") {
    Editor editor = with_row({{"r1"}});
    lock_or_unlock_selected(editor);
    editor.select({{"r1"}, {"r2"}});
    lock_or_unlock_selected(editor);
    CHECK(part_named(editor.chart(), "R2").locked);
    lock_or_unlock_selected(editor);
    CHECK_FALSE(part_named(editor.chart(), "R1").locked);
}

TEST_CASE("left is left on the screen whichever side is seen") {
    Editor editor = with_row({{"r1"}, {"r2"}});
    align_selected(editor, document::Line::Left, document::Extent::Body, Side::Top);
    CHECK(place(editor, "R2").x == doctest::Approx(0));
    editor.undo();
    align_selected(editor, document::Line::Left, document::Extent::Body, Side::Bottom);
    CHECK(place(editor, "R1").x == doctest::Approx(5));
    editor.undo();
    move_selected(editor, {1, 0}, Side::Bottom);
    CHECK(place(editor, "R1").x == doctest::Approx(-1));
}

TEST_CASE("copies are selected and undo takes all of them away in one step") {
    Editor editor = with_row({{"r1"}});
    const document::Chart before = editor.chart();
    copy_selected_to_grid(editor, {3, 2, {2, 0}, {0, 2}});
    CHECK(editor.chart().parts.size() == 9);
    CHECK(editor.selection().size() == 5);
    const std::vector<Id> copies = editor.selection();
    editor.undo();
    CHECK(editor.chart() == before);
    editor.redo();
    CHECK(editor.selection() == copies);
    copy_selected_to_ring(editor, {1, {}, {}, true, Side::Top}); // refused
    CHECK(editor.chart().parts.size() == 9);
    CHECK(told(editor, "at least two places"));
}

void run_action(Session& s, std::string_view id) {
    const Action* action = find_action(id);
    REQUIRE(action != nullptr);
    run(*action, s);
}

/// R1 to R3 on a board from -2 to 12 mm across and -2 to 8 mm down.
document::Chart row_on_board() {
    document::Chart chart = row_of_chips();
    chart.board.outline = geometry::Polygon{{{-2, -2}, {12, -2}, {12, 8}, {-2, 8}}, {}};
    return chart;
}

TEST_CASE(
    "a ring whose middle nobody has stated holds its copies apart, beside the part and towards the board's middle") {
    const geometry::Box part{{-1, -0.5}, {1, 0.5}};
    const geometry::Box board{{-2, -2}, {40, 2}};
    for (const double step : {30.0, 45.0, 90.0, -90.0, 120.0, 180.0}) {
        const Vec2 middle = ring_middle(part, Angle::degrees(step), board);
        CHECK(middle.x > 0.0);
        CHECK(middle.y == doctest::Approx(0.0));
        const int places = static_cast<int>(std::lround(360.0 / std::abs(step)));
        std::vector<Vec2> at;
        for (int i = 0; i < places; ++i)
            at.push_back(geometry::Affine::rotation_about(middle, Angle::degrees(step * i))(part.centre()));
        for (std::size_t i = 0; i < at.size(); ++i)
            for (std::size_t k = 0; k < i; ++k)
                CHECK(geometry::distance(at[i], at[k]) > std::hypot(2.0, 1.0)); // no way round do they touch
    }
    CHECK(ring_middle(part, Angle::degrees(90), part).y > 0.0); // no board to turn to: below
}

TEST_CASE("copies in a ring asked for without a middle land on the board and say nothing") {
    Session s;
    s.editor.start_new(row_on_board());
    s.editor.select({{"r2"}});
    s.desks.get<ArrangeDesk>().step_deg = 180;
    s.desks.get<ArrangeDesk>().places = 2;
    s.desks.get<ArrangeDesk>().pressed = ArrangeForm::Ring;
    run_action(s, "copy-ring");
    REQUIRE(s.editor.selection().size() == 1);
    CHECK_FALSE(s.editor.notice());
    const Vec2 copy = s.editor.selected_part()->placement.at;
    CHECK(copy.y > 1.0);
    CHECK(copy.y < 7.0);
    CHECK(std::abs(copy.x - 5.0) < 0.5);
}

TEST_CASE("copies that lie off the board or on another part are told") {
    Session s;
    s.editor.start_new(row_on_board());
    s.editor.select({{"r1"}});
    copy_selected_to_grid(s.editor, {3, 1, {5, 0}, {0, 0}}); // on R2 and on R3
    CHECK(told(s.editor, "R4 lies on R2, and 1 more on other parts."));
    CHECK_FALSE(told(s.editor, "off the board"));
    s.editor.undo();
    s.editor.select({{"r1"}});
    copy_selected_to_grid(s.editor, {1, 3, {0, 0}, {0, 5}}); // at 5 and 10 mm: the second one is beyond 8
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "1 of 2 copies lie off the board.");
    CHECK(s.editor.notice()->severity == Severity::Warning);
    s.editor.undo();
    s.editor.select({{"r1"}});
    copy_selected_to_grid(s.editor, {1, 2, {0, 0}, {0, 3}}); // R9 of the other side is no obstacle
    CHECK_FALSE(s.editor.notice());
    copy_selected_to_ring(s.editor, {2, Angle::degrees(180), {-20, 0}, true, Side::Top});
    CHECK(told(s.editor, "The copy lies off the board."));
}

TEST_CASE("undo of copies selects what they were made of") {
    for (const std::string_view id : {"duplicate", "copy-grid", "copy-ring"}) {
        Session s;
        s.editor.start_new(row_of_chips());
        s.editor.select({{"r2"}, {"r3"}});
        if (id != "duplicate") run_action(s, id); // shows its numbers first
        run_action(s, id);
        const std::vector<Id> copies = s.editor.selection();
        REQUIRE(copies != std::vector<Id>{{"r2"}, {"r3"}});
        s.editor.select({});
        run_action(s, "undo");
        CHECK(s.editor.selection() == std::vector<Id>{{"r2"}, {"r3"}});
        run_action(s, "redo");
        CHECK(s.editor.selection() == copies);
        run_action(s, "undo");
        CHECK(s.editor.selection() == std::vector<Id>{{"r2"}, {"r3"}});
    }
}

TEST_CASE("a jump back over copies selects what they were made of, whatever was done to them since") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({{"r2"}});
    run_action(s, "duplicate");
    run_action(s, "missing");
    const std::vector<Id> copies = s.editor.selection();
    s.editor.select({});
    s.editor.go_to_step(0);
    CHECK(s.editor.selection() == std::vector<Id>{{"r2"}});
    s.editor.go_to_step(2);
    CHECK(s.editor.selection() == copies);
}

TEST_CASE("that a part is hidden is told until it is shown again") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({{"r2"}});
    run_action(s, "hide");
    CHECK(told(s.editor, "R2 hidden from view only."));
    run_action(s, "show-hidden");
    CHECK_FALSE(s.editor.notice());
    s.editor.select({{"r2"}});
    run_action(s, "hide");
    s.editor.tell(Severity::Fault, "The name is taken.");
    run_action(s, "show-hidden");
    CHECK(told(s.editor, "The name is taken.")); // speaks of something else
}

TEST_CASE("a locked part has a padlock on its side of the board") {
    Editor editor = with_row({{"r1"}, {"r9"}});
    const auto signs = [&](Side side, double mm_per_px) {
        scene::Scene scene;
        add_lock_signs(scene, editor, side, mm_per_px);
        return scene.items.size();
    };
    CHECK(signs(Side::Top, 0.05) == 0);
    CHECK_FALSE(is_all_locked(editor));
    lock_or_unlock_selected(editor);
    const std::size_t one = signs(Side::Top, 0.05);
    CHECK(one > 0);
    CHECK(signs(Side::Bottom, 0.05) == one);
    CHECK(signs(Side::Top, 1.0) == 0); // the part is smaller than its sign would be
    CHECK(is_all_locked(editor));
    editor.select({{"r1"}, {"r2"}});
    CHECK_FALSE(is_all_locked(editor));
    editor.select({});
    CHECK_FALSE(is_all_locked(editor));
}

TEST_CASE("a group turned about its middle and back lies where it was") {
    Editor editor = with_row({{"r1"}, {"r2"}, {"r3"}});
    move_selected(editor, {0, 3}, Side::Top);
    editor.select({{"r1"}, {"r3"}});
    const Vec2 r1 = place(editor, "R1");
    for (int i = 0; i < 5; ++i)
        editor.turn(Angle::degrees(15), Side::Top);
    for (int i = 0; i < 5; ++i)
        editor.turn(Angle::degrees(-15), Side::Top);
    CHECK(geometry::distance(place(editor, "R1"), r1) < 1e-9);
}

TEST_CASE("what one window copies another pastes under fresh ids and free names") {
    Clipboard clipboard;
    Editor one = with_row({{"r1"}, {"r2"}});
    CHECK(copy_selected(one, clipboard));
    CHECK(one.is_saved());
    Editor two;
    two.start_new(row_of_chips());
    CHECK(paste(two, things_on(clipboard, two)));
    CHECK(two.chart().parts.size() == 6);
    CHECK(two.selection().size() == 2);
    CHECK_FALSE(document::fault_of(two.chart()));
    CHECK(part_named(two.chart(), "R4").placement.at == Vec2{0, 0});
    Editor empty;
    empty.start_new(new_chart());
    CHECK(paste(empty, things_on(clipboard, empty)));
    CHECK(part_named(empty.chart(), "R1").placement.at == Vec2{0, 0}); // the name is free here
}

TEST_CASE("what is pasted off the board is told") {
    Clipboard clipboard;
    Editor editor = with_row({{"r1"}});
    CHECK(copy_selected(editor, clipboard));
    document::Chart small = new_chart();
    small.scale = row_of_chips().scale;
    small.board.outline = geometry::Polygon{{{50, 50}, {60, 50}, {60, 60}, {50, 60}}, {}};
    Editor other;
    other.start_new(small);
    CHECK(paste(other, things_on(clipboard, other)));
    REQUIRE(other.notice());
    CHECK(other.notice()->text == "The copy lies off the board.");
    CHECK(other.notice()->severity == Severity::Warning);
}

TEST_CASE("pasting from an empty clipboard changes nothing and is told in passing") {
    Clipboard clipboard;
    Editor editor;
    editor.start_new(row_of_chips());
    paste(editor, things_on(clipboard, editor));
    CHECK(editor.chart().parts.size() == 4);
    CHECK(editor.is_saved());
    Editor other;
    other.start_new(row_of_chips());
    CHECK(things_on(clipboard, other).parts.empty());
    REQUIRE(other.notice());
    CHECK(other.notice()->severity == Severity::Note);
    CHECK(other.notice()->text.find("clipboard is empty") != std::string::npos);
}

TEST_CASE("areas and notes are copied with the parts, a reading alone is not") {
    Clipboard clipboard;
    Editor one = with_row({});
    document::KeepOut foam;
    foam.id = {"foam"};
    foam.outline = {{{0, 0}, {2, 0}, {2, 1}}, {}};
    document::Reading reading;
    reading.id = {"reading-1"};
    one.commit(document::put(document::put(one.chart(), foam).value(), reading), "Trace");
    one.select({{"reading-1"}});
    CHECK_FALSE(copy_selected(one, clipboard));
    CHECK(clipboard.own.empty());
    one.select({{"r1"}, {"foam"}, {"reading-1"}});
    CHECK(copy_selected(one, clipboard));
    CHECK(told(one, "without readings"));
    Editor two;
    two.start_new(new_chart());
    CHECK(paste(two, things_on(clipboard, two)));
    CHECK(two.chart().parts.size() == 1);
    CHECK(two.chart().keep_outs.size() == 1);
    CHECK(two.chart().readings.empty());
}

TEST_CASE("cut takes the parts away and nothing selected copies nothing") {
    Clipboard clipboard;
    Editor editor = with_row({{"r1"}});
    cut_selected(editor, clipboard);
    CHECK(editor.chart().parts.size() == 3);
    CHECK(clipboard.own.find("padchart-fragment") != std::string::npos);
    const std::string before = clipboard.own;
    CHECK_FALSE(copy_selected(editor, clipboard));
    CHECK(clipboard.own == before);
}

namespace {

/// The row with a heat plan for R1 and a note on it.
Editor with_plan(std::vector<Id> selected) {
    document::HeatPlan plan;
    plan.id = Id{"hp"};
    plan.target = Id{"r1"};
    document::Note note;
    note.id = Id{"n1"};
    note.target = Id{"r1"};
    note.text = "tilted";
    Editor editor;
    editor.start_new(document::put(document::put(row_of_chips(), plan).value(), note).value());
    editor.select(std::move(selected));
    return editor;
}

} // namespace

TEST_CASE("what goes with a part is told where it is deleted, and so is what stays without it") {
    Editor editor = with_plan({{"r1"}});
    editor.remove_selected();
    CHECK(editor.chart().heat_plans.empty());
    CHECK(editor.history().current().label == "Delete R1 and its heat plan");
    CHECK(told(editor, "Gone with R1: its heat plan; undo brings all back. Left without R1: its note."));
    Editor several = with_plan({{"r1"}, {"r2"}, {"r3"}});
    several.remove_selected();
    CHECK(several.history().current().label == "Delete 3 parts and a heat plan");
    Editor bare = with_plan({{"r2"}});
    bare.remove_selected();
    CHECK(bare.history().current().label == "Delete R2");
    CHECK_FALSE(bare.notice());
}

TEST_CASE("a shield that is deleted names the heat plans that go on without it") {
    document::Chart chart = row_of_chips();
    for (const char* id : {"foil", "tape"}) {
        document::Shield shield;
        shield.id = Id{id};
        shield.name = id;
        shield.outline.outer = {{9, -1}, {11, -1}, {11, 1}, {9, 1}};
        chart = document::put(chart, shield).value();
    }
    const auto add_plan = [&](const char* id, const char* name, std::vector<Id> shields) {
        document::HeatPlan plan;
        plan.id = Id{id};
        plan.name = name;
        plan.target = Id{"r1"};
        plan.shields = std::move(shields);
        chart = document::put(chart, plan).value();
    };
    add_plan("hp-1", "lift R1", {{"foil"}});
    add_plan("hp-2", "lift R1 slowly", {{"foil"}, {"tape"}});
    add_plan("hp-3", "lift R1 bare", {});
    Editor editor;
    const auto remove = [&](std::vector<Id> ids) {
        editor.start_new(chart);
        editor.clear_notice();
        editor.select(std::move(ids));
        editor.remove_selected();
    };
    remove({{"tape"}});
    CHECK(told(editor, "The heat plan \"lift R1 slowly\" is without it now."));
    remove({{"foil"}});
    CHECK(told(editor, "The heat plans \"lift R1\" and \"lift R1 slowly\" are without it now."));
    remove({{"foil"}, {"tape"}});
    CHECK(told(editor, "The heat plans \"lift R1\" and \"lift R1 slowly\" are without them now."));
    remove({{"foil"}, {"r1"}});
    CHECK_FALSE(told(editor, "without it now")); // the plans go as well
}

TEST_CASE("cutting is told as copying is and undone by its own name") {
    Clipboard clipboard;
    Editor editor = with_plan({{"r1"}});
    cut_selected(editor, clipboard);
    CHECK(told(editor, "Cut: R1."));
    CHECK(told(editor, "its heat plan"));
    CHECK(editor.history().current().label == "Cut R1 and its heat plan");
    editor.undo();
    CHECK(told(editor, "Undone: Cut R1"));
    CHECK(editor.chart().heat_plans.size() == 1);
}

TEST_CASE("a stage that lays out no parts takes none from the clipboard") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({{"r1"}});
    run_action(s, "copy");
    s.show_stage(scene::Stage::Heat);
    run_action(s, "paste");
    CHECK(s.tool->is_selecting());
    CHECK(told(s.editor, "Paste is not possible just now: go to Survey to change parts."));
    s.show_stage(scene::Stage::Survey);
    run_action(s, "paste");
    CHECK_FALSE(s.tool->is_selecting());
}

TEST_CASE("a stage that lays out no parts lets none be added, and ends what would bring one") {
    Session s;
    s.editor.start_new(row_of_chips());
    for (const char* id : {"add-part", "draw-part", "load-pattern"}) {
        CAPTURE(id);
        s.show_stage(scene::Stage::Heat);
        run_action(s, id);
        CHECK(s.panel == Panel::Stage);
        CHECK(s.tool->is_selecting());
        CHECK_FALSE(s.has_dialog());
        CHECK(told(s.editor, "is not possible just now: go to Survey to change parts."));
    }
    s.show_stage(scene::Stage::Survey);
    for (const char* id : {"draw-part", "trace"}) { // a pad is what is traced first
        CAPTURE(id);
        s.show_stage(scene::Stage::Survey);
        run_action(s, id);
        CHECK_FALSE(s.tool->is_selecting());
        s.show_stage(scene::Stage::Access);
        CHECK(s.tool->is_selecting());
    }
    s.panel = Panel::Start; // belongs to no stage
    run_action(s, "add-part");
    CHECK(s.panel == Panel::AddPart);
    CHECK(s.stage == scene::Stage::Survey);
}

TEST_CASE("whom a part lies on is told of all of them") {
    document::Chart chart = row_of_chips();
    const auto put = [&](const char* name, Vec2 at) { chart.parts.add(part_of("chip-1608M", name, at)); };
    put("R4", {0.9, 0.5});
    put("R5", {0.9, -0.5});
    put("R6", {-0.9, 0});
    Editor editor;
    editor.start_new(chart);
    editor.select({{"r1"}});
    move_selected(editor, {0, 0.2}, Side::Top);
    CHECK_FALSE(told(editor, "lies on")); // R1 lay on them before
    put("R7", {20, 0.5});
    put("R8", {20, -0.5});
    editor.start_new(chart);
    editor.select({{"r1"}});
    move_selected(editor, {20, 0}, Side::Top);
    CHECK(told(editor, "R1 lies on R7 and R8."));
    put("R10", {20.9, 0});
    put("R11", {19.1, 0});
    editor.start_new(chart);
    editor.select({{"r1"}});
    move_selected(editor, {20, 0}, Side::Top);
    CHECK(told(editor, "R1 lies on R7 and 3 more."));
}

TEST_CASE("parts that typed numbers, a fold or the other side bring onto others are told") {
    Editor moved = with_row({{"r1"}});
    move_selected(moved, {5, 0}, Side::Top);
    CHECK(told(moved, "R1 lies on R2."));
    Editor over = with_row({{"r2"}});
    over.nudge({0, 3});
    over.move_to_other_side();
    CHECK(told(over, "R2 lies on R9."));
    Editor folded = with_row({{"r2"}});
    folded.nudge({0, 3});
    fold_selected(folded, {document::Axis::Y, 5.0});
    CHECK(told(folded, "R2 lies on R9."));
    Editor alone = with_row({{"r1"}});
    move_selected(alone, {0, 3}, Side::Top);
    CHECK_FALSE(alone.notice());
}

TEST_CASE("parts that are brought in line or spread onto each other are told as one pile") {
    Editor editor = with_row({{"r3"}, {"r1"}, {"r2"}});
    align_selected(editor, document::Line::Left, document::Extent::Body, Side::Top);
    CHECK(told(editor, "R1, R2 and R3 lie on each other."));
    editor.undo();
    editor.clear_notice();
    align_selected(editor, document::Line::Top, document::Extent::Body, Side::Top);
    CHECK_FALSE(editor.notice()); // they are in line as it is, and apart
    document::Chart chart = row_of_chips();
    chart.parts.add(part_of("chip-1608M", "R4", {0.5, 5}));
    editor.start_new(chart);
    editor.select({{"r1"}, {"r2"}, {"r3"}, {chart.parts[chart.parts.size() - 1].id}});
    align_selected(editor, document::Line::Middle, document::Extent::Body, Side::Top);
    CHECK(told(editor, "R4 lies on R1.")); // the others have no part in it
    editor.start_new(chart);
    editor.select({{"r1"}, {chart.parts[chart.parts.size() - 1].id}, {"r2"}});
    spread_selected(editor, document::Axis::Y, document::Spread::Centres, document::Extent::Body);
    CHECK_FALSE(told(editor, "lies on"));
}

TEST_CASE("a copy that lies on what it was made of is told") {
    Editor editor;
    document::Chart chart = new_chart();
    chart.parts.add(part_of("chip-3216M", "R1", {0, 0}));
    editor.start_new(chart);
    editor.select({chart.parts[0].id});
    duplicate_selected(editor, {1, 1}, Side::Top);
    CHECK(told(editor, "R2 lies on R1."));
}

TEST_CASE("a part nudged onto another is told for as long as it lies there, and not again where it was waved away") {
    Editor editor = with_row({{"r1"}});
    editor.nudge({1, 0});
    CHECK_FALSE(editor.notice());
    editor.nudge({3, 0});
    CHECK(told(editor, "R1 lies on R2."));
    editor.nudge({0.05, 0});
    CHECK(editor.notice()->text == "R1 lies on R2.");
    editor.clear_notice();
    editor.nudge({0.05, 0});
    CHECK_FALSE(editor.notice());
    editor.nudge({-4, 0});
    CHECK_FALSE(editor.notice());
    editor.nudge({4, 0});
    CHECK(told(editor, "R1 lies on R2.")); // it went away and came again
    editor.nudge({-4, 0});
    CHECK_FALSE(editor.notice());
    CHECK(editor.history().steps().size() == 2);
}

TEST_CASE("a part turned onto another is told") {
    Editor editor = with_row({{"r1"}});
    editor.nudge({5, 1.1});
    CHECK_FALSE(editor.notice());
    editor.turn(Angle::degrees(90), Side::Top);
    CHECK(told(editor, "R1 lies on R2."));
    editor.turn(Angle::degrees(90), Side::Top);
    CHECK_FALSE(editor.notice());
}

TEST_CASE("garbage on the clipboard gives a clear notice and no step") {
    Clipboard clipboard;
    Editor editor = with_row({});
    clipboard.put("a shopping list");
    CHECK(things_on(clipboard, editor).empty());
    CHECK(told(editor, "no part of a chart"));
    CHECK(editor.is_saved());
}

TEST_CASE("what works with typed numbers shows them first and acts at its button or the second time") {
    for (const auto& [id, form] : {std::pair{"move-by", ArrangeForm::Move},
                                   {"copy-grid", ArrangeForm::Grid},
                                   {"copy-ring", ArrangeForm::Ring},
                                   {"fold", ArrangeForm::Fold}}) {
        CAPTURE(id);
        Session s;
        s.editor.start_new(row_on_board());
        s.show_stage(scene::Stage::Orient);
        s.editor.select({{"r2"}});
        const auto chart = s.editor.snapshot();
        run_action(s, id);
        CHECK(s.editor.snapshot() == chart);
        CHECK(s.stage == scene::Stage::Survey);
        CHECK(s.desks.get<ArrangeDesk>().wants_focus == form);
        REQUIRE(s.editor.notice());
        CHECK(s.editor.notice()->text.starts_with("Type the numbers for "));
        s.editor.select({{"r1"}}); // for others they have not been seen
        run_action(s, id);
        CHECK(s.editor.snapshot() == chart);
        run_action(s, id);
        CHECK(s.editor.snapshot() != chart);
        s.editor.undo();
        s.desks.get<ArrangeDesk>().pressed = form;
        run_action(s, id);
        CHECK(s.editor.snapshot() != chart);
    }
}

} // namespace
} // namespace padchart::app
