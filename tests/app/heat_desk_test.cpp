#include "app/heat_desk.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <thread>

#include "app/actions.hpp"
#include "app/documents.hpp"
#include "app/heat_edits.hpp"
#include "app/heat_shields.hpp"
#include "document/edits.hpp"
#include "support.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Id;
using geometry::Vec2;

/// The row of chips on a board of 16 by 8 mm. Invented.
std::shared_ptr<const Chart> small_board() {
    const geometry::Ring ring{{-3, -4}, {13, -4}, {13, 4}, {-3, 4}};
    return std::make_shared<const Chart>(document::set_outline(row_of_chips(), geometry::Polygon{ring, {}}).value());
}

void start(Session& s) {
    s.editor.start_new(*small_board());
    s.heat.wants_map = false;
    s.show_stage(scene::Stage::Heat);
}

void act(Session& s, std::string_view id) {
    const Action* action = find_action(id);
    REQUIRE_MESSAGE(action != nullptr, id);
    CHECK_MESSAGE(action->enabled(s), id);
    run(*action, s);
}

/// Until the estimate belongs to the plan in hand.
void settle(Session& s) {
    s.wait_for_heat();
}

} // namespace

TEST_CASE("the plan of a part begins with the usual settings at its middle and is not in the chart yet") {
    Session s;
    start(s);
    s.update_heat();
    CHECK_FALSE(s.heat.has_plan());
    s.editor.select({Id{"r2"}});
    s.update_heat();
    REQUIRE(s.heat.has_plan());
    CHECK(s.heat.plan().target == Id{"r2"});
    CHECK(s.heat.plan().aim == Vec2{5, 0});
    CHECK(s.heat.plan().nozzle_bore_mm == s.editor.chart().rules.nozzle_bore_mm);
    CHECK_FALSE(s.heat.is_saved(s.editor.chart()));
    CHECK(s.editor.chart().heat_plans.empty());
}

TEST_CASE("a plan that was begun goes into the chart in one step and undo leaves it in hand as it was begun") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    CHECK_FALSE(s.heat.is_changed());
    const std::size_t steps = s.editor.history().steps().size();
    act(s, "heat-save");
    CHECK(s.editor.history().steps().size() == steps + 1);
    REQUIRE(s.editor.chart().heat_plans.size() == 1);
    CHECK(s.editor.chart().heat_plans[0].name == "lift R2");
    CHECK(s.heat.is_saved(s.editor.chart()));
    CHECK_FALSE(find_action("heat-save")->enabled(s));
    s.editor.undo();
    s.update_heat();
    CHECK(s.editor.chart().heat_plans.empty());
    REQUIRE(s.heat.has_plan());
    CHECK(s.heat.plan().set_point_c == 350);
    CHECK_FALSE(s.heat.is_changed());
    CHECK_FALSE(s.heat.is_saved(s.editor.chart()));
}

TEST_CASE("what the hand changes on a plan of the chart is a step of history, which undo takes back before all else") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    act(s, "heat-save");
    s.editor.set_presence(document::Presence::Missing);
    act(s, "preheater");
    CHECK(s.editor.history().current().label == "Heat plan for R2: preheater on");
    CHECK(s.editor.chart().heat_plans[0].preheat_c == 100);
    CHECK_FALSE(s.editor.is_saved());
    s.editor.undo();
    s.update_heat();
    CHECK(s.editor.notice()->text == "Undone: Heat plan for R2: preheater on");
    CHECK_FALSE(s.heat.plan().preheat_c);
    CHECK(part_named(s.editor.chart(), "R2").condition.presence == document::Presence::Missing);
    s.editor.redo();
    s.update_heat();
    CHECK(s.heat.plan().preheat_c == 100);
}

TEST_CASE("the first change of a plan that was only begun puts it into the chart, and undo takes both back") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    act(s, "air-hotter");
    REQUIRE(s.editor.chart().heat_plans.size() == 1);
    CHECK(s.editor.chart().heat_plans[0].set_point_c == 355);
    CHECK(s.editor.chart().heat_plans[0].name == "lift R2");
    s.editor.undo();
    s.update_heat();
    CHECK(s.editor.chart().heat_plans.empty());
    CHECK(s.heat.plan().set_point_c == 350);
    s.editor.redo();
    s.update_heat();
    CHECK(s.heat.plan().set_point_c == 355);
    // Without a frame between: what was undone is not taken for a change by hand.
    s.editor.undo();
    act(s, "dwell-longer");
    CHECK(s.editor.chart().heat_plans[0].set_point_c == 350);
    CHECK(s.editor.chart().heat_plans[0].dwell_s == 46);
}

TEST_CASE("the same small step again and again is one step of history, another one is its own") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    const std::size_t steps = s.editor.history().steps().size();
    for (int i = 0; i < 5; ++i)
        act(s, "aim-right");
    CHECK(s.editor.history().steps().size() == steps + 1);
    CHECK(s.editor.history().current().label == "Heat plan for R2: aim");
    act(s, "dwell-longer");
    CHECK(s.editor.history().steps().size() == steps + 2);
}

TEST_CASE("a slider is kept when the hand rests, also where the stage is left or the window closed before") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    act(s, "heat-save");
    const std::size_t steps = s.editor.history().steps().size();
    const auto slide = [&](double dwell_s) {
        change_plan(
            s, [&](document::HeatPlan& plan) { plan.dwell_s = dwell_s; }, true);
        s.update_heat();
    };
    slide(50);
    slide(60);
    CHECK(s.editor.history().steps().size() == steps);
    CHECK(s.heat.plan().dwell_s == 60);
    rest_plan(s.editor, s.heat);
    CHECK(s.editor.history().steps().size() == steps + 1);
    slide(70);
    s.show_stage(scene::Stage::Survey);
    CHECK(s.editor.chart().heat_plans[0].dwell_s == 70);
    s.show_stage(scene::Stage::Heat);
    const ScratchFolder folder;
    REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));
    REQUIRE(s.editor.is_saved());
    slide(80);
    ask_or_do(s, AfterSaving::Quit);
    CHECK_FALSE(s.wants_quit);
    CHECK(std::holds_alternative<UnsavedDialog>(s.dialog));
    CHECK(s.editor.chart().heat_plans[0].dwell_s == 80);
}

TEST_CASE("a plan that was begun and not touched is nobody's work and closes without a question") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    REQUIRE(s.heat.has_plan());
    CHECK(s.editor.is_saved());
    ask_or_do(s, AfterSaving::Quit);
    CHECK(s.wants_quit);
}

TEST_CASE("a plan taken out of the chart gives way to the part's other one") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    act(s, "air-hotter");
    act(s, "heat-save-another");
    CHECK(s.heat.plan().name == "lift R2, another way");
    act(s, "air-hotter");
    const Id second = s.heat.plan().id;
    REQUIRE(s.editor.commit(document::remove(s.editor.chart(), std::array{second}), "Delete the heat plan"));
    s.update_heat();
    CHECK(s.heat.plan().name == "lift R2");
    CHECK(s.heat.plan().set_point_c == 355);
    CHECK(s.heat.is_saved(s.editor.chart()));
}

TEST_CASE("what was changed on a plan is there again after looking at another part") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    act(s, "aim-far-right");
    CHECK(s.heat.plan().aim == Vec2{6, 0});
    s.editor.select({Id{"r1"}});
    act(s, "heat-target");
    CHECK(s.heat.plan().aim == Vec2{0, 0});
    s.editor.select({Id{"r2"}});
    act(s, "heat-target");
    CHECK(s.heat.plan().aim == Vec2{6, 0});
    act(s, "aim-middle");
    CHECK(s.heat.plan().aim == Vec2{5, 0});
}

TEST_CASE("right on the keyboard is right on the screen also from below") {
    Session s;
    start(s);
    s.editor.select({Id{"r9"}});
    s.update_heat();
    s.flip_side();
    const Vec2 before = s.heat.plan().aim;
    act(s, "aim-far-right");
    CHECK(s.heat.plan().aim == before - Vec2{1, 0});
}

TEST_CASE("a plan whose part is gone is let go") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    REQUIRE(s.heat.has_plan());
    s.editor.remove_selected();
    s.update_heat();
    CHECK_FALSE(s.heat.has_plan());
}

TEST_CASE("the estimate belongs to the plan in hand once waited for and is the fine one") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    settle(s);
    REQUIRE(s.heat.estimate());
    REQUIRE(s.heat.estimate()->report);
    CHECK_FALSE(s.heat.estimate()->is_quick);
    CHECK_FALSE(s.heat.is_stale());
    CHECK(s.heat.estimate()->question.plan.aim == Vec2{5, 0});
    CHECK(s.heat.estimate()->report->target.name == "R2");
    const double before = s.heat.estimate()->report->target.peak_mean_c.nominal;
    for (int i = 0; i < 6; ++i)
        act(s, "air-cooler");
    settle(s);
    // Own reasoning, no number: air that is 30 degrees cooler heats less.
    CHECK(s.heat.estimate()->report->target.peak_mean_c.nominal < before);
}

TEST_CASE("a map that is done is not worked out again, also where nobody has looked at it yet") {
    Session s;
    start(s);
    s.heat.wants_map = true;
    s.editor.select({Id{"r2"}});
    settle(s);
    REQUIRE(s.heat.map() != nullptr);
    s.heat.change([&] {
        document::HeatPlan plan = s.heat.plan();
        plan.set_point_c += 10;
        return plan;
    }());
    s.update_heat();
    std::this_thread::sleep_for(std::chrono::milliseconds(200)); // the map waits until the hand has rested
    s.update_heat();
    REQUIRE(s.heat.is_map_busy());
    while (s.heat.is_map_busy())
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    s.update_heat();
    CHECK_FALSE(s.heat.is_map_busy());
    const app::NoAimAnswer* map = s.heat.map();
    REQUIRE(map != nullptr);
    CHECK_FALSE(map->is_quick);
    CHECK_FALSE(s.heat.is_map_stale());
}

TEST_CASE("words of a plan and its keeping ask for no new estimate") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    settle(s);
    const std::shared_ptr<const Estimate> before = s.heat.estimate();
    change_plan(s, [](document::HeatPlan& plan) { plan.name = "another name"; });
    settle(s);
    CHECK(s.heat.estimate() == before);
    CHECK_FALSE(s.heat.is_stale());
}

TEST_CASE("a setting that no bench has is refused in words and the plan stays as it was") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    change_plan(s, [](document::HeatPlan& plan) { plan.flow_l_per_min = 0.0; });
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->severity == Severity::Fault);
    CHECK(s.editor.notice()->text.find("flow") != std::string::npos);
    CHECK(s.heat.plan().flow_l_per_min == 30);
    CHECK(s.editor.chart().heat_plans.empty());
}

TEST_CASE("the second plan is computed beside the first and can be dropped") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    act(s, "heat-save");
    act(s, "heat-save-another");
    act(s, "air-cooler");
    REQUIRE(s.editor.chart().heat_plans.size() == 2);
    CHECK(s.editor.chart().heat_plans[1].set_point_c == 345);
    act(s, "heat-compare");
    CHECK(s.heat.compared == s.editor.chart().heat_plans[0].id);
    settle(s);
    REQUIRE(s.heat.second() != nullptr);
    REQUIRE(s.heat.second()->report);
    CHECK(s.heat.second()->report->target.peak_mean_c.nominal > s.heat.estimate()->report->target.peak_mean_c.nominal);
    act(s, "heat-compare-not");
    s.update_heat();
    CHECK(s.heat.second() == nullptr);
}

TEST_CASE("the times of the lines stay within the run") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    CHECK_FALSE(s.heat.time_s);
    act(s, "heat-later");
    CHECK(s.heat.time_s == 46);
    for (int i = 0; i < 100; ++i)
        act(s, "heat-later");
    CHECK(s.heat.time_s == 105); // dwell 45 s and 60 s of cooling
    act(s, "heat-peak");
    CHECK_FALSE(s.heat.time_s);
    const std::vector<double> times = snapshot_times(45, 60);
    CHECK(std::is_sorted(times.begin(), times.end()));
    CHECK(times.front() == 0);
    CHECK(times.back() == doctest::Approx(105));
    CHECK(std::find(times.begin(), times.end(), 45.0) != times.end());
}

TEST_CASE("every action of the heat stage rests where there is no plan or another stage") {
    Session s;
    start(s);
    for (const Action& action : actions())
        if (action.group == "Heat plan") CHECK_FALSE_MESSAGE(action.enabled(s), action.id);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    s.show_stage(scene::Stage::Survey);
    for (const Action& action : actions())
        if (action.group == "Heat plan") CHECK_FALSE_MESSAGE(action.enabled(s), action.id);
}

TEST_CASE("the nozzle is dragged and Escape puts it back while parts stay") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    scene::ViewOptions options;
    const scene::Scene picture = scene::chart_scene(s.editor.chart(), {}, options);
    const scene::HitTest hits(picture);
    const ToolContext context{s.editor, document::Side::Top, picture, hits};
    const auto at = [](Vec2 mm) { return Pointer{mm, 40, 1, false, false}; };
    s.tool->press(context, at({5.5, 0.5}));
    s.tool->move(context, at({6.5, 1.5}));
    CHECK(s.heat.plan().aim == Vec2{6, 1});
    CHECK(s.tool->cancel(context));
    CHECK(s.heat.plan().aim == Vec2{5, 0});
    CHECK_FALSE(s.heat.is_changed());
    CHECK(s.editor.chart().heat_plans.empty());
    s.tool->press(context, at({5.5, 0.5}));
    s.tool->move(context, at({6.5, 1.5}));
    s.tool->release(context, at({7.5, 2.5}));
    CHECK(s.heat.plan().aim == Vec2{7, 2});
    CHECK(s.editor.history().current().label == "Heat plan for R2: aim");
    CHECK(part_named(s.editor.chart(), "R2").placement.at == Vec2{5, 0});
    // A click selects, also on the part the nozzle hangs over; dragging a part away from the nozzle moves nothing.
    s.tool->press(context, at({0, 0}));
    s.tool->move(context, at({1, 3}));
    s.tool->release(context, at({1, 3}));
    CHECK(part_named(s.editor.chart(), "R1").placement.at == Vec2{0, 0});
    CHECK(s.editor.is_selected(Id{"r1"}));
}

TEST_CASE("advice is taken over with the shield it needs in one step") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    act(s, "heat-save");
    analysis::AdvisedPlan advised;
    advised.plan = s.heat.plan();
    advised.plan.set_point_c = 320;
    document::Shield shield;
    shield.id = Id{"sh-new"};
    shield.name = "foil over R3";
    shield.outline.outer = {{9, -1}, {11, -1}, {11, 1}, {9, 1}};
    advised.new_shields.push_back(shield);
    advised.plan.shields = {shield.id};
    const std::size_t steps = s.editor.history().steps().size();
    apply_advice(s, advised);
    CHECK(s.editor.history().steps().size() == steps + 1);
    CHECK(s.editor.chart().shields.size() == 1);
    CHECK(s.heat.plan().set_point_c == 320);
    CHECK(s.heat.plan().name == "lift R2");
    CHECK(s.heat.plan().shields == std::vector<Id>{shield.id});
}

TEST_CASE("a shield that is laid on the board acts at once and one that is taken away no longer does") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    document::Shield foil;
    foil.id = Id{"sh-1"};
    foil.name = "foil";
    foil.outline.outer = {{9, -1}, {11, -1}, {11, 1}, {9, 1}};
    document::Shield below = foil;
    below.id = Id{"sh-2"};
    below.side = document::Side::Bottom;
    REQUIRE(s.editor.commit(document::put(s.editor.chart(), foil), "Lay foil"));
    s.update_heat();
    CHECK(s.heat.plan().shields == std::vector<Id>{foil.id});
    REQUIRE(s.editor.commit(document::put(s.editor.chart(), below), "Lay foil below"));
    s.update_heat();
    CHECK(s.heat.plan().shields == std::vector<Id>{foil.id}); // the air comes from above
    CHECK(s.heat.is_saved(s.editor.chart()));                 // in the step that laid it
    s.editor.undo();
    s.editor.undo();
    s.update_heat();
    CHECK(s.heat.plan().shields.empty());
    s.editor.redo();
    s.update_heat();
    CHECK(s.heat.plan().shields == std::vector<Id>{foil.id});
    // What was laid in another stage waits to be put in place by hand.
    s.editor.undo();
    s.update_heat();
    s.show_stage(scene::Stage::Survey);
    s.update_heat();
    REQUIRE(s.editor.commit(document::put(s.editor.chart(), foil), "Lay foil"));
    s.show_stage(scene::Stage::Heat);
    s.update_heat();
    CHECK(s.heat.plan().shields.empty());
}

TEST_CASE("a preheater that is switched on again is as hot as it was, each plan's for itself") {
    Session s;
    start(s);
    s.editor.select({Id{"r2"}});
    s.update_heat();
    change_plan(s, [](document::HeatPlan& plan) { plan.preheat_c = 135.0; });
    act(s, "preheater");
    CHECK_FALSE(s.heat.plan().preheat_c);
    act(s, "preheater");
    CHECK(s.heat.plan().preheat_c == 135.0);
    switch_preheat(s, false);
    switch_preheat(s, true); // as the panel does
    CHECK(s.heat.plan().preheat_c == 135.0);
}

} // namespace padchart::app
