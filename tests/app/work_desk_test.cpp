#include "app/work_desk.hpp"

#include <algorithm>
#include <atomic>
#include <fstream>

#include "app/documents.hpp"
#include "base/disk_file.hpp"
#include "page/hand_over_reports.hpp"
#include "support.hpp"
#include "support/places.hpp"

namespace padchart::app {
namespace {

WorkDesk::Work counting(std::atomic<int>& begun, int& done) {
    return [&begun, &done](const std::stop_token&, const WorkDesk::Say& say) -> WorkDesk::Then {
        ++begun;
        say("the first half");
        return [&done](Session&) { ++done; };
    };
}

document::Chart many_chips(int count = 200) {
    document::Chart chart = new_chart();
    for (int i = 0; i < count; ++i) {
        const std::string name = "C" + std::to_string(i);
        chart.parts.add(part_of("chip-1608M", name.c_str(), {3.0 * (i % 20), 3.0 * (i / 20)}));
    }
    return chart;
}

} // namespace

TEST_CASE("what comes of long work reaches the session once, when it is done") {
    std::atomic<int> begun = 0;
    int done = 0;
    Session s;
    WorkDesk desk;
    CHECK_FALSE(desk.is_busy());
    REQUIRE(desk.begin("Counting", false, counting(begun, done)));
    CHECK(desk.title() == "Counting");
    CHECK(done == 0);
    desk.wait(s);
    CHECK(begun == 1);
    CHECK(done == 1);
    CHECK_FALSE(desk.is_busy());
    CHECK_FALSE(desk.update(s));
}

TEST_CASE("only one long work is done at a time") {
    std::atomic<bool> may_end = false;
    Session s;
    WorkDesk desk;
    REQUIRE(desk.begin("Waiting", true, [&](const std::stop_token&, const WorkDesk::Say&) -> WorkDesk::Then {
        while (!may_end)
            std::this_thread::yield();
        return [](Session&) {};
    }));
    CHECK(desk.holds_hands());
    CHECK_FALSE(desk.begin("Another", false, [](const auto&, const auto&) { return [](Session&) {}; }));
    may_end = true;
    desk.wait(s);
    CHECK_FALSE(desk.holds_hands());
}

TEST_CASE("what is given up changes nothing any more, and its work is told to stop") {
    std::atomic<bool> was_told = false;
    int done = 0;
    Session s;
    {
        WorkDesk desk;
        REQUIRE(desk.begin("Long", false, [&](const std::stop_token& stop, const WorkDesk::Say&) -> WorkDesk::Then {
            while (!stop.stop_requested())
                std::this_thread::yield();
            was_told = true;
            return [&done](Session&) { ++done; };
        }));
        desk.cancel(s);
        CHECK_FALSE(desk.is_busy());
        REQUIRE(s.editor.notice());
        CHECK(s.editor.notice()->text == "Given up, nothing written.");
        desk.wait(s);
    }
    CHECK(done == 0);
}

TEST_CASE("the sheet of a large chart is written behind the window") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(many_chips());
    const std::string path = (folder.path() / "sheet.pdf").string();
    REQUIRE(finish_file_dialog(s, FileTask::WriteSheet, path));
    auto& work = s.desks.get<WorkDesk>();
    CHECK(work.is_busy());
    CHECK_FALSE(s.has_dialog()); // the chart may be worked on meanwhile
    CHECK_FALSE(finish_file_dialog(s, FileTask::WriteSheet, path));
    work.wait(s);
    CHECK(std::filesystem::file_size(path) > 1000);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "Written: sheet.pdf");
    // A name that no sheet has is told at once, where it can be put right.
    CHECK_FALSE(finish_file_dialog(s, FileTask::WriteSheet, (folder.path() / "sheet.doc").string()));
    CHECK_FALSE(work.is_busy());
    REQUIRE(finish_file_dialog(s, FileTask::WriteSheet, (folder.path() / "none" / "sheet.pdf").string()));
    work.wait(s);
    CHECK(s.editor.notice()->severity == Severity::Fault);
}

TEST_CASE("the sheet of a small chart is worked out behind the window too, and given up within its heat estimate") {
    const ScratchFolder folder;
    Session s;
    REQUIRE(open_chart(s, (tests::source_folder() / "demo/river-logger.chart.json").string()));
    REQUIRE_FALSE(s.editor.chart().heat_plans.empty());
    auto& work = s.desks.get<WorkDesk>();
    for (const char* ending : {"pdf", "html"}) {
        CAPTURE(ending);
        const std::string path = (folder.path() / (std::string("sheet.") + ending)).string();
        REQUIRE(finish_file_dialog(s, FileTask::WriteSheet, path));
        CHECK(work.is_busy());
        CHECK(work.can_be_given_up());
        CHECK_FALSE(work.holds_hands());
        ask_or_do(s, AfterSaving::Quit); // the sheet would be gone with the window
        CHECK_FALSE(s.wants_quit);
        CHECK(s.editor.notice()->text ==
              "Writing sheet." + std::string(ending) + " is not done yet. Wait for it, or give it up, then close.");
        work.cancel(s);
        work.wait(s);
        CHECK_FALSE(std::filesystem::exists(path));
    }
    ask_or_do(s, AfterSaving::Quit);
    CHECK(s.wants_quit);
    std::stop_source stop;
    stop.request_stop();
    const page::HandOverReports reports = page::hand_over_reports(s.editor.chart(), true, stop.get_token());
    CHECK(std::none_of(reports.plans.begin(), reports.plans.end(),
                       [](const page::PlanReport& plan) { return plan.heat.has_value(); }));
}

TEST_CASE("a sheet that is given up while its pages are written leaves the file that was there") {
    const ScratchFolder folder;
    const document::Chart chart = many_chips(3);
    for (const char* ending : {"pdf", "html", "svg", "png"}) {
        CAPTURE(ending);
        const std::string path = (folder.path() / ("sheet." + std::string(ending))).string();
        std::ofstream(path) << "last week's";
        std::stop_source given_up;
        const auto say = [&](const std::string& step) {
            if (step.starts_with("writing")) given_up.request_stop();
        };
        CHECK_FALSE(write_sheet(chart, {{}, path, false}, {given_up.get_token(), say}));
        CHECK(given_up.stop_requested());
        CHECK(read_file(path).value() == "last week's");
        CHECK(std::distance(std::filesystem::directory_iterator(folder.path()), {}) == 1);
        std::filesystem::remove(path);
    }
}

TEST_CASE("a sheet tells which heat plan is worked out and which of its pages is being written") {
    const ScratchFolder folder;
    std::vector<std::string> told;
    const auto say = [&told](const std::string& step) { told.push_back(step); };
    document::Chart chart = row_of_chips();
    document::HeatPlan plan;
    plan.id = document::Id{"plan"};
    plan.target = document::Id{"r1"};
    chart.heat_plans.add(plan);
    REQUIRE(write_sheet(chart, {{}, (folder.path() / "sheet.pdf").string(), false}, {{}, say}));
    const auto first =
        std::find_if(told.begin(), told.end(), [](const auto& step) { return step.starts_with("writing"); });
    CHECK(std::count(told.begin(), told.end(), "working out heat plan 1 of 1") == 1);
    const auto pages = static_cast<int>(std::distance(first, told.end()));
    REQUIRE(pages > 1);
    for (int page = 1; page <= pages; ++page)
        CHECK(first[page - 1] == "writing page " + std::to_string(page) + " of " + std::to_string(pages));
}

TEST_CASE("what follows work that was given up says what it waits for") {
    std::atomic<bool> has_begun = false, may_end = false;
    Session s;
    WorkDesk desk;
    REQUIRE(desk.begin("Stubborn", false, [&](const auto&, const auto&) -> WorkDesk::Then {
        has_begun = true;
        while (!may_end)
            std::this_thread::yield();
        return [](Session&) {};
    }));
    while (!has_begun)
        std::this_thread::yield();
    desk.cancel(s);
    REQUIRE(desk.begin("Next", false, [](const auto&, const auto&) { return [](Session&) {}; }));
    CHECK(desk.step() == "waiting for what was given up");
    may_end = true;
    desk.wait(s);
    CHECK_FALSE(desk.is_busy());
}

TEST_CASE("a large chart is read behind the window while nothing else can be done") {
    const ScratchFolder folder;
    const std::string path = (folder.path() / "large.chart.json").string();
    {
        Editor editor;
        document::Chart chart = many_chips();
        chart.title.not_mapped = std::string(1'200'000, 'x');
        editor.start_new(chart);
        REQUIRE(editor.save_as(path));
    }
    Session s;
    s.editor.start_new(row_of_chips());
    REQUIRE(finish_file_dialog(s, FileTask::Open, path));
    auto& work = s.desks.get<WorkDesk>();
    CHECK(s.has_dialog());
    CHECK(s.editor.chart().parts.size() == 4);
    work.wait(s);
    CHECK_FALSE(s.has_dialog());
    CHECK(s.editor.chart().parts.size() == 200);
    CHECK(s.editor.path() == path);
    CHECK(s.editor.is_saved());
    CHECK_FALSE(s.editor.is_changed_on_disk());
    std::ofstream(path, std::ios::app) << "nonsense";
    REQUIRE(finish_file_dialog(s, FileTask::Open, path));
    work.wait(s);
    CHECK(s.editor.notice()->severity == Severity::Fault);
    CHECK(s.editor.chart().parts.size() == 200);
}

TEST_CASE("a large chart is saved behind the window, while it may be worked on, and that cannot be given up") {
    const ScratchFolder folder;
    const std::filesystem::path path = folder.path() / "large.chart.json";
    Session s;
    s.editor.start_new(many_chips(1000));
    REQUIRE(s.editor.save_as(path));
    s.editor.select({document::Id{"c1"}});
    s.editor.nudge({1, 0});
    const document::Chart saved = s.editor.chart();
    save(s);
    auto& work = s.desks.get<WorkDesk>();
    REQUIRE(work.is_busy());
    CHECK(work.title() == "Saving large.chart.json");
    CHECK_FALSE(s.has_dialog());
    CHECK(s.editor.is_saving());
    CHECK_FALSE(s.editor.is_saved());
    work.cancel(s);
    CHECK(work.is_busy());
    s.editor.turn(Angle::degrees(90), document::Side::Top); // goes into the next saving
    work.wait(s);
    CHECK(s.editor.notice()->text == "Saved as large.chart.json");
    CHECK_FALSE(s.editor.is_saved());
    CHECK_FALSE(s.editor.is_changed_on_disk());
    Editor later;
    REQUIRE(later.open(path));
    CHECK(later.chart() == saved);
    CHECK(s.editor.undo());
    CHECK(s.editor.is_saved());
}

TEST_CASE("who quits while the chart is being saved quits when that is done, and is asked where it failed") {
    const ScratchFolder folder;
    const std::filesystem::path path = folder.path() / "large.chart.json";
    Session s;
    s.editor.start_new(many_chips(1000));
    REQUIRE(s.editor.save_as(path));
    s.editor.select({document::Id{"c1"}});
    s.editor.nudge({1, 0});
    std::ofstream(path, std::ios::app) << "\n"; // somebody else's
    save(s);
    ask_or_do(s, AfterSaving::Quit);
    CHECK_FALSE(s.has_dialog());
    s.desks.get<WorkDesk>().wait(s);
    CHECK_FALSE(s.wants_quit);
    CHECK(s.editor.notice()->severity == Severity::Fault);
    CHECK(s.editor.notice()->text.find("this file was changed outside this window") != std::string::npos);
    REQUIRE(s.editor.save_as(path));
    s.editor.nudge({1, 0});
    save(s);
    ask_or_do(s, AfterSaving::Quit);
    CHECK_FALSE(s.wants_quit);
    s.desks.get<WorkDesk>().wait(s);
    CHECK(s.wants_quit);
}

} // namespace padchart::app
