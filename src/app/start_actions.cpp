#include "app/start_actions.hpp"

#include "app/common_needs.hpp"
#include "app/documents.hpp"
#include "app/remembered.hpp"
#include "app/start_desk.hpp"
#include "app/work_desk.hpp"

namespace padchart::app {
namespace {

void report(Session& s, const Result<void>& done) {
    if (!done) s.editor.tell(Severity::Fault, describe(done.error()));
}

void run_demo(Session& s) {
    ask_then_start(s, [](Session& session) { report(session, open_demo(session)); });
}

void take_newer(Session& s) {
    if (s.editor.is_file_newer())
        report(s, take_newer_file(s));
    else
        s.editor.tell(Severity::Note, "The file is as it was when it was opened or saved here.");
}

void restore_lost(Session& s) {
    const StartDesk& desk = s.desks.get<StartDesk>();
    if (desk.lost.size() > 1) return show_start_page(s); // which of them is for the user to say
    restore(s, LostWork(desk.lost.front()));
}

} // namespace

void add_start_actions(std::vector<Action>& list) {
    list.push_back({"start-page", "Start page", "Chart", {}, always, show_start_page});
    const Need has_lost{[](const Session& s) {
                            const StartDesk* desk = s.desks.find<StartDesk>();
                            return desk != nullptr && !desk->lost.empty();
                        },
                        "no unsaved work was left behind"};
    const Need has_recent{[](const Session&) { return !recent_charts().empty(); }, "no chart was opened or saved yet"};
    list.push_back({"recent-charts", "Recent charts", "Chart", {}, has_recent, list_recent});
    const Need has_binned{[](const Session& s) {
                              const StartDesk* desk = s.desks.find<StartDesk>();
                              return desk != nullptr && !desk->binned.empty();
                          },
                          "nothing was thrown away in the last 30 days"};
    list.push_back({"bin", "Bin: thrown away, kept 30 days", "Chart", {}, has_binned, show_bin});
    list.push_back({"restore", "Restore unsaved work", "Chart", {}, has_lost, restore_lost});
    list.push_back({"open-demo", "Open the demo", "Chart", {}, always, run_demo});
    const Need has_work{[](const Session& s) {
                            const WorkDesk* work = s.desks.find<WorkDesk>();
                            return work != nullptr && work->can_be_given_up();
                        },
                        "nothing is being done that could be given up"};
    const Need has_file{[](const Session& s) { return !s.editor.path().empty(); }, "save the chart to a file"};
    const auto ask = [](const char* ending) { return [ending](Session& s) { ask_for_sheet(s, ending); }; };
    list.push_back({"write-sheet", "Write the sheet as PDF", "Chart", {ctrl(Key::H)}, has_parts, ask(".pdf")});
    list.push_back({"write-page", "Write one page for a browser", "Chart", {}, has_parts, ask(".html")});
    list.push_back({"write-svg", "The map as SVG", "Chart", {}, has_parts, ask(".svg")});
    list.push_back({"write-png", "The map as PNG", "Chart", {}, has_parts, ask(".png")});
    list.push_back({"give-up-work", "Give up what is being done", "Chart", {}, has_work, [](Session& s) {
                        s.desks.get<WorkDesk>().cancel(s);
                    }});
    list.push_back({"take-newer", "Take the newer file", "Chart", {}, has_file, take_newer});
}

} // namespace padchart::app
