#include "support.hpp"

#include "scene/labels.hpp"

#include "app/actions.hpp"
#include "app/selected_thing.hpp"
#include "app/survey_desk.hpp"
#include "document/things.hpp"

namespace padchart::app {
namespace {

using document::BodyState;
using document::Condition;
using document::Id;
using document::JointState;
using document::LandState;
using document::Presence;
using document::Reading;
using document::Seating;
using document::Side;
using document::SpecialValue;

void open_bench(Session& s) {
    s.editor.start_new(row_of_chips());
    s.background.update(s.editor.snapshot());
}

Presence presence_of(const Session& s, const char* name) {
    return part_named(s.editor.chart(), name).condition.presence;
}

void press(Session& s, Chord chord) {
    const Action* action = action_for(chord);
    REQUIRE(action != nullptr);
    run(*action, s);
}

TEST_CASE("a digit marks presence in survey and inspect, and elsewhere says that it did not") {
    using scene::Stage;
    Session s;
    open_bench(s);
    s.editor.select({Id{"r1"}});
    for (const Stage stage : {Stage::Orient, Stage::Heat, Stage::Access, Stage::HandOver}) {
        s.show_stage(stage);
        s.editor.clear_notice();
        press(s, {Key::Digit2});
        CHECK(presence_of(s, "R1") == Presence::NotChecked);
        REQUIRE(s.editor.notice());
        CHECK(s.editor.notice()->text == "R1 was not marked as missing: that is done in Survey or Inspect.");
    }
    CHECK_FALSE(s.editor.history().can_undo());
    s.show_stage(Stage::Inspect);
    press(s, {Key::Digit2});
    CHECK(presence_of(s, "R1") == Presence::Missing);
    s.show_stage(Stage::Survey);
    press(s, {Key::Digit1});
    CHECK(presence_of(s, "R1") == Presence::Present);
}

TEST_CASE("what the state form says most often is in the list of actions and does one step each") {
    Session s;
    open_bench(s);
    s.editor.select({Id{"r1"}});
    const auto condition = [&] { return part_named(s.editor.chart(), "R1").condition; };
    run(*find_action("state-loose"), s);
    CHECK(condition().presence == Presence::Present);
    CHECK(condition().seating == Seating::Loose);
    run(*find_action("state-good"), s);
    CHECK(condition().joint == JointState::Good);
    s.desks.get<SurveyDesk>().pad = {Id{"r1"}, 1};
    run(*find_action("state-lifted"), s);
    CHECK(part_named(s.editor.chart(), "R1").pads[1].land == LandState::Lifted);
    run(*find_action("state-not-needed"), s);
    CHECK(s.desks.get<SurveyDesk>().deciding == Id{"r1"});
    CHECK(s.desks.get<SurveyDesk>().wants_reason);
    for (int i = 0; i < 3; ++i)
        s.editor.undo();
    CHECK_FALSE(s.editor.history().can_undo());
}

TEST_CASE("a lifted land is put down by the pad that is clicked next, in one step") {
    Session s;
    open_bench(s);
    s.editor.select({Id{"r2"}});
    begin_lifted_land(s, Id{"r2"});
    CHECK(awaits_lifted_land(s, Id{"r2"}));
    CHECK_FALSE(awaits_lifted_land(s, Id{"r1"}));
    CHECK(s.desks.get<SurveyDesk>().wants_pads);
    put_down_lifted_land(s, Id{"r2"}, 1);
    CHECK_FALSE(awaits_lifted_land(s, Id{"r2"}));
    const document::Footprint& part = part_named(s.editor.chart(), "R2");
    CHECK(part.pads[0].land == LandState::NotChecked);
    CHECK(part.pads[1].land == LandState::Lifted);
    CHECK(s.editor.history().current().label == "Land of pad 2 of R2 lifted");
    CHECK(s.desks.get<SurveyDesk>().pad.pad == 1);
    s.editor.undo();
    CHECK(part_named(s.editor.chart(), "R2").pads[1].land == LandState::NotChecked);
    begin_lifted_land(s, Id{"r2"});
    s.use_tool(s.resting_tool()); // left
    CHECK_FALSE(awaits_lifted_land(s, Id{"r2"}));
}

TEST_CASE("a lifted land of a part on the other side turns the board over first") {
    Session s;
    open_bench(s);
    s.editor.select({Id{"r9"}});
    begin_lifted_land(s, Id{"r9"});
    CHECK(s.seen_from == Side::Bottom);
    CHECK(awaits_lifted_land(s, Id{"r9"}));
}

TEST_CASE("what is typed while a note or a reading waits for its click sets off no action") {
    Session s;
    open_bench(s);
    s.editor.select({Id{"r1"}});
    for (const Chord& begins : {Chord{Key::M}, shift(Key::N)}) {
        press(s, begins);
        REQUIRE(s.tool->awaits_click());
        for (const Key key : {Key::Digit1, Key::Period, Key::Digit2, Key::K, Key::F, Key::Comma, Key::Slash})
            for (const Chord& typed : {Chord{key}, shift(key)}) {
                s.editor.clear_notice();
                CHECK(held_back(s, typed));
                REQUIRE(s.editor.notice());
                CHECK(s.editor.notice()->text == "Click the place first, then type. Esc leaves.");
            }
        // Keys nobody types words with do what they always do.
        for (const Chord& other : {ctrl(Key::Z), Chord{Key::Home}, Chord{Key::F2}, Chord{Key::Plus}})
            CHECK_FALSE(held_back(s, other));
    }
    CHECK(held_back(s, {Key::Digit2}));
    s.use_tool(s.resting_tool());
    CHECK_FALSE(s.editor.notice()); // what is asked for goes with the tool that asks
    CHECK_FALSE(held_back(s, {Key::Digit2}));
}

TEST_CASE("what is typed beside the open form of a note or a reading goes to the form and sets off no action") {
    Session s;
    open_bench(s);
    s.editor.select({Id{"r1"}});
    const document::Chart before = s.editor.chart();
    begin_reading(s, {1, 1}, Side::Top, Id{"r1"}, "1");
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    pin.wants_focus = false;
    CHECK(held_back(s, {Key::Digit2}));
    CHECK(pin.wants_focus);
    CHECK(s.editor.notice()->text == "The open reading takes the keys; Esc leaves it.");
    CHECK(s.editor.chart() == before);
    CHECK_FALSE(held_back(s, {Key::Home}));
    s.show_stage(scene::Stage::Orient); // the form is not to be seen there
    CHECK_FALSE(held_back(s, {Key::Digit2}));
}

TEST_CASE("one key leaves the faults and the absence of a part and says so") {
    Session s;
    open_bench(s);
    document::Chart chart = s.editor.chart();
    chart = document::change_part(chart, Id{"r1"}, [](document::Footprint& part) {
                part.condition.presence = Presence::Present;
                part.condition.seating = Seating::Skewed;
            }).value();
    chart = document::change_part(chart, Id{"r2"}, [](document::Footprint& part) {
                part.condition.presence = Presence::Missing;
            }).value();
    REQUIRE(s.editor.commit(chart, "Found"));
    s.editor.select({Id{"r1"}});
    mark_good_and_go_on(s);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text.starts_with("R1 stays as it is: skewed"));
    CHECK(s.editor.history().current().label == "Mark R1 as present");
    s.editor.select({Id{"r2"}});
    const document::Chart now = s.editor.chart();
    mark_good_and_go_on(s);
    CHECK(s.editor.chart() == now);
    CHECK(s.editor.notice()->text.starts_with("R2 stays as it is: missing"));
}

TEST_CASE("one key marks part after part as one reads and goes over to the other side") {
    Session s;
    open_bench(s);
    press(s, {Key::F}); // nothing selected: the first one
    REQUIRE(s.editor.selected_part() != nullptr);
    CHECK(s.editor.selected_part()->name == "R1");
    CHECK(presence_of(s, "R1") == Presence::NotChecked);
    press(s, {Key::F});
    CHECK(presence_of(s, "R1") == Presence::Present);
    CHECK(s.editor.selected_part()->name == "R2");
    press(s, {Key::F});
    press(s, {Key::F});
    CHECK(presence_of(s, "R3") == Presence::Present);
    CHECK(s.editor.selected_part()->name == "R9");
    CHECK(s.seen_from == Side::Bottom);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "Turn the board over: R9 is on the bottom.");
    press(s, {Key::F});
    CHECK(presence_of(s, "R9") == Presence::Present);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "Every part has been looked at: 4 of 4 checked.");
    s.editor.undo(); // one part, one step
    CHECK(presence_of(s, "R9") == Presence::NotChecked);
    CHECK(presence_of(s, "R3") == Presence::Present);
}

TEST_CASE("the walk passes over a part that is gone") {
    Session s;
    open_bench(s);
    Condition gone;
    gone.presence = Presence::Missing;
    s.editor.commit(document::set_condition(s.editor.chart(), Id{"r2"}, gone), "State");
    s.go_to(Id{"r2"});
    mark_good_and_go_on(s);
    CHECK(presence_of(s, "R2") == Presence::Missing);
    CHECK(s.editor.selected_part()->name == "R3");
}

TEST_CASE("present and good answers what was open and takes no fault back") {
    Condition before;
    before.joint = JointState::Cold;
    const Condition after = good(before);
    CHECK(after.presence == Presence::Present);
    CHECK(after.seating == Seating::Good);
    CHECK(after.joint == JointState::Cold);
    CHECK(after.body == BodyState::Good);
    CHECK(after.land == LandState::NotChecked); // nobody sees under a joint
}

TEST_CASE("comma and period go along the reading order and round") {
    Session s;
    open_bench(s);
    press(s, {Key::Period});
    CHECK(s.editor.selected_part()->name == "R1");
    press(s, {Key::Period});
    CHECK(s.editor.selected_part()->name == "R2");
    press(s, {Key::Comma});
    press(s, {Key::Comma});
    CHECK(s.editor.selected_part()->name == "R3");
}

TEST_CASE("a note is pinned and edited and moved and deleted") {
    Session s;
    open_bench(s);
    begin_note(s, {5, 0}, Side::Top, Id{"r2"});
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    CHECK_FALSE(put_down_note(s)); // it says nothing yet
    CHECK_FALSE(pin.error.empty());
    CHECK(s.editor.chart().notes.empty());
    pin.note->text = "flux all round";
    pin.note->author = "bench 1";
    REQUIRE(put_down_note(s));
    REQUIRE(s.editor.chart().notes.size() == 1);
    const document::Note note = s.editor.chart().notes[0];
    CHECK(note.target == Id{"r2"});
    CHECK(note.date.size() == 10);
    REQUIRE(selected_thing(s.editor));
    CHECK(*selected_thing(s.editor) == note.id);
    s.editor.nudge({1, 2});
    CHECK(s.editor.chart().notes[0].at == geometry::Vec2{6, 2});
    s.editor.turn(Angle::degrees(90), Side::Top); // a note has no turn
    CHECK(s.editor.chart().notes[0].at == geometry::Vec2{6, 2});
    s.editor.remove_selected();
    CHECK(s.editor.chart().notes.empty());
    begin_note(s, {0, 0}, Side::Top, {});
    CHECK(pin.note->author == "bench 1"); // offered again
}

TEST_CASE("a reading keeps meter and leads for the next one but never the value") {
    Session s;
    open_bench(s);
    begin_reading(s, {5, 0}, Side::Top, Id{"r2"}, "1");
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    CHECK(pin.reading->unit == "V");
    CHECK_FALSE(put_down_reading(s)); // a reading without a value is none
    pin.value = "0,482";
    pin.reading->meter = "meter 2";
    pin.reading->leads = document::Leads::RedOnGround;
    REQUIRE(put_down_reading(s));
    const Reading first = s.editor.chart().readings[0];
    CHECK(std::get<double>(first.value) == doctest::Approx(0.482));
    CHECK(first.pad == "1");
    begin_reading(s, {10, 0}, Side::Top, Id{"r3"}, "");
    CHECK(pin.reading->meter == "meter 2");
    CHECK(pin.reading->leads == document::Leads::RedOnGround);
    CHECK(pin.value.empty());
    pin.value = "ol";
    REQUIRE(put_down_reading(s));
    CHECK(std::get<SpecialValue>(s.editor.chart().readings[1].value) == SpecialValue::OverLimit);
}

TEST_CASE("what the meter shows is read as a hand writes it") {
    const auto number = [](const char* text, const char* unit) {
        const auto value = read_measured(text, unit);
        CAPTURE(text);
        REQUIRE(value);
        return std::get<double>(*value);
    };
    CHECK(number("0.482", "V") == doctest::Approx(0.482));
    CHECK(number("482 mV", "V") == doctest::Approx(0.482));
    CHECK(number("4.7k", "ohm") == doctest::Approx(4700));
    CHECK(number("4.7 kohm", "ohm") == doctest::Approx(4700));
    CHECK(number("1k2", "ohm") == doctest::Approx(1200));
    CHECK(number("4k7ohm", "ohm") == doctest::Approx(4700));
    CHECK(number("-0m5", "V") == doctest::Approx(-0.0005));
    CHECK(number("-0.1", "V") == doctest::Approx(-0.1));
    CHECK(number("1e-9", "F") == doctest::Approx(1e-9));
    CHECK(std::get<SpecialValue>(*read_measured("OL", "V")) == SpecialValue::OverLimit);
    CHECK(std::get<SpecialValue>(*read_measured(" short ", "V")) == SpecialValue::Short);
    for (const char* wrong : {"", "good", "1.2.3", "5 apples", "1.2k3", "1x2", "nan", "inf"})
        CHECK_FALSE(read_measured(wrong, "V"));
}

// 0.000 in diode mode is a short to ground, OL is open: instrument handbooks; beginners read OL as short.
TEST_CASE("a zero and an OL say what they mean") {
    Reading reading;
    reading.value = 0.0;
    CHECK(what_it_says(reading).find("short") != std::string_view::npos);
    reading.value = SpecialValue::OverLimit;
    CHECK(what_it_says(reading).find("open") != std::string_view::npos);
    reading.value = 0.5;
    CHECK(what_it_says(reading).empty());
    reading.quantity = document::Quantity::Resistance;
    reading.value = 0.0;
    CHECK(what_it_says(reading).empty());
}

TEST_CASE("Escape drops what is about to be put down and nothing else") {
    Session s;
    open_bench(s);
    CHECK_FALSE(survey_key(s, {Key::Escape}));
    begin_note(s, {5, 0}, Side::Top, {});
    CHECK_FALSE(survey_key(s, {Key::F}));
    CHECK(survey_key(s, {Key::Escape}));
    CHECK_FALSE(s.desks.get<SurveyDesk>().pin.note);
    CHECK(s.editor.chart().notes.empty());
}

TEST_CASE("what is called good with a lifted land says that the land stays lifted") {
    Session s;
    open_bench(s);
    s.go_to(Id{"r1"});
    put_down_lifted_land(s, Id{"r1"}, 0);
    mark_good(s);
    CHECK(s.editor.history().current().label == "Mark R1 as present and good, a land stays lifted");
    s.go_to(Id{"r2"});
    mark_good(s);
    CHECK(s.editor.history().current().label == "Mark R2 as present and good");
}

TEST_CASE("searching shows the list whatever is selected") {
    Session s;
    open_bench(s);
    s.show_stage(scene::Stage::Orient);
    s.go_to(Id{"r2"});
    press(s, ctrl(Key::F));
    CHECK(s.stage == scene::Stage::Survey);
    CHECK(s.editor.selection().empty());
    CHECK(s.desks.get<SurveyDesk>().wants_search);
}

TEST_CASE("the pad in hand and a pin about to be put down are shown on their side") {
    Session s;
    open_bench(s);
    s.go_to(Id{"r2"});
    s.desks.get<SurveyDesk>().pad = {Id{"r2"}, 1};
    scene::Scene shown;
    add_survey_overlay(s, shown);
    CHECK(shown.lines.size() == 1);
    begin_note(s, {5, 0}, Side::Top, {});
    scene::Scene with_pin;
    add_survey_overlay(s, with_pin);
    CHECK(with_pin.symbols.size() == 1);
    s.flip_side();
    scene::Scene other_side;
    add_survey_overlay(s, other_side);
    CHECK(other_side.lines.empty());
    CHECK(other_side.symbols.empty());
}

TEST_CASE("that a pin is not on the chart yet is read whole at either edge of the view") {
    Session s;
    open_bench(s);
    s.camera.set_viewport({{0, 0}, {400, 300}});
    s.camera.look_at({5, 0}, 40);
    const geometry::Box seen = s.camera.visible();
    for (const double x : {seen.min.x + 0.1, seen.max.x - 0.1}) {
        begin_note(s, {x, 0}, Side::Top, {});
        scene::Scene shown;
        add_survey_overlay(s, shown);
        REQUIRE(shown.texts.size() == 1);
        const geometry::Box words = scene::box_of(shown.texts[0], s.camera.px_per_mm() / s.ui_scale);
        CHECK(words.min.x >= seen.min.x);
        CHECK(words.max.x <= seen.max.x);
        drop_pins(s);
    }
}

TEST_CASE("a reading that no meter can have shown is questioned") {
    Session s;
    open_bench(s);
    begin_reading(s, {0, 0}, Side::Top, Id{"r1"}, "1");
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    REQUIRE(pin.reading->quantity == document::Quantity::DiodeDrop);
    pin.value = "1.2k";
    CHECK_FALSE(put_down_reading(s));
    CHECK(pin.error.find("A diode drop of 1200 V cannot be") == 0);
    pin.value = "0.482";
    CHECK(put_down_reading(s));
    CHECK(why_impossible(document::Quantity::Temperature, -300.0, "\u00b0C").find("-300 \u00b0C cannot be") == 0);
    CHECK(why_impossible(document::Quantity::Resistance, 1200.0, "ohm").empty());
    CHECK(why_impossible(document::Quantity::DiodeDrop, SpecialValue::OverLimit, "V").empty());
}

TEST_CASE("Esc in front of a list that is searched shows all of it again") {
    Session s;
    open_bench(s);
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    desk.wishes.text = "r2";
    s.editor.select({Id{"r2"}});
    CHECK_FALSE(survey_key(s, {Key::Escape})); // deselects first
    s.editor.select({});
    CHECK(survey_key(s, {Key::Escape}));
    CHECK(desk.wishes.text.empty());
    CHECK_FALSE(survey_key(s, {Key::Escape}));
}

TEST_CASE("the pad of a lifted land is chosen by keys and put down by Enter") {
    Session s;
    open_bench(s);
    s.editor.select({Id{"r2"}});
    press(s, {ctrl(Key::Period)}); // chosen before, else the first action takes the chosen one at once
    CHECK(s.desks.get<SurveyDesk>().pad.pad == 0);
    CHECK(s.editor.notice()->text == "Pad 1 of R2 is chosen.");
    s.desks.get<SurveyDesk>().pad = {};
    run(*find_action("state-lifted"), s);
    REQUIRE(awaits_lifted_land(s, Id{"r2"}));
    const scene::Scene scene;
    const scene::HitTest hits(scene);
    const ToolContext here{s.editor, s.seen_from, scene, hits};
    CHECK(s.tool->key(here, {Key::Enter})); // none is chosen yet: it waits on
    CHECK_FALSE(s.tool->is_done());
    press(s, ctrl(Key::Comma));
    CHECK(s.desks.get<SurveyDesk>().pad.pad == 1); // round
    CHECK(awaits_lifted_land(s, Id{"r2"}));
    CHECK(s.tool->key(here, {Key::Enter}));
    CHECK(s.tool->is_done());
    CHECK(part_named(s.editor.chart(), "R2").pads[1].land == LandState::Lifted);
}

} // namespace
} // namespace padchart::app
