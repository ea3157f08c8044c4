#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <random>
#include <thread>

#include "support.hpp"

#include "app/journal.hpp"
#include "app/keeper.hpp"
#include "app/orient_desk.hpp"
#include "app/start_desk.hpp"
#include "app/survey_desk.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using namespace padchart::app;
using namespace std::chrono_literals;
namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

namespace {

std::shared_ptr<const document::Chart> chart_called(const std::string& title) {
    document::Chart chart = row_of_chips();
    chart.title.title = title;
    return std::make_shared<const document::Chart>(std::move(chart));
}

} // namespace

TEST_CASE("unsaved work is on the disk and a living window's journal is not offered") {
    const ScratchFolder folder;
    Journal journal(folder.path());
    journal.note(chart_called("Pump"), "/bench/pump.chart.json", false);
    journal.wait();
    REQUIRE(fs::exists(journal.path()));
    CHECK(lost_work(folder.path()).empty());
}

TEST_CASE("what a window left behind is offered with its name and place and comes back whole") {
    const ScratchFolder folder;
    const auto chart = chart_called("Pump");
    {
        Journal journal(folder.path());
        journal.note(chart, "/bench/a \"quoted\" \\ place/pump.chart.json", false);
        journal.wait();
    }
    const std::vector<LostWork> lost = lost_work(folder.path());
    REQUIRE(lost.size() == 1);
    CHECK(lost[0].title == "Pump");
    CHECK(lost[0].file == "/bench/a \"quoted\" \\ place/pump.chart.json");
    CHECK(lost[0].written.size() == std::string("2026-03-02 14:05").size());
    const Result<document::Chart> back = chart_of(lost[0]);
    REQUIRE(back);
    CHECK(*back == *chart);
    throw_away(lost[0]);
    CHECK(lost_work(folder.path()).empty());
    CHECK(fs::is_empty(folder.path()));
}

TEST_CASE("unsaved work that is not wanted goes to the bin as a chart that opens, and leaves it after thirty days") {
    const ScratchFolder folder;
    const fs::path journals = folder.path() / "journal";
    const auto left = [&](const std::string& title) {
        Journal journal(journals);
        journal.note(chart_called(title), {}, false);
        journal.wait();
    };
    left("Pump / rev \"C\"");
    left("Pump / rev \"C\"");
    std::vector<fs::path> binned;
    for (const LostWork& work : lost_work(journals)) {
        const Result<fs::path> path = put_into_bin(work);
        REQUIRE(path);
        binned.push_back(*path);
    }
    CHECK(lost_work(journals).empty());
    CHECK(fs::is_empty(journals));
    REQUIRE(binned.size() == 2);
    CHECK(binned[0] != binned[1]);
    for (const fs::path& path : binned) {
        CHECK(path.parent_path() == bin_beside(journals));
        const Result<document::Chart> chart = json::load_chart(path);
        REQUIRE(chart);
        CHECK(*chart == *chart_called("Pump / rev \"C\""));
    }
    using std::chrono::hours;
    fs::last_write_time(binned[0], fs::file_time_type::clock::now() - hours(24 * 29));
    fs::last_write_time(binned[1], fs::file_time_type::clock::now() - hours(24 * 31));
    left("Valve");
    REQUIRE(put_into_bin(lost_work(journals).at(0)));
    CHECK(fs::exists(binned[0]));
    CHECK_FALSE(fs::exists(binned[1]));
}

TEST_CASE("unsaved work whose bin cannot be made stays where it is") {
    const ScratchFolder folder;
    const fs::path journals = folder.path() / "journal";
    {
        Journal journal(journals);
        journal.note(chart_called("Pump"), {}, false);
        journal.wait();
    }
    std::ofstream(bin_beside(journals)) << "no folder";
    const std::vector<LostWork> lost = lost_work(journals);
    REQUIRE(lost.size() == 1);
    CHECK_FALSE(put_into_bin(lost[0]));
    CHECK(lost_work(journals).size() == 1);
}

TEST_CASE("a saved chart has no journal") {
    const ScratchFolder folder;
    Journal journal(folder.path());
    const auto chart = chart_called("Pump");
    journal.note(chart, {}, false);
    journal.wait();
    journal.note(chart, "/bench/pump.chart.json", true);
    journal.wait();
    CHECK_FALSE(fs::exists(journal.path()));
}

TEST_CASE("a chart that was saved and is changed again is journaled again") {
    const ScratchFolder folder;
    Journal journal(folder.path());
    journal.note(chart_called("1"), {}, false);
    journal.note(chart_called("2"), {}, true);
    journal.note(chart_called("3"), {}, false);
    journal.wait();
    const Result<document::Chart> chart = json::load_chart(journal.path());
    REQUIRE(chart);
    CHECK(chart->title.title == "3");
}

TEST_CASE("two windows of one user keep two journals") {
    const ScratchFolder folder;
    Journal a(folder.path()), b(folder.path());
    a.note(chart_called("A"), {}, false);
    b.note(chart_called("B"), {}, false);
    a.wait();
    b.wait();
    CHECK(a.path() != b.path());
    CHECK(json::load_chart(a.path())->title.title == "A");
    CHECK(json::load_chart(b.path())->title.title == "B");
}

TEST_CASE("a journal that is no chart is passed over") {
    const ScratchFolder folder;
    std::ofstream(folder.path() / "9-0.journal.json") << "{ half";
    CHECK(lost_work(folder.path()).empty());
    CHECK(lost_work("/no/such/folder").empty());
}

TEST_CASE("a folder that cannot be written is told and hurts nothing") {
    Journal journal("/proc/no-such-place");
    journal.note(chart_called("Pump"), {}, false);
    journal.wait();
    CHECK(journal.path().empty());
}

namespace {

/// What is done with each number: a step on the chart, or something typed that is not on it yet.
enum class Work { Step, Note, Reading, Mark };
constexpr int kWorks = 4;
constexpr const char* kMade[kWorks] = {"step", "note", "reading", "mark"};

Work work_of(int number) {
    return static_cast<Work>(number % kWorks);
}

void do_work(Session& s, int number) {
    const std::string text = std::to_string(number);
    document::Chart chart = s.editor.chart();
    switch (work_of(number)) {
    case Work::Step:
        chart.title.title = text;
        s.editor.commit(std::move(chart), "Title " + text);
        break;
    case Work::Note:
        begin_note(s, {5, 0}, document::Side::Top, document::Id{"r2"});
        s.desks.get<SurveyDesk>().pin.note->text = text;
        break;
    case Work::Reading:
        begin_reading(s, {0, 0}, document::Side::Top, document::Id{"r1"}, "2");
        s.desks.get<SurveyDesk>().pin.value = text;
        break;
    case Work::Mark: {
        OrientDraft draft{document::Id{"r3"}, part_named(chart, "R3").orientation, true};
        draft.orientation.evidence.note = text;
        s.desks.get<OrientDesk>().waiting.clear();
        await_draft(s, std::move(draft));
        break;
    }
    }
}

int number_in(const std::string& text) {
    return text.empty() || text.find_first_not_of("0123456789") != std::string::npos ? 0 : std::stoi(text);
}

/// Of each work the number that came back.
std::array<int, kWorks> kept_numbers(const LostWork& work) {
    std::array<int, kWorks> kept{};
    kept[0] = number_in(chart_of(work)->title.title);
    Session s;
    REQUIRE(take_back(s, work));
    for (const PinDraft& pin : typed_pins(s))
        kept[pin.note ? 1U : 2U] = number_in(pin.note ? pin.note->text : pin.value);
    for (const document::Id& part : parts_with_drafts(s))
        kept[3] = number_in(unrecorded_draft(s, part)->orientation.evidence.note);
    return kept;
}

/// In the child: edits without a pause worth the name, and says each number when that edit has been noted.
[[noreturn]] void edit_until_killed(const fs::path& folder, int pipe_end) {
    Keeper keeper(folder);
    Session s;
    s.editor.start_new(*chart_called("0"));
    for (int number = 1;; ++number) {
        do_work(s, number);
        keeper.look(s);
        if (write(pipe_end, &number, sizeof number) != sizeof number) _exit(1);
        std::this_thread::sleep_for(3ms);
    }
}

struct Heard {
    int number;
    Clock::time_point when;
};

/// Kills a window at work after `life`; gives what it had told by then.
std::vector<Heard> kill_after(std::chrono::milliseconds life, const fs::path& folder) {
    int ends[2] = {};
    REQUIRE(pipe(ends) == 0);
    const pid_t child = fork();
    if (child == 0) {
        close(ends[0]);
        edit_until_killed(folder, ends[1]);
    }
    close(ends[1]);
    std::thread killer([&] {
        std::this_thread::sleep_for(life);
        kill(child, SIGKILL);
    });
    std::vector<Heard> heard;
    for (int number = 0; read(ends[0], &number, sizeof number) == sizeof number;)
        heard.push_back({number, Clock::now()});
    killer.join();
    int status = 0;
    waitpid(child, &status, 0);
    close(ends[0]);
    return heard;
}

} // namespace

// PADCHART_KILLS=200 in the environment for the long run.
TEST_CASE("a kill at any moment costs no more than the last second, of what is typed as well as of what was done") {
    const char* wanted = std::getenv("PADCHART_KILLS");
    const int kills = wanted != nullptr ? std::atoi(wanted) : 12;
    std::mt19937 random(20261125);
    std::uniform_int_distribution<int> life_ms(20, wanted != nullptr ? 1800 : 400);
    int longest_gap_ms = 0;
    for (int i = 0; i < kills; ++i) {
        CAPTURE(i);
        const ScratchFolder folder;
        const std::vector<Heard> heard = kill_after(std::chrono::milliseconds(life_ms(random)), folder.path());
        const std::vector<LostWork> lost = lost_work(Keeper::journal_folder(folder.path()));
        std::array<int, kWorks> kept{};
        if (!lost.empty()) kept = kept_numbers(lost[0]);
        for (const Heard& done : heard) {
            const auto age = std::chrono::duration_cast<std::chrono::milliseconds>(heard.back().when - done.when);
            const auto what = static_cast<std::size_t>(work_of(done.number));
            if (done.number <= kept[what]) continue;
            longest_gap_ms = std::max(longest_gap_ms, static_cast<int>(age.count()));
            CHECK_MESSAGE(age <= 1s, kMade[what] << " " << done.number << " of " << heard.back().number << " was lost");
        }
    }
    MESSAGE(kills << " kills; the oldest work lost was " << longest_gap_ms << " ms old");
}
