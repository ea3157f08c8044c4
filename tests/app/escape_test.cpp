#include "app/escape.hpp"

#include <atomic>
#include <thread>

#include "app/work_desk.hpp"
#include "support.hpp"

namespace padchart::app {
namespace {

WorkDesk::Work until_stopped() {
    return [](const std::stop_token& stop, const WorkDesk::Say&) -> WorkDesk::Then {
        while (!stop.stop_requested())
            std::this_thread::yield();
        return [](Session&) {};
    };
}

} // namespace

TEST_CASE("Escape gives up the work behind the window once nothing else is left to leave") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({document::Id{"r1"}});
    s.panel = Panel::AddPart;
    auto& work = s.desks.get<WorkDesk>();
    REQUIRE(work.begin("Writing sheet.pdf", false, until_stopped()));
    leave_by_escape(s);
    CHECK(s.panel == Panel::Stage);
    CHECK(work.is_busy());
    leave_by_escape(s);
    CHECK(s.editor.selection().empty());
    CHECK(work.is_busy());
    leave_by_escape(s);
    CHECK_FALSE(work.is_busy());
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "Given up, nothing written.");
    leave_by_escape(s); // there is nothing left
    CHECK_FALSE(s.editor.notice());
}

TEST_CASE("Escape gives up no saving") {
    std::atomic<bool> may_end = false;
    Session s;
    auto& work = s.desks.get<WorkDesk>();
    REQUIRE(work.begin_for_good("Saving row.chart.json", [&may_end](const auto&, const auto&) -> WorkDesk::Then {
        while (!may_end)
            std::this_thread::yield();
        return [](Session&) {};
    }));
    leave_by_escape(s);
    CHECK(work.is_busy());
    may_end = true;
    work.wait(s);
    CHECK_FALSE(work.is_busy());
}

} // namespace padchart::app
