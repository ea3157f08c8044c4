#include <cstdlib>
#include <fstream>
#include <thread>

#include "support.hpp"

#include "app/actions.hpp"
#include "app/documents.hpp"
#include "app/hints.hpp"
#include "app/import_flow.hpp"
#include "app/keeper.hpp"
#include "app/remembered.hpp"
#include "app/start_desk.hpp"
#include "app/two_versions.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using namespace padchart::app;
using namespace std::chrono_literals;
namespace fs = std::filesystem;

namespace {

/// A user without a past.
class NewUser {
public:
    NewUser() { setenv("XDG_STATE_HOME", folder_.path().c_str(), 1); }
    NewUser(const NewUser&) = delete;
    NewUser& operator=(const NewUser&) = delete;
    ~NewUser() { unsetenv("XDG_STATE_HOME"); }
    [[nodiscard]] fs::path state() const { return folder_.path() / "padchart"; }

private:
    ScratchFolder folder_;
};

fs::path saved_row(const fs::path& folder) {
    const fs::path path = folder / "row.chart.json";
    REQUIRE(json::save_chart(row_of_chips(), path));
    return path;
}

void change_elsewhere(const fs::path& path) {
    document::Chart theirs = row_of_chips();
    theirs.title.title = "Theirs";
    REQUIRE(json::save_chart(theirs, path));
}

std::string told(const Session& s) {
    return s.editor.notice() ? s.editor.notice()->text : "";
}

/// By the hand that presses the key.
bool is_saved_now(Session& s) {
    save(s);
    return told(s) == "Saved as row.chart.json";
}

} // namespace

TEST_CASE("a second window on one chart is told, and told no more when the first has closed") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    Session first, second, third;
    REQUIRE(open_chart(first, path.string()));
    REQUIRE(open_chart(second, path.string()));
    REQUIRE(open_chart(third, path.string()));
    {
        Keeper keeper(user.state());
        keeper.look(first);
        CHECK(told(first).empty());
        Keeper other(user.state());
        other.look(second);
        CHECK(told(second).find("is open in another window") != std::string::npos);
        std::this_thread::sleep_for(800ms);
        keeper.look(first); // and the first one hears of it, once
        CHECK(told(first) == told(second));
        first.editor.clear_notice();
        std::this_thread::sleep_for(800ms);
        keeper.look(first);
        CHECK(told(first).empty());
    }
    Keeper later(user.state());
    later.look(third);
    CHECK(told(third).empty());
}

TEST_CASE("a chart changed outside is noticed and comes in as one step that undo takes back") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    Session s;
    REQUIRE(open_chart(s, path.string()));
    Keeper keeper(user.state());
    keeper.look(s);
    s.editor.select({document::Id{"r1"}});
    s.editor.nudge({1, 0});
    const document::Chart mine = s.editor.chart();

    document::Chart theirs = row_of_chips();
    theirs.title.title = "Theirs";
    REQUIRE(json::save_chart(theirs, path));
    fs::last_write_time(path, fs::last_write_time(path) + 5s);
    std::this_thread::sleep_for(800ms);
    keeper.look(s);
    CHECK(told(s).find("was changed outside this window") != std::string::npos);
    const Result<void> refused = s.editor.save_again();
    REQUIRE_FALSE(refused);
    // Both say the same of what can be done.
    CHECK(told(s).ends_with(kTwoVersions));
    CHECK(refused.error().message.ends_with(kTwoVersions));

    REQUIRE(take_newer_file(s));
    CHECK(s.editor.chart() == theirs);
    CHECK(s.editor.is_saved());
    CHECK(s.editor.undo());
    CHECK(s.editor.chart() == mine);
    save(s);
    CHECK(told(s).find("was changed outside this window") != std::string::npos); // it does not come from theirs
    CHECK(json::load_chart(path).value() == theirs);
    CHECK(s.editor.redo());
    save(s);
    CHECK(told(s) == "Saved as row.chart.json");
}

TEST_CASE("a chart that does not come from the newer file is not saved over it, however it is reached") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    Session s;
    REQUIRE(open_chart(s, path.string()));
    change_elsewhere(path);
    REQUIRE(take_newer_file(s));
    s.editor.select({document::Id{"r1"}});
    s.editor.nudge({1, 0});
    s.editor.go_to_step(0);
    CHECK(s.editor.is_file_newer());
    CHECK_FALSE(is_saved_now(s));
    s.editor.go_to_step(2);
    CHECK(is_saved_now(s));
    s.editor.go_to_step(0);
    s.editor.nudge({0, 1}); // the step that took the newer file can no longer be reached
    s.editor.nudge({0, 1});
    CHECK_FALSE(is_saved_now(s));
    CHECK(json::load_chart(path)->title.title == "Theirs");
    // Taken again, what comes of it is saved; so is what is named again on purpose.
    REQUIRE(take_newer_file(s));
    CHECK(is_saved_now(s));
    s.editor.undo();
    CHECK_FALSE(is_saved_now(s));
    CHECK(finish_file_dialog(s, FileTask::SaveAs, path.string()));
    CHECK(is_saved_now(s));
}

TEST_CASE("whatever saves the chart, an older one is not written over the newer file that was taken and undone") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    Session s;
    REQUIRE(open_chart(s, path.string()));
    change_elsewhere(path);
    REQUIRE(s.editor.take_newer_file());
    CHECK(s.editor.save_again());
    REQUIRE(s.editor.undo());
    CHECK_FALSE(s.editor.save_again());
    CHECK(json::load_chart(path)->title.title == "Theirs");
    REQUIRE(s.editor.redo());
    CHECK(s.editor.save_again());
    REQUIRE(s.editor.undo());
    CHECK(s.editor.save_as(path)); // on purpose
    CHECK(s.editor.save_again());
}

TEST_CASE(
    "a chart whose saving was refused is not saved, though nothing was done to it, until one of the two is taken") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    Session s;
    REQUIRE(open_chart(s, path.string()));
    document::Chart theirs = row_of_chips();
    theirs.title.title = "Theirs";
    REQUIRE(json::save_chart(theirs, path));
    CHECK(s.editor.is_saved());
    CHECK_FALSE(s.editor.save_again());
    CHECK_FALSE(s.editor.is_saved());
    REQUIRE(s.editor.take_newer_file());
    CHECK(s.editor.is_saved());
    theirs.title.title = "Theirs again";
    REQUIRE(json::save_chart(theirs, path));
    CHECK_FALSE(s.editor.save_again());
    REQUIRE(s.editor.save_as(bench.path() / "mine.chart.json"));
    CHECK(s.editor.is_saved());
}

TEST_CASE("work that a window left behind is taken back on top of its file and journaled before the old journal goes") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    {
        Session s;
        REQUIRE(open_chart(s, path.string()));
        Keeper keeper(user.state());
        s.editor.select({document::Id{"r1"}});
        s.editor.nudge({1, 0});
        keeper.look(s); // and no end: killed
    }
    Session s;
    offer_lost_work(s);
    CHECK(s.panel == Panel::Start);
    const std::vector<LostWork> lost = s.desks.get<StartDesk>().lost;
    REQUIRE(lost.size() == 1);
    CHECK(lost[0].file == fs::absolute(path));

    Keeper keeper(user.state());
    REQUIRE(take_back(s, lost[0]));
    CHECK(fs::exists(lost[0].journal));
    CHECK(part_named(s.editor.chart(), "R1").placement.at.x == doctest::Approx(1.0));
    CHECK_FALSE(s.editor.is_saved());
    keeper.look(s);
    CHECK_FALSE(fs::exists(lost[0].journal));
    CHECK(s.editor.undo());
    CHECK(part_named(s.editor.chart(), "R1").placement.at.x == doctest::Approx(0.0));
    keeper.end();
    CHECK(lost_work(Keeper::journal_folder(user.state())).empty());
}

namespace {

/// The row with R1 moved, as a window that was killed left it.
void leave_behind(const NewUser& user, const fs::path& path) {
    Session s;
    REQUIRE(open_chart(s, path.string()));
    Keeper keeper(user.state());
    s.editor.select({document::Id{"r1"}});
    s.editor.nudge({1, 0});
    keeper.look(s);
}

void write_trace(const fs::path& path) {
    std::ofstream(path) << R"(<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10">
<g id="R1"><rect id="R1-body" x="5" y="5" width="2" height="1"/></g></svg>)";
}

} // namespace

TEST_CASE("a trace given by name is taken up where a window left work behind, which is told beside it") {
    const NewUser user;
    const ScratchFolder bench;
    leave_behind(user, saved_row(bench.path()));
    write_trace(bench.path() / "trace.svg");
    Session s;
    s.editor.start_new(new_chart());
    REQUIRE(begin_import(s, (bench.path() / "trace.svg").string()));
    offer_lost_work(s);
    CHECK(s.panel == Panel::Import);
    CHECK(told(s).find("Unsaved work on row.chart.json was left behind") == 0);
    wait_for_import(s);
    REQUIRE(accept_import(s));
    CHECK(s.editor.chart().parts.size() == 1);
}

TEST_CASE("work taken back is not saved over a file that has changed since it was begun") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    leave_behind(user, path);
    change_elsewhere(path);
    Session s;
    offer_lost_work(s);
    const std::vector<LostWork> lost = s.desks.get<StartDesk>().lost;
    REQUIRE(lost.size() == 1);
    REQUIRE(take_back(s, lost[0]));
    CHECK(told(s).find("row.chart.json has changed since") != std::string::npos);
    CHECK(told(s).ends_with(kTwoVersions));
    CHECK_FALSE(s.editor.save_again());
    CHECK(json::load_chart(path)->title.title == "Theirs");

    // A second crash forgets it no more than the first.
    { Keeper(user.state()).look(s); }
    Session again;
    offer_lost_work(again);
    REQUIRE(again.desks.get<StartDesk>().lost.size() == 1);
    REQUIRE(take_back(again, again.desks.get<StartDesk>().lost[0]));
    CHECK(part_named(again.editor.chart(), "R1").placement.at.x == doctest::Approx(1.0));
    CHECK_FALSE(again.editor.save_again());
}

TEST_CASE("work taken back is saved over the file it began from, also one saved meanwhile by its own window") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    {
        Session s;
        REQUIRE(open_chart(s, path.string()));
        Keeper keeper(user.state());
        s.editor.select({document::Id{"r1"}});
        s.editor.nudge({1, 0});
        keeper.look(s);
        REQUIRE(s.editor.save_again());
        keeper.look(s);
        s.editor.nudge({1, 0});
        keeper.look(s);
    }
    Session s;
    offer_lost_work(s);
    REQUIRE(s.desks.get<StartDesk>().lost.size() == 1);
    REQUIRE(take_back(s, s.desks.get<StartDesk>().lost[0]));
    CHECK(told(s).ends_with("It is not saved yet."));
    CHECK(s.editor.save_again());
    CHECK(part_named(*json::load_chart(path), "R1").placement.at.x == doctest::Approx(2.0));
}

TEST_CASE("unsaved work is told beside a chart that was opened by name and covers it with no page") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    leave_behind(user, path);
    Session s;
    REQUIRE(open_chart(s, path.string()));
    offer_lost_work(s);
    CHECK(s.panel == Panel::Stage);
    CHECK(told(s).find("Restore unsaved work") != std::string::npos);
    CHECK(told(s).find("Unsaved work on row.chart.json") == 0);
    CHECK(s.desks.get<StartDesk>().lost.size() == 1);
    // With something in hand that is asked about first, and may be discarded.
    s.editor.select({document::Id{"r2"}});
    s.editor.nudge({0, 1});
    run(*find_action("restore"), s);
    REQUIRE(std::holds_alternative<UnsavedDialog>(s.dialog));
    do_now(s, std::get<UnsavedDialog>(s.dialog).then);
    CHECK(part_named(s.editor.chart(), "R1").placement.at.x == doctest::Approx(1.0));
    CHECK(part_named(s.editor.chart(), "R2").placement.at.y == doctest::Approx(0.0));
}

TEST_CASE("a journal that does not tell what its file was is taken back on top of the file there now") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    leave_behind(user, path);
    change_elsewhere(path);
    LostWork old = lost_work(Keeper::journal_folder(user.state())).at(0);
    old.began_from.reset();
    Session s;
    REQUIRE(take_back(s, old));
    CHECK(s.editor.path() == old.file);
    CHECK(s.editor.save_again());
}

TEST_CASE("a window that came to its end leaves nothing behind") {
    const NewUser user;
    {
        Session s;
        s.editor.start_new(row_of_chips());
        s.editor.select({document::Id{"r1"}});
        s.editor.nudge({1, 0});
        Keeper keeper(user.state());
        keeper.look(s);
        keeper.end();
    }
    CHECK(fs::is_empty(Keeper::journal_folder(user.state())));
}

TEST_CASE("charts worked on are remembered, the last one first and each once, and those gone are left out") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path a = saved_row(bench.path());
    const fs::path b = bench.path() / "b.chart.json";
    fs::copy_file(a, b);
    remember_chart(a);
    remember_chart(b);
    remember_chart(a);
    CHECK(recent_charts() == std::vector<fs::path>{fs::canonical(a), fs::canonical(b)});
    fs::remove(b);
    CHECK(recent_charts() == std::vector<fs::path>{fs::canonical(a)});
}

TEST_CASE("the hint of a stage is told once in the life of a user") {
    const NewUser user;
    Session s;
    s.editor.start_new(row_of_chips());
    Hints hints;
    hints.look(s);
    CHECK(told(s) == hint_for(scene::Stage::Survey));
    s.editor.clear_notice();
    Hints tomorrow;
    tomorrow.look(s);
    CHECK(told(s).empty());
    s.show_stage(scene::Stage::Orient);
    tomorrow.look(s);
    CHECK(told(s) == hint_for(scene::Stage::Orient));
}

TEST_CASE("a hint goes when its stage is left; what was told by somebody else stays") {
    const NewUser user;
    Session s;
    s.editor.start_new(row_of_chips());
    Hints hints;
    hints.look(s);
    CHECK(told(s) == hint_for(scene::Stage::Survey));
    s.show_stage(scene::Stage::Orient);
    hints.look(s);
    CHECK(told(s) == hint_for(scene::Stage::Orient));
    s.show_stage(scene::Stage::Survey);
    hints.look(s);
    CHECK(told(s).empty());
    s.editor.tell(Severity::Note, "Saved as row.chart.json");
    s.show_stage(scene::Stage::Heat);
    hints.look(s);
    CHECK(told(s) == "Saved as row.chart.json");
}

TEST_CASE("a hint waits while something else is being told") {
    const NewUser user;
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.tell(Severity::Fault, "The name is taken.");
    Hints hints;
    hints.look(s);
    CHECK(told(s) == "The name is taken.");
}

TEST_CASE("the start page greets a window opened on nothing and no other") {
    const NewUser user;
    Session empty, busy;
    empty.editor.start_new(new_chart());
    busy.editor.start_new(row_of_chips());
    greet(empty);
    greet(busy);
    CHECK(empty.panel == Panel::Start);
    CHECK(busy.panel == Panel::Stage);
}

TEST_CASE("the demo opens as a copy that belongs to no file") {
    Session s;
    REQUIRE(open_demo(s));
    CHECK(s.editor.chart().parts.size() > 40);
    CHECK(s.editor.path().empty());
    CHECK(s.panel == Panel::Stage);
}

TEST_CASE("the newer file comes in and what was not saved lies in a file that is named") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    Session s;
    REQUIRE(open_chart(s, path.string()));
    document::Chart theirs = row_of_chips();
    theirs.title.title = "Theirs";
    REQUIRE(json::save_chart(theirs, path));
    REQUIRE(take_newer_file(s)); // nothing of one's own yet
    CHECK_FALSE(fs::exists(bench.path() / "row.own.chart.json"));
    for (const char* kept : {"row.own.chart.json", "row.own-2.chart.json"}) {
        s.editor.select({document::Id{"r1"}});
        s.editor.nudge({1, 0});
        const document::Chart mine = s.editor.chart();
        theirs.title.title += "!";
        REQUIRE(json::save_chart(theirs, path));
        REQUIRE(take_newer_file(s));
        CHECK(s.editor.chart() == theirs);
        CHECK(told(s).find(kept) != std::string::npos);
        CHECK(json::load_chart(bench.path() / kept).value() == mine);
        REQUIRE(s.editor.undo());
        CHECK(s.editor.chart() == mine);
        REQUIRE(s.editor.redo());
    }
}

TEST_CASE("recent charts are opened from the list of actions, none over work that is not saved") {
    const NewUser user;
    const ScratchFolder bench;
    const fs::path path = saved_row(bench.path());
    Session s;
    CHECK(find_action("recent-charts")->enabled.missing(s) == "no chart was opened or saved yet");
    remember_chart(path);
    run(*find_action("recent-charts"), s);
    const auto* list = std::get_if<ActionsDialog>(&s.dialog);
    REQUIRE(list != nullptr);
    CHECK(list->filter == kRecentWords);
    s.dialog = std::monostate{};
    open_recent(s, path);
    CHECK(s.editor.path() == path);
    s.editor.select({document::Id{"r1"}});
    s.editor.nudge({1, 0});
    open_recent(s, path);
    CHECK_FALSE(s.editor.is_saved());
    CHECK(std::holds_alternative<UnsavedDialog>(s.dialog));
}

TEST_CASE("what was thrown away is listed for thirty days and comes back as a chart in no file") {
    const NewUser user;
    {
        Session s;
        s.editor.start_new(row_of_chips());
        document::Title words;
        words.title = "Pump corner";
        s.editor.commit(document::set_title(s.editor.chart(), words), "Region");
        Keeper(user.state()).look(s); // and no end: killed
    }
    Session s;
    const Action& bin = *find_action("bin");
    CHECK_FALSE(bin.enabled(s));
    const auto binned = put_into_bin(lost_work(Keeper::journal_folder(user.state())).at(0));
    REQUIRE(binned);
    s.desks.get<StartDesk>().refresh();
    REQUIRE(bin.enabled(s));
    run(bin, s);
    CHECK(s.panel == Panel::Start);
    const std::vector<Binned> listed = s.desks.get<StartDesk>().binned;
    REQUIRE(listed.size() == 1);
    CHECK(listed[0].title == "Pump corner");
    CHECK(listed[0].written.size() == std::string("2026-03-02 14:05").size());
    fetch_from_bin(s, listed[0].path);
    CHECK(s.editor.chart().title.title == "Pump corner");
    CHECK(s.editor.path().empty()); // never saved into the bin, which is emptied
    CHECK_FALSE(s.editor.is_saved());
    CHECK(fs::exists(*binned));
    save(s); // it never had a file: its title names it
    CHECK(std::get<FileDialog>(s.dialog).path == (fs::current_path() / "Pump-corner.chart.json").string());
    fs::last_write_time(*binned, fs::file_time_type::clock::now() - std::chrono::hours(24 * 31));
    s.desks.get<StartDesk>().refresh();
    CHECK(s.desks.get<StartDesk>().binned.empty());
}
