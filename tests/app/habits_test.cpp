#include "app/habits.hpp"

#include <fstream>
#include <iterator>

#include "app/access_desk.hpp"
#include "app/part_snap.hpp"
#include "support.hpp"

namespace padchart::app {
namespace {

std::string text_in(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

void change_all(Session& s) {
    s.theme = "dark-room";
    s.show_legend = false;
    s.desks.get<SnapDesk>().pads = false;
    s.desks.get<SnapDesk>().grid_mm = 0.25;
    change_access(s, [](analysis::AccessQuery& query) {
        query.tool = *analysis::find_access_tool("iron-needle");
        query.tool.rise_deg = 62;
        query.slip_mm = 3.5;
        query.opening_mm = 1.25; // of one part, not of a hand
    });
}

} // namespace

TEST_CASE("what one start leaves the next one finds") {
    const ScratchFolder state;
    {
        Session s;
        Habits habits(state.path());
        habits.take_up(s, true);
        change_all(s);
        habits.end(s);
    }
    Session s;
    Habits habits(state.path());
    habits.take_up(s, true);
    CHECK(s.theme == "dark-room");
    CHECK_FALSE(s.show_legend);
    CHECK_FALSE(s.desks.get<SnapDesk>().pads);
    CHECK(s.desks.get<SnapDesk>().grid_mm == 0.25);
    const analysis::AccessQuery& query = s.desks.get<AccessDesk>().query;
    CHECK(query.tool.key == "iron-needle");
    CHECK(query.tool.rise_deg == 62);
    CHECK(query.slip_mm == 3.5);
    CHECK_FALSE(query.opening_mm);
}

TEST_CASE("a theme that was asked for stays") {
    Session s;
    s.theme = "grey-print";
    take_habits(s, "theme dark-room\n", false);
    CHECK(s.theme == "grey-print");
}

TEST_CASE("nothing is written where nothing was changed") {
    const ScratchFolder state;
    Session s;
    Habits habits(state.path() / "deeper");
    habits.take_up(s, true);
    habits.end(s);
    CHECK_FALSE(std::filesystem::exists(state.path() / "deeper" / "habits.txt"));
    s.show_legend = false;
    habits.end(s);
    CHECK(text_in(state.path() / "deeper" / "habits.txt").find("legend no\n") != std::string::npos);
}

TEST_CASE("lines that mean nothing and values that cannot be are passed over") {
    Session s;
    const std::string before = habits_of(s);
    take_habits(s, "theme mauve\ngrid 0\ngrid nan\ngrid 1e9\nnonsense\n\n \nsomething else 7\ngrid 0.5x\n");
    CHECK(habits_of(s) == before);
    take_habits(s, "access-tool a-spoon\naccess-above-board 1e300\naccess-slip -4\n");
    const analysis::AccessQuery& query = s.desks.get<AccessDesk>().query;
    CHECK_FALSE(analysis::fault_of(query.tool));
    CHECK(query.slip_mm == 0.0);
}

} // namespace padchart::app
