#include <fstream>
#include <set>

#include "support.hpp"

#include "app/actions.hpp"
#include "app/documents.hpp"
#include "app/files.hpp"
#include "app/heat_risks.hpp"
#include "app/import_flow.hpp"
#include "app/refusal.hpp"
#include "app/survey_desk.hpp"
#include "support/places.hpp"

namespace padchart::app {
namespace {

using document::Id;

TEST_CASE("no two actions share a key or a name") {
    std::set<std::string> ids, keys;
    for (const Action& action : actions()) {
        CHECK_MESSAGE(ids.insert(std::string(action.id)).second, action.id);
        CHECK_FALSE(action.label.empty());
        for (const Chord& chord : action.keys)
            CHECK_MESSAGE(keys.insert(to_text(chord)).second, to_text(chord));
    }
}

TEST_CASE("every stage has its action and shows itself") {
    Session s;
    for (const StageInfo& info : stages()) {
        const Action* action = find_action(info.word);
        REQUIRE(action != nullptr);
        run(*action, s);
        CHECK(s.stage == info.stage);
    }
}

TEST_CASE("an action that makes no sense does nothing") {
    Session s;
    s.editor.start_new(row_of_chips());
    run(*find_action("delete"), s); // nothing is selected
    CHECK(s.editor.chart().parts.size() == 4);
    run(*find_action("undo"), s);
    CHECK(s.editor.is_saved());
}

TEST_CASE("what the panels write and show for the whole chart is in the list of actions too") {
    Session s;
    s.editor.start_new(row_of_chips());
    for (const char* id : {"write-sheet", "write-page", "write-svg", "write-png"}) {
        REQUIRE(find_action(id) != nullptr);
        run(*find_action(id), s);
        CHECK(std::holds_alternative<FileDialog>(s.dialog));
        s.dialog = std::monostate{};
    }
    CHECK(s.sheet_path.ends_with(".png"));
    s.background.update(s.editor.snapshot());
    run(*find_action("attention"), s);
    CHECK(s.panel == Panel::Findings);
}

TEST_CASE("what the list of parts and the form of a part offer is in the list of actions too") {
    Session s;
    s.editor.start_new(row_of_chips());
    const PartWishes& wishes = s.desks.get<SurveyDesk>().wishes;
    run(*find_action("sort-by-state"), s);
    CHECK(wishes.sort == PartColumn::State);
    CHECK_FALSE(wishes.descending);
    run(*find_action("sort-by-state"), s);
    CHECK(wishes.descending);
    run(*find_action("show-only"), s);
    CHECK(s.desks.get<SurveyDesk>().shows_filters);
    CHECK(find_action("note-on-part")->enabled.missing(s) == "select one part");
    CHECK(find_action("restore")->enabled.missing(s) == "no unsaved work was left behind");
    const document::Id part = s.editor.chart().parts[1].id;
    s.editor.select({part});
    run(*find_action("note-on-part"), s);
    REQUIRE(s.desks.get<SurveyDesk>().pin.note);
    CHECK(s.desks.get<SurveyDesk>().pin.note->target == part);
    run(*find_action("reading-at-part"), s);
    REQUIRE(s.desks.get<SurveyDesk>().pin.reading);
    CHECK(s.desks.get<SurveyDesk>().pin.reading->target == part);
}

TEST_CASE("what is locked is unlocked to be deleted, and a turn says which way") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({s.editor.chart().parts[0].id});
    run(*find_action("quarter-right"), s);
    CHECK(s.editor.history().steps().back().label == "Turn R1 by 90 degrees clockwise");
    run(*find_action("lock"), s);
    run(*find_action("delete"), s);
    CHECK(s.editor.chart().parts.size() == 4);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "R1 is locked; unlock to delete.");
}

TEST_CASE("all at risk are named beside the one the headline speaks of, whoever protects them") {
    analysis::HeatReport report;
    for (const char* name : {"U7", "J2", "BT1", "C9"}) {
        analysis::NeighbourReport near;
        near.name = name;
        near.limit_c = 260;
        near.delicate = near.name == "J2" || near.name == "BT1";
        near.verdict = near.name == "C9" ? analysis::NeighbourVerdict::Safe : analysis::NeighbourVerdict::AtRisk;
        report.neighbours.push_back(near);
    }
    CHECK(also_at_risk(report, "Shield BT1 before you start") == " Also at risk: J2 and U7.");
    CHECK(also_at_risk(report, "") == " Also at risk: J2, BT1 and U7.");
}

TEST_CASE("an action that cannot run says what it waits for") {
    Session s;
    CHECK(find_action("state-loose")->enabled.missing(s) == "select one part");
    CHECK(find_action("line-left")->enabled.missing(s) == "select two or more");
    CHECK(find_action("heat-advise")->enabled.missing(s) == "go to Heat");
    CHECK(find_action("record-mark")->enabled.missing(s) == "go to Orient");
    CHECK(find_action("undo")->enabled.missing(s) == "nothing was done yet");
    CHECK(find_action("save")->enabled.missing(s).empty());
}

TEST_CASE("a key whose action cannot run tells what it waits for") {
    Session s;
    s.editor.start_new(row_of_chips());
    const auto told_after = [&](const char* id) {
        s.editor.clear_notice();
        run(*find_action(id), s);
        return s.editor.notice() ? s.editor.notice()->text : "";
    };
    CHECK(told_after("conflicts") ==
          "Settle what a merge left open is not possible just now: no two versions disagree.");
    CHECK(told_after("undo") == "Undo is not possible just now: nothing was done yet.");
    CHECK(told_after("same") == "Same as before is not possible just now: go to Inspect.");
    CHECK(told_after("zones").empty());
}

TEST_CASE("every action can be run on an empty chart and on a full one") {
    for (const bool full : {false, true})
        for (const Action& action : actions()) {
            Session s;
            s.editor.start_new(full ? row_of_chips() : new_chart());
            s.editor.select_all(document::Side::Top);
            run(action, s);
            CHECK(document::fault_of(s.editor.chart()) == std::nullopt);
        }
}

TEST_CASE("an arrow to the right goes to the right as seen on both sides") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({Id{"r9"}});
    s.seen_from = document::Side::Bottom;
    run(*find_action("right"), s);
    CHECK(part_named(s.editor.chart(), "R9").placement.at.x == doctest::Approx(4.95)); // mirrored
    s.seen_from = document::Side::Top;
    s.editor.select({Id{"r2"}});
    run(*find_action("right"), s);
    CHECK(part_named(s.editor.chart(), "R2").placement.at.x == doctest::Approx(5.05));
}

TEST_CASE("what lies on the other side is not changed unseen, and along with a part in view it is told") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({Id{"r9"}});
    for (const char* id : {"right", "turn-left", "delete", "cut", "other-side", "duplicate", "fold"}) {
        run(*find_action(id), s);
        CHECK(s.editor.is_saved());
        REQUIRE(s.editor.notice());
        CHECK(s.editor.notice()->text.ends_with("what is selected lies on the other side, O turns the board."));
    }
    s.editor.select({Id{"r1"}, Id{"r9"}});
    run(*find_action("right"), s);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "R9 on the other side went along.");
    run(*find_action("delete"), s);
    CHECK(s.editor.chart().parts.size() == 2);
    CHECK(s.editor.notice()->text == "R9 on the other side went along.");
}

TEST_CASE("parts are moved, turned and deleted in Survey and held where they are in every other stage") {
    for (const StageInfo& info : stages()) {
        if (info.stage == scene::Stage::Survey) continue;
        CAPTURE(info.name);
        Session s;
        s.editor.start_new(row_of_chips());
        s.editor.select({Id{"r1"}, Id{"r2"}});
        s.show_stage(info.stage);
        for (const char* id : {"right", "up-hair", "left-stride", "turn-left", "quarter-right", "delete", "cut",
                               "other-side", "duplicate", "line-top"}) {
            run(*find_action(id), s);
            CHECK(s.editor.history().steps().size() == 1);
            REQUIRE(s.editor.notice());
            CHECK(s.editor.notice()->text.ends_with("go to Survey to change parts."));
        }
    }
}

TEST_CASE("a keep-out is deleted in the stage it is looked at in") {
    Session s;
    document::KeepOut keep_out;
    keep_out.id = Id{"k1"};
    keep_out.outline.outer = {{0, 4}, {2, 4}, {2, 6}};
    s.editor.start_new(document::put(row_of_chips(), keep_out).value());
    s.show_stage(scene::Stage::Heat);
    s.editor.select({Id{"k1"}});
    run(*find_action("delete"), s);
    CHECK(s.editor.chart().keep_outs.empty());
}

TEST_CASE("all of a side are selected but those that are hidden") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({Id{"r2"}});
    run(*find_action("hide"), s);
    run(*find_action("select-all"), s);
    CHECK(s.editor.selection() == std::vector{Id{"r1"}, Id{"r3"}});
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "1 hidden part is not selected.");
}

TEST_CASE("a drag in a stage that is not for the layout moves nothing and says where it would") {
    for (const scene::Stage stage : {scene::Stage::Orient, scene::Stage::Access, scene::Stage::HandOver}) {
        Session s;
        s.editor.start_new(row_of_chips());
        s.show_stage(stage);
        s.use_tool(s.resting_tool());
        const scene::Scene seen = scene::chart_scene(s.editor.chart(), {}, {});
        const scene::HitTest hits(seen);
        const ToolContext context{s.editor, document::Side::Top, seen, hits};
        s.tool->press(context, {{0, 0}, 40.0});
        s.tool->move(context, {{2, 1}, 40.0});
        s.tool->release(context, {{2, 1}, 40.0});
        CHECK(s.editor.is_saved());
        CHECK(s.editor.selection() == std::vector{Id{"r1"}});
        REQUIRE(s.editor.notice());
        CHECK(s.editor.notice()->text.find("go to Survey to move them") != std::string::npos);
    }
}

TEST_CASE("the list of actions finds what writes the keys by that word") {
    CHECK(find_action("write-keys")->label.find("keys") != std::string_view::npos);
}

TEST_CASE("who writes a PDF sees PDF files") {
    const std::vector<std::string_view> all{".pdf", ".png"};
    CHECK(endings_meant("/a/river.pdf", all) == std::vector<std::string_view>{".pdf"});
    CHECK(endings_meant("/a/river", all) == all);
}

TEST_CASE("a refusal goes when its field has taken a value, and no other one") {
    Session s;
    s.editor.tell(Severity::Warning, words_of_refusal("1/0 divides by zero.", "To the right", "1 mm"));
    CHECK(s.editor.notice()->text == "1/0 divides by zero. To the right stays 1 mm.");
    put_right(s.editor, "Down");
    CHECK(s.editor.notice());
    put_right(s.editor, "To the right");
    CHECK_FALSE(s.editor.notice());
}

TEST_CASE("flipping looks at the same spot from behind and back again") {
    Session s;
    s.camera.look_at({12, 7}, 40);
    s.flip_side();
    CHECK(scene::scene_from_board(s.camera.centre(), s.seen_from) == geometry::Vec2{12, 7});
    s.flip_side();
    CHECK(s.camera.centre() == geometry::Vec2{12, 7});
}

TEST_CASE("going to a part of the far side turns the board over") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.go_to(Id{"r9"});
    CHECK(s.seen_from == document::Side::Bottom);
    CHECK(s.editor.selection() == std::vector{Id{"r9"}});
}

TEST_CASE("unsaved changes are asked about before they would be lost") {
    for (const AfterSaving what : {AfterSaving::Quit, AfterSaving::New, AfterSaving::Open, AfterSaving::Import}) {
        Session s;
        s.editor.start_new(row_of_chips());
        s.editor.select({Id{"r1"}});
        s.editor.remove_selected();
        ask_or_do(s, what);
        REQUIRE(std::holds_alternative<UnsavedDialog>(s.dialog));
        CHECK_FALSE(s.wants_quit);
        CHECK(s.editor.chart().parts.size() == 3);
    }
}

TEST_CASE("a saved chart is closed without a question") {
    Session s;
    s.editor.start_new(row_of_chips());
    ask_or_do(s, AfterSaving::Quit);
    CHECK(s.wants_quit);
}

TEST_CASE("saving under a new name goes on with what was asked for") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_from(row_of_chips(), "Import");
    s.after_saving = AfterSaving::Quit;
    CHECK(saved_step(s) == std::nullopt);
    save(s); // no file yet: asks for one
    REQUIRE(std::holds_alternative<FileDialog>(s.dialog));
    s.dialog = std::monostate{};
    REQUIRE(finish_file_dialog(s, FileTask::SaveAs, (folder.path() / "row").string()));
    CHECK(s.editor.path().filename() == "row.chart.json"); // the ending is added
    CHECK(saved_step(s) == 0u);
    CHECK(s.wants_quit);
}

TEST_CASE("a failed save loses nothing and does not go on") {
    Session s;
    s.editor.start_from(row_of_chips(), "Import");
    s.after_saving = AfterSaving::Quit;
    const Result<void> saved = finish_file_dialog(s, FileTask::SaveAs, "/no/such/folder/row.chart.json");
    CHECK_FALSE(saved);
    CHECK_FALSE(s.wants_quit);
    CHECK_FALSE(s.editor.is_saved());
}

TEST_CASE("a trace is imported with its findings and is not saved") {
    const OwnConfig config;
    Session s;
    REQUIRE(begin_import(s, (tests::source_folder() / "demo/power-corner.svg").string()));
    wait_for_import(s);
    CHECK(s.panel == Panel::Import);
    CHECK(s.editor.chart().parts.empty()); // nothing has happened yet
    REQUIRE(accept_import(s));
    CHECK(s.panel == Panel::Findings);
    CHECK_FALSE(s.editor.chart().parts.empty());
    CHECK_FALSE(s.editor.is_saved());
}

TEST_CASE("what is no trace is refused with a reason and the chart stays") {
    const OwnConfig config;
    const ScratchFolder folder;
    const auto path = folder.path() / "bad.svg";
    std::ofstream(path) << "this is no drawing";
    Session s;
    s.editor.start_new(row_of_chips());
    REQUIRE(begin_import(s, path.string()));
    wait_for_import(s);
    REQUIRE(std::holds_alternative<FileDialog>(s.dialog));
    CHECK_FALSE(std::get<FileDialog>(s.dialog).error.empty());
    CHECK(s.editor.chart().parts.size() == 4);
}

TEST_CASE("a sheet is written as its name ends and other endings are refused") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(row_of_chips());
    for (const auto& [name, beginning] : {std::pair{"a.pdf", "%PDF"}, {"a.svg", "<?xml"}, {"a.png", "\x89PNG"}}) {
        REQUIRE(write_sheet(s, (folder.path() / name).string()));
        std::ifstream in(folder.path() / name, std::ios::binary);
        std::string head(std::string_view(beginning).size(), ' ');
        in.read(head.data(), static_cast<std::streamsize>(head.size()));
        CHECK(head == beginning);
    }
    CHECK_FALSE(write_sheet(s, (folder.path() / "a.doc").string()));
}

TEST_CASE("Tab completes a path as far as it is certain") {
    const ScratchFolder folder;
    const std::string at = folder.path().string() + "/";
    std::filesystem::create_directory(folder.path() / "boards");
    for (const char* name : {"north.chart.json", "north-2.chart.json", "note.txt", ".hidden.chart.json"})
        std::ofstream(folder.path() / name) << "x";
    const std::vector<std::string_view> endings{".chart.json"};
    CHECK(completed(at + "b", endings) == at + "boards/");
    CHECK(completed(at + "n", endings) == at + "north"); // both charts begin so, the text file does not count
    CHECK(completed(at + "north-", endings) == at + "north-2.chart.json");
    CHECK(completed(at + "zzz", endings) == at + "zzz");
    CHECK(only_match(at + "b", endings) == at + "boards/");
    CHECK(only_match(at + "north-", endings) == at + "north-2.chart.json");
    CHECK(only_match(at + "n", endings) == std::nullopt);
    CHECK(only_match(at, endings) == std::nullopt);
    const auto all = list_files(at, "", endings);
    REQUIRE(all.size() == 3);
    CHECK(all[0].is_folder);
    CHECK(list_files(at + "no-such/", "", endings).empty());
}

TEST_CASE("reports of a large chart come from behind and speak of the last snapshot") {
    document::Chart chart = new_chart();
    for (int i = 0; i < 250; ++i) {
        document::Footprint part = part_of("chip-1608M", "R1", {i % 20 * 3.0, i / 20 * 3.0});
        part.id = document::Id{"r" + std::to_string(i)};
        chart = document::add_part(chart, std::move(part)).value();
    }
    Background background;
    const auto first = std::make_shared<const document::Chart>(chart);
    background.update(first);
    const auto second =
        std::make_shared<const document::Chart>(document::remove_parts(chart, std::vector{document::Id{"r0"}}).value());
    background.update(second);
    background.wait();
    REQUIRE(background.latest() != nullptr);
    CHECK(background.latest()->chart == second);
    CHECK(background.latest()->fit.parts.size() == 249);
    CHECK_FALSE(background.is_busy());
}

} // namespace
} // namespace padchart::app
