#include <fstream>
#include <thread>

#include "support.hpp"

#include "app/actions.hpp"
#include "app/documents.hpp"
#include "app/inspect_actions.hpp"
#include "app/inspect_edits.hpp"
#include "app/inspect_picture.hpp"
#include "app/today.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using document::Id;

/// Three chips and one below, all looked at, saved in a folder of its own.
struct Bench {
    explicit Bench(bool saved = true) {
        document::Chart chart = row_of_chips();
        for (std::size_t i = 0; i < chart.parts.size(); ++i) {
            Footprint part = chart.parts[i];
            part.condition.presence = document::Presence::Present;
            part.condition.joint = document::JointState::Good;
            chart.parts.replace(i, part);
        }
        chart.title.author = "M. Okafor";
        s.editor.start_new(chart);
        if (saved) REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));
        s.show_stage(scene::Stage::Inspect);
        wait_for_inspection(s);
    }
    InspectDesk& desk() { return s.desks.get<InspectDesk>(); }
    void act(const char* id) {
        const Action* action = find_action(id);
        REQUIRE(action != nullptr);
        REQUIRE_MESSAGE(action->enabled(s), id);
        run(*action, s);
        wait_for_inspection(s);
    }
    [[nodiscard]] std::string in_hand() {
        const auto at = desk().current(s.editor.chart());
        return at ? desk().answer()->steps[*at].name : "";
    }
    /// As after reading what was told.
    void read_warning() { desk().insistence.since -= std::chrono::seconds(1); }
    [[nodiscard]] bool is_ticked(const char* name) {
        return analysis::sweep_tick(s.editor.chart(), part_named(s.editor.chart(), name).id) != nullptr;
    }
    [[nodiscard]] bool has_file(const char* name) const { return std::filesystem::exists(folder.path() / name); }

    ScratchFolder folder;
    Session s;
};

void change(Session& s, const char* name, const std::function<void(Footprint&)>& how) {
    const Id id = part_named(s.editor.chart(), name).id;
    s.editor.commit(document::change_part(s.editor.chart(), id, how), "Change");
    wait_for_inspection(s);
}

TEST_CASE("freezing writes the copy and the record and saves the chart in one action") {
    Bench b;
    CHECK_FALSE(b.desk().has_before());
    b.act("freeze");
    CHECK(b.has_file("board.before.chart.json"));
    CHECK(b.s.editor.is_saved());
    const auto& record = b.s.editor.chart().frozen_before;
    REQUIRE(record);
    CHECK(record->path == "board.before.chart.json");
    CHECK(record->by == "M. Okafor");
    CHECK(record->date == today());
    CHECK(b.desk().has_before());
    CHECK(json::load_chart(b.folder.path() / "board.chart.json").value() == b.s.editor.chart());
    b.s.editor.undo();
    CHECK_FALSE(b.s.editor.chart().frozen_before);
}

TEST_CASE("a second freeze asks first and keeps the older copy") {
    Bench b;
    b.act("freeze");
    change(b.s, "R1", [](Footprint& part) { part.value = "10k"; });
    b.act("freeze");
    CHECK_FALSE(b.has_file("board.before-2.chart.json"));
    CHECK(b.desk().asks_to_freeze);
    b.act("freeze");
    CHECK(b.has_file("board.before-2.chart.json"));
    CHECK(b.has_file("board.before.chart.json"));
    CHECK(b.s.editor.chart().frozen_before->path == "board.before-2.chart.json");
}

TEST_CASE("a chart without a file asks for one and freezes once it is saved") {
    Bench b(false);
    b.act("freeze");
    const auto* dialog = std::get_if<FileDialog>(&b.s.dialog);
    REQUIRE(dialog != nullptr);
    CHECK(dialog->task == FileTask::SaveAs);
    b.s.dialog = std::monostate{};
    CHECK(finish_file_dialog(b.s, FileTask::SaveAs, (b.folder.path() / "new").string()));
    CHECK(b.has_file("new.chart.json"));
    CHECK(b.has_file("new.before.chart.json"));
    CHECK(b.s.editor.is_saved());
}

TEST_CASE("an empty chart is not frozen") {
    Session s;
    s.editor.start_new(new_chart());
    run(*find_action("freeze"), s);
    CHECK_FALSE(s.has_dialog());
    CHECK_FALSE(s.editor.chart().frozen_before);
}

TEST_CASE("one key for the same goes from part to part until all are looked at") {
    Bench b;
    b.act("freeze");
    CHECK(b.in_hand() == "R1");
    for (const char* name : {"R1", "R2", "R3", "R9"}) {
        CHECK(b.in_hand() == name);
        b.act("same");
    }
    const auto progress = analysis::sweep_progress(b.s.editor.chart(), b.desk().answer()->steps);
    CHECK(in_words(progress) == "4 of 4 compared; 0 differ; 0 not checked again");
    CHECK(b.s.editor.chart().ticks[0].by == "M. Okafor");
    CHECK(b.s.seen_from == document::Side::Bottom); // R9 sits there
    b.s.editor.undo();
    CHECK(b.s.editor.chart().ticks.size() == 3);
}

TEST_CASE("the same key gives back the states that nobody has looked at since and no others") {
    Bench b;
    b.act("freeze");
    change(b.s, "R1", [](Footprint& part) {
        part.condition.presence = document::Presence::NotChecked;
        part.condition.joint = document::JointState::Cold;
    });
    b.desk().stand_at(part_named(b.s.editor.chart(), "R1").id);
    b.act("same");
    CHECK(b.s.editor.chart().ticks.empty()); // a cold joint speaks against it
    b.read_warning();
    b.act("same");
    const Footprint& part = part_named(b.s.editor.chart(), "R1");
    CHECK(part.condition.presence == document::Presence::Present);
    CHECK(part.condition.joint == document::JointState::Cold);
}

TEST_CASE("a part that the charts say is turned is not the same by one key, and counts as differing") {
    Bench b;
    b.act("freeze");
    change(b.s, "R1", [](Footprint& part) { part.placement.side = document::Side::Bottom; });
    b.desk().stand_at(part_named(b.s.editor.chart(), "R1").id);
    const auto progress = [&] { return analysis::sweep_progress(b.s.editor.chart(), b.desk().answer()->steps); };
    CHECK(progress().differ_on_charts == 1);
    b.act("same");
    CHECK(b.s.editor.chart().ticks.empty());
    REQUIRE(b.s.editor.notice());
    CHECK(b.s.editor.notice()->text.starts_with("R1 is not as before on the chart: "));
    b.read_warning();
    b.act("same");
    CHECK(b.s.editor.chart().ticks.size() == 1);
    CHECK(in_words(progress()) == "1 of 4 compared; 0 differ, 1 more by the charts; 3 not checked again");
    CHECK(progress().all_that_differ() == 1);
}

TEST_CASE("the part that is framed on the board is the one that the keys speak of") {
    Bench b;
    b.act("freeze");
    CHECK(b.in_hand() == "R1");
    b.s.editor.select({part_named(b.s.editor.chart(), "R3").id}); // a click, and the key in the same frame
    run(*find_action("same"), b.s);
    CHECK(b.is_ticked("R3"));
    CHECK_FALSE(b.is_ticked("R1"));
    b.s.editor.select({part_named(b.s.editor.chart(), "R2").id});
    update_inspection(b.s);
    CHECK(b.in_hand() == "R2");
    b.act("next-step");
    CHECK(b.in_hand() == "R3");
    b.s.editor.select({});
    update_inspection(b.s);
    CHECK(b.in_hand() == "R3"); // a click beside the parts drops nothing
}

TEST_CASE("of several framed parts one is in hand, and what is said of it takes the frame") {
    Bench b;
    b.act("freeze");
    const auto id = [&](const char* name) { return part_named(b.s.editor.chart(), name).id; };
    b.s.editor.select({id("R3"), id("R2")});
    update_inspection(b.s);
    CHECK(b.in_hand() == "R2");
    b.act("differs");
    CHECK(b.is_ticked("R2"));
    CHECK(b.s.editor.selection() == std::vector<Id>{id("R2")});
}

TEST_CASE("taking a mark back puts its part in hand again, and so does doing it again") {
    Bench b;
    b.act("freeze");
    b.act("same");
    CHECK(b.in_hand() == "R2");
    b.s.editor.undo();
    wait_for_inspection(b.s);
    CHECK(b.in_hand() == "R1");
    CHECK(b.s.editor.selection() == std::vector<Id>{part_named(b.s.editor.chart(), "R1").id});
    b.s.go_to(part_named(b.s.editor.chart(), "R3").id);
    b.s.editor.redo();
    wait_for_inspection(b.s);
    CHECK(b.in_hand() == "R1");
}

TEST_CASE("what was selected in another stage is in hand on coming to the walk") {
    Bench b;
    b.act("freeze");
    b.act("same");
    b.s.show_stage(scene::Stage::Survey);
    update_inspection(b.s);
    b.s.editor.select({part_named(b.s.editor.chart(), "R3").id});
    b.s.show_stage(scene::Stage::Inspect);
    wait_for_inspection(b.s);
    CHECK(b.in_hand() == "R3");
}

TEST_CASE("the same all the same wears off with whatever is done in between") {
    Bench b;
    b.act("freeze");
    change(b.s, "R1", [](Footprint& part) { part.condition.joint = document::JointState::Cold; });
    const Id r1 = part_named(b.s.editor.chart(), "R1").id;
    b.s.go_to(r1);
    const auto is_warned_again = [&] {
        b.s.go_to(r1);
        b.read_warning();
        b.act("same");
        return !b.is_ticked("R1") && b.s.editor.notice() && b.s.editor.notice()->severity == Severity::Warning;
    };
    CHECK(is_warned_again());
    SUBCASE("a step on and back") {
        b.act("next-step");
        b.act("last-step");
    }
    SUBCASE("an edit elsewhere") {
        change(b.s, "R2", [](Footprint& part) { part.value = "10k"; });
    }
    SUBCASE("an edit and its undo") {
        change(b.s, "R2", [](Footprint& part) { part.value = "10k"; });
        b.s.editor.undo();
        wait_for_inspection(b.s);
    }
    SUBCASE("not looked at again") {
        b.act("unsee");
    }
    SUBCASE("taken and not looked at again") {
        b.read_warning();
        b.act("same");
        CHECK(b.is_ticked("R1"));
        b.s.go_to(r1);
        b.act("unsee");
    }
    SUBCASE("another notice in its place") {
        run(*find_action("conflicts"), b.s);
    }
    SUBCASE("the warning put away") {
        b.s.editor.clear_notice();
    }
    SUBCASE("another stage") {
        b.s.show_stage(scene::Stage::Survey);
        update_inspection(b.s);
        b.s.show_stage(scene::Stage::Inspect);
        wait_for_inspection(b.s);
    }
    CHECK(is_warned_again());
}

TEST_CASE("presses in a row do not insist on what was warned of") {
    Bench b;
    b.act("freeze");
    change(b.s, "R2", [](Footprint& part) { part.condition.land = document::LandState::Lifted; });
    for (int i = 0; i < 6; ++i)
        b.act("same");
    CHECK(b.in_hand() == "R2");
    CHECK_FALSE(b.is_ticked("R2"));
    b.read_warning();
    b.act("same");
    CHECK(b.is_ticked("R2"));
}

TEST_CASE("after the key for what differs its field waits for the letters to come") {
    Bench b;
    b.act("freeze");
    CHECK_FALSE(awaits_words(b.s));
    b.act("differs");
    CHECK(awaits_words(b.s));
    b.act("next-step");
    CHECK_FALSE(awaits_words(b.s)); // that part's field is not asked for
    mark_differs(b.s, "sits 0.5 mm to the right");
    CHECK_FALSE(awaits_words(b.s));
    b.s.panel = Panel::Photos; // has no such field
    b.act("differs");
    CHECK_FALSE(awaits_words(b.s));
}

TEST_CASE("arrows walk from part to part while parts are looked at again and move none") {
    Bench b;
    b.act("freeze");
    b.s.editor.select({part_named(b.s.editor.chart(), "R1").id});
    const auto chart = b.s.editor.snapshot();
    CHECK(inspect_key(b.s, {Key::Down}));
    CHECK(b.in_hand() == "R2");
    CHECK(inspect_key(b.s, {Key::Up}));
    CHECK(b.in_hand() == "R1");
    CHECK_FALSE(inspect_key(b.s, {Key::Left}));
    for (const char* id : {"left", "right", "up", "down", "left-hair", "down-stride"})
        run(*find_action(id), b.s);
    CHECK(b.s.editor.snapshot() == chart);
    REQUIRE(b.s.editor.notice());
    CHECK(b.s.editor.notice()->text == "Down by 0.5 mm is not possible just now: go to Survey to change parts.");
    b.s.show_stage(scene::Stage::Survey);
    run(*find_action("left"), b.s);
    CHECK(b.s.editor.snapshot() != chart);
}

TEST_CASE("what differs is said with the words of the comparison or one's own") {
    Bench b;
    b.act("freeze");
    change(b.s, "R2", [](Footprint& part) { part.placement.at.x += 0.5; });
    b.desk().stand_at(part_named(b.s.editor.chart(), "R2").id);
    b.act("differs");
    const document::Tick* tick = analysis::sweep_tick(b.s.editor.chart(), part_named(b.s.editor.chart(), "R2").id);
    REQUIRE(tick != nullptr);
    CHECK_FALSE(tick->done);
    CHECK(tick->note == "moved");
    CHECK(b.in_hand() == "R2"); // more can be said
    mark_differs(b.s, "sits 0.5 mm to the right");
    CHECK(b.s.editor.chart().ticks[0].note == "sits 0.5 mm to the right");
    CHECK(b.s.editor.chart().ticks.size() == 1);
    b.act("unsee");
    CHECK(b.s.editor.chart().ticks.empty());
}

TEST_CASE("a part that is gone cannot be the same and is shown where it was") {
    Bench b;
    b.act("freeze");
    b.s.editor.select({part_named(b.s.editor.chart(), "R2").id});
    b.s.editor.remove_selected();
    wait_for_inspection(b.s);
    const auto& steps = b.desk().answer()->steps;
    REQUIRE(steps.size() == 4);
    std::size_t at = 0;
    while (steps[at].name != "R2")
        ++at;
    b.s.camera.set_viewport({{0, 0}, {800, 600}});
    b.s.camera.look_at({-100, -100}, 30);
    go_to_step(b.s, at);
    CHECK(b.s.camera.centre().x > -50);
    b.act("same");
    CHECK(b.s.editor.chart().ticks.empty());
    REQUIRE(b.s.editor.notice());
    CHECK(b.s.editor.notice()->severity == Severity::Warning);
    b.act("differs");
    CHECK(b.s.editor.chart().ticks[0].note == "missing");
}

TEST_CASE("ticks do not ask for a new comparison and edits of parts do") {
    Bench b;
    b.act("freeze");
    const auto first = b.desk().answer();
    b.act("same");
    CHECK(b.desk().answer() == first);
    change(b.s, "R3", [](Footprint& part) { part.placement.at.y += 1; });
    CHECK(b.desk().answer() != first);
    CHECK(b.desk().answer()->report.changes.size() == 1);
}

TEST_CASE("a copy that is gone is said and comes back when it is put back") {
    Bench b;
    b.act("freeze");
    const auto copy = b.folder.path() / "board.before.chart.json";
    const auto aside = b.folder.path() / "aside";
    std::filesystem::rename(copy, aside);
    wait_for_inspection(b.s);
    CHECK_FALSE(b.desk().has_before());
    REQUIRE(b.desk().answer()->trouble);
    std::filesystem::rename(aside, copy);
    wait_for_inspection(b.s);
    CHECK(b.desk().has_before());
    CHECK(b.desk().answer()->findings.empty());
}

TEST_CASE("another chart can be before for a while and the own one comes back") {
    Bench b;
    b.act("freeze");
    document::Chart other = b.s.editor.chart();
    other.parts.erase(0);
    const std::string path = (b.folder.path() / "other.chart.json").string();
    REQUIRE(json::save_chart(other, path));
    b.act("choose-before");
    b.s.dialog = std::monostate{};
    REQUIRE(finish_file_dialog(b.s, FileTask::OpenDonor, path));
    wait_for_inspection(b.s);
    CHECK(b.desk().answer()->report.changes.size() == 1); // R1 is new
    b.act("own-before");
    CHECK(b.desk().answer()->report.changes.empty());
    b.act("choose-before");
    CHECK_FALSE(finish_file_dialog(b.s, FileTask::OpenDonor, (b.folder.path() / "none").string()));
}

TEST_CASE("the board shows before or now or both by the view that was asked for") {
    Bench b;
    b.act("freeze");
    change(b.s, "R2", [](Footprint& part) { part.placement.at.x += 0.5; });
    scene::ViewOptions options;
    options.stage = scene::Stage::Inspect;
    scene::Scene own;
    CHECK_FALSE(inspect_picture(inspect_look(b.s), b.s.editor.chart(), options, own));
    CHECK_FALSE(own.items.empty()); // what moved
    std::uint64_t revision = inspect_revision(b.s);
    for (const char* view : {"see-before", "see-difference"}) {
        b.act(view);
        CHECK(inspect_revision(b.s) != revision);
        revision = inspect_revision(b.s);
        CHECK(inspect_picture(inspect_look(b.s), b.s.editor.chart(), options, own));
    }
    b.act("see-flicker");
    CHECK(b.desk().shows_before());
    for (int i = 0; i < 100 && b.desk().shows_before(); ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
        update_inspection(b.s);
    }
    CHECK_FALSE(b.desk().shows_before());
}

TEST_CASE("lines of the list are ticked with who and when and taken back") {
    Bench b;
    const auto list = scene::checklist_of(b.s.editor.chart());
    REQUIRE_FALSE(list.empty());
    tick_off(b.s, list.front(), true);
    auto now = scene::checklist_of(b.s.editor.chart());
    CHECK(now.front().done);
    CHECK(now.front().by == "M. Okafor");
    CHECK(now.front().date == today());
    tick_off(b.s, now.front(), false);
    CHECK_FALSE(scene::checklist_of(b.s.editor.chart()).front().done);
    CHECK(b.s.editor.chart().ticks.size() == 1);
    add_own_task(b.s, "Foam strip back on.");
    CHECK(scene::checklist_of(b.s.editor.chart()).back().text == "Foam strip back on.");
}

TEST_CASE("another chart in hand leaves nothing of the last comparison") {
    Bench b;
    b.act("freeze");
    do_now(b.s, AfterSaving::New);
    CHECK(b.desk().answer() == nullptr);
    b.s.show_stage(scene::Stage::Inspect);
    wait_for_inspection(b.s);
    CHECK_FALSE(b.desk().has_before());
}

TEST_CASE("keys go from line to line of the list after rework and tick it") {
    Bench b;
    const auto list = scene::checklist_of(b.s.editor.chart());
    REQUIRE(list.size() > 1);
    b.desk().shows_checklist = false;
    b.act("line-after"); // shows where one is
    CHECK(b.desk().shows_checklist);
    CHECK(b.desk().line == 0);
    b.act("line-after");
    CHECK(b.desk().line == 1);
    b.act("tick-line");
    CHECK(scene::checklist_of(b.s.editor.chart())[1].done);
    CHECK(b.s.editor.notice()->text == "Done: " + list[1].text);
    b.act("tick-line");
    CHECK_FALSE(scene::checklist_of(b.s.editor.chart())[1].done);
    b.act("line-before");
    b.act("line-before");
    CHECK(b.desk().line == list.size() - 1);
    b.s.show_stage(scene::Stage::Survey);
    CHECK(find_action("tick-line")->enabled.missing(b.s) == "go to Inspect");
}

TEST_CASE("while parts are looked at again no key turns or deletes one, and undo still works") {
    Bench b;
    b.act("freeze");
    b.s.editor.select({part_named(b.s.editor.chart(), "R1").id});
    const auto chart = b.s.editor.snapshot();
    for (const char* id : {"turn-left", "turn-right", "quarter-left", "quarter-right", "other-side", "delete", "cut",
                           "duplicate", "line-left", "spread-gaps-down"}) {
        CAPTURE(id);
        b.s.editor.clear_notice();
        run(*find_action(id), b.s);
        CHECK(b.s.editor.snapshot() == chart);
        REQUIRE(b.s.editor.notice());
        CHECK(b.s.editor.notice()->text.ends_with("go to Survey to change parts."));
    }
    CHECK(find_action("undo")->enabled(b.s));
    CHECK(find_action("missing")->enabled(b.s));
}

} // namespace
} // namespace padchart::app
