#include "app/access_desk.hpp"

#include "app/actions.hpp"
#include "support.hpp"

namespace padchart::app {
namespace {

using document::Id;

/// The row of chips, R1 selected, in the access stage.
AccessDesk& start(Session& s) {
    s.editor.start_new(row_of_chips());
    s.show_stage(scene::Stage::Access);
    s.editor.select({Id{"r2"}});
    AccessDesk& desk = s.desks.get<AccessDesk>();
    update_access(s);
    return desk;
}

void act(Session& s, std::string_view id) {
    const Action* action = find_action(id);
    REQUIRE_MESSAGE(action != nullptr, id);
    CHECK_MESSAGE(action->enabled(s), id);
    run(*action, s);
}

/// More chips than are answered for at once, far from R1 to R3.
document::Chart large_chart() {
    document::Chart chart = row_of_chips();
    for (int i = 0; i < 300; ++i) {
        const std::string name = "C" + std::to_string(i);
        chart.parts.add(part_of("chip-1608M", name.c_str(), {3.0 * (i % 20), 40 + 3.0 * (i / 20)}));
    }
    return chart;
}

} // namespace

TEST_CASE("while the other side is shown the directions wait") {
    Session s;
    start(s);
    const document::Footprint& part = part_named(s.editor.chart(), "R2");
    CHECK(why_directions_wait(s, part).empty());
    s.flip_side();
    CHECK(why_directions_wait(s, part) == "The directions are seen from the top: O turns the board to R2's side.");
}

TEST_CASE("on a large chart the answer comes later, and none of another part is shown meanwhile") {
    Session small, large;
    AccessDesk& desk = large.desks.get<AccessDesk>();
    large.editor.start_new(large_chart());
    large.show_stage(scene::Stage::Access);
    large.editor.select({Id{"r2"}});
    update_access(large);
    CHECK((desk.is_working() || desk.report() != nullptr));
    wait_for_access(large);
    CHECK_FALSE(desk.is_working());
    REQUIRE(desk.report() != nullptr);
    CHECK(desk.report()->target == Id{"r2"});
    CHECK(desk.report()->sectors.size() == start(small).report()->sectors.size()); // the others are far away
    large.editor.select({Id{"c7"}});
    update_access(large);
    CHECK((desk.report() == nullptr || desk.report()->target == Id{"c7"}));
    wait_for_access(large);
    REQUIRE(desk.report() != nullptr);
    CHECK(desk.report()->target == Id{"c7"});
}

TEST_CASE("the access stage answers for the selected part and keeps it when nothing is selected") {
    Session s;
    AccessDesk& desk = start(s);
    REQUIRE(desk.report() != nullptr);
    CHECK(desk.report()->target == Id{"r2"});
    CHECK(desk.report()->is_good());
    const std::uint64_t before = desk.revision();
    CHECK_FALSE(update_access(s)); // nothing has changed
    CHECK(desk.revision() == before);
    s.editor.select({});
    update_access(s);
    CHECK(desk.report()->target == Id{"r2"});
}

TEST_CASE("the access stage asks nothing while another stage is shown") {
    Session s;
    start(s);
    s.show_stage(scene::Stage::Survey);
    s.editor.select({Id{"r1"}});
    CHECK_FALSE(update_access(s));
    CHECK(s.desks.get<AccessDesk>().query.target == Id{"r2"});
}

TEST_CASE("the answer follows a part while it is dragged and undo brings the old one back") {
    Session s;
    AccessDesk& desk = start(s);
    CHECK(desk.report()->neighbours.front().takes.empty());
    const Id r1[] = {Id{"r1"}};
    s.editor.preview(document::move_parts(s.editor.chart(), r1, {3.1, 0}));
    CHECK(update_access(s));
    CHECK(desk.report()->neighbours.front().source == Id{"r1"});
    CHECK_FALSE(desk.report()->neighbours.front().takes.empty());
    s.editor.drop_preview();
    CHECK(update_access(s));
    CHECK(desk.report()->neighbours.front().takes.empty());
}

TEST_CASE("a part that goes leaves the stage without a target") {
    Session s;
    AccessDesk& desk = start(s);
    s.editor.remove_selected();
    update_access(s);
    CHECK_FALSE(desk.has_target());
    CHECK(desk.report() == nullptr);
}

TEST_CASE("actions change the tool and keep it in what can be") {
    Session s;
    AccessDesk& desk = start(s);
    const std::string tool = desk.query.tool.key;
    act(s, "access-tool");
    CHECK(desk.query.tool.key != tool);
    const double rise = desk.query.tool.rise_deg;
    act(s, "access-steeper");
    CHECK(desk.query.tool.rise_deg == rise + 5.0);
    for (int i = 0; i < 40; ++i)
        act(s, "access-lower");
    CHECK_FALSE(analysis::fault_of(desk.query.tool));
    update_access(s);
    CHECK(desk.report() != nullptr);
    CHECK_FALSE(find_action("access-pad")->enabled(s)); // tweezers hold the part, not a pad
    change_access(s, [](analysis::AccessQuery& query) { query.tool = *analysis::find_access_tool("iron-needle"); });
    update_access(s);
    CHECK(desk.report()->pad == "1");
    act(s, "access-pad");
    update_access(s);
    CHECK(desk.report()->pad == "2");
}

TEST_CASE("the board turned as told needs no more turning") {
    Session s;
    AccessDesk& desk = start(s);
    act(s, "access-turned");
    update_access(s);
    CHECK(desk.report()->best()->turn_board_deg == doctest::Approx(0.0));
    act(s, "access-unturned");
    CHECK(desk.query.board_turn_deg == 0.0);
}

TEST_CASE("how the board lies is forgotten, and said to be, where it has to be turned over for the next part") {
    Session s;
    AccessDesk& desk = start(s);
    change_access(s, [](analysis::AccessQuery& query) { query.board_turn_deg = 90.0; });
    update_access(s);
    s.flip_side(); // only looked at from behind
    update_access(s);
    CHECK(desk.query.board_turn_deg == 90.0);
    s.editor.select({Id{"r9"}});
    update_access(s);
    CHECK(desk.query.board_turn_deg == 0.0);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text.starts_with("R9 is on the bottom side: with the board turned over"));
    s.editor.clear_notice();
    s.editor.select({Id{"r2"}});
    update_access(s);
    CHECK_FALSE(s.editor.notice()); // nothing was told, nothing is forgotten
}

TEST_CASE("the way to a part that is not there says so") {
    document::Footprint part = part_of("chip-1608M", "C14", {0, 0});
    CHECK(why_not_to_be_held(part).empty());
    part.condition.presence = document::Presence::Missing;
    CHECK(why_not_to_be_held(part).starts_with("C14 is marked as missing"));
}

TEST_CASE("a heat plan of the part says who floats") {
    Session s;
    const geometry::Ring ring{{-3, -4}, {13, -4}, {13, 4}, {-3, 4}};
    document::Chart chart = document::set_outline(row_of_chips(), geometry::Polygon{ring, {}}).value();
    document::HeatPlan plan;
    plan.id = Id{"hp"};
    plan.target = Id{"r2"};
    plan.aim = {5, 0};
    plan.set_point_c = 450;
    plan.dwell_s = 120;
    plan.preheat_c = 150;
    s.editor.start_new(document::put(chart, plan).value());
    s.show_stage(scene::Stage::Access);
    s.editor.select({Id{"r2"}});
    wait_for_access(s);
    const AccessDesk& desk = s.desks.get<AccessDesk>();
    CHECK(desk.query.knows_molten);
    CHECK_FALSE(desk.query.molten.empty()); // on so small a board the other chips melt too
    s.editor.select({Id{"r1"}});
    update_access(s);
    CHECK_FALSE(desk.query.knows_molten);
}

TEST_CASE("looking near brings the target's surroundings into the middle") {
    Session s;
    start(s);
    act(s, "access-near");
    CHECK(geometry::distance(s.camera.centre(), {5, 0}) < 3.0);
    CHECK(s.camera.px_per_mm() > 40.0);
}

} // namespace padchart::app
